"""Photos: upright, small, nothing left but pixels; anything else is refused in words."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from tuner.domain import InvalidDocument
from tuner.exchange.result_photo import cleaned_photo


def written(form: str, size: tuple[int, int] = (400, 200), **given: object) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, "peru").save(out, form, **given)
    return out.getvalue()


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_known_pictures_become_bare_jpeg(form: str):
    with Image.open(io.BytesIO(cleaned_photo(written(form)))) as opened:
        assert (opened.format, opened.size) == ("JPEG", (400, 200))


def test_position_and_comments_are_gone_and_it_stands_upright():
    exif = Image.Exif()
    exif[0x0112] = 6  # turned by 90 degrees
    exif[0x8825] = {1: "N", 2: (51.0, 30.0, 0.0)}
    data = written("JPEG", exif=exif, comment=b"secret place")
    assert b"secret place" in data
    cleaned = cleaned_photo(data)
    assert b"secret place" not in cleaned
    with Image.open(io.BytesIO(cleaned)) as opened:
        assert opened.size == (200, 400)
        assert dict(opened.getexif()) == {}


def test_large_pictures_are_made_small():
    with Image.open(io.BytesIO(cleaned_photo(written("JPEG", (4000, 1000))))) as opened:
        assert opened.size == (1600, 400)


@pytest.mark.parametrize("data", [b"", b"no picture", written("JPEG")[:200], written("BMP"), written("GIF")])
def test_anything_else_is_refused(data: bytes):
    with pytest.raises(InvalidDocument, match="can't be read"):
        cleaned_photo(data)


def test_a_picture_of_too_many_pixels_is_refused_before_it_is_opened():
    with pytest.raises(InvalidDocument, match=r"pixels|can't be read"):
        cleaned_photo(written("PNG", (9000, 7000)))
