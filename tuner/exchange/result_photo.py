"""Photos of a result: read as a picture, turned upright, made small, written anew from their pixels alone."""

from __future__ import annotations

import io
import warnings

from PIL import Image, ImageOps, UnidentifiedImageError

from tuner.domain import InvalidDocument

LARGEST_BYTES = 12_000_000
LARGEST_PIXELS = 60_000_000
_LONG_SIDE = 1600


def cleaned_photo(data: bytes) -> bytes:
    """JPEG of at most 1600 pixels on its long side; nothing but the pixels is left (no position, no comment).

    Raises
    ------
    InvalidDocument
        If it is too large, or no JPEG, PNG or WEBP picture.
    """
    if len(data) > LARGEST_BYTES:
        raise InvalidDocument([f"The photo has {len(data)} bytes. At most {LARGEST_BYTES} are taken. Send a smaller one."])
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            opened = Image.open(io.BytesIO(data), formats=("JPEG", "PNG", "WEBP"))
            if opened.width * opened.height > LARGEST_PIXELS:
                raise InvalidDocument([f"The photo has {opened.width} x {opened.height} pixels. Send a smaller one."])
            opened.load()
            upright = ImageOps.exif_transpose(opened).convert("RGB")
    except (UnidentifiedImageError, OSError, ValueError, Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        if isinstance(error, InvalidDocument):
            raise
        raise InvalidDocument(["The photo can't be read. JPEG, PNG and WEBP pictures are taken. Take it again."]) from error
    upright.thumbnail((_LONG_SIDE, _LONG_SIDE))
    bare = Image.frombytes("RGB", upright.size, upright.tobytes())
    written = io.BytesIO()
    bare.save(written, "JPEG", quality=85)
    return written.getvalue()
