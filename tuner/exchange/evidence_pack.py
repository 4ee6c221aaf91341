"""The evidence of a release as one archive: the paper, the signed release, and the data behind it."""

from __future__ import annotations

import hashlib
import io
import zipfile
from collections.abc import Mapping

_WHEN = (1980, 1, 1, 0, 0, 0)
"""The same time for every file in the archive, so that the same evidence gives the same bytes."""


def write_archive(files: Mapping[str, bytes]) -> bytes:
    """A ZIP of named files with a list of their SHA-256; the same files give the same bytes."""
    listed = "".join(f"{hashlib.sha256(data).hexdigest()}  {name}\n" for name, data in sorted(files.items()))
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in sorted({**files, "SHA256SUMS": listed.encode("ascii")}.items()):
            entry = zipfile.ZipInfo(name, _WHEN)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)
    return written.getvalue()
