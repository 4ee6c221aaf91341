"""Bytes of a text file to text: byte order mark, UTF-8, UTF-16, then the old one-byte code pages.

Guessing packages take a code page with a degree sign for an East Asian one, so the few encodings that kitchens' programs
write are tried in a fixed order, and the degree sign tells the one-byte pages apart.
"""

from __future__ import annotations

import codecs
import re

from tuner.domain import InvalidDocument

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),  # before UTF-16, whose mark it begins with
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_NOT_TEXT = (
    (b"\xd0\xcf\x11\xe0", "an old binary workbook (.xls)"),
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"\x1f\x8b", "a compressed file"),
    (b"Rar!", "a compressed file"),
    (b"7z\xbc\xaf", "a compressed file"),
    (b"SQLite format 3", "a database"),
    (b"{\\rtf", "a word processor's document"),
)
_SAMPLE = 4096


def decode(data: bytes) -> tuple[str, str]:
    """Text of a file and the encoding it was read in.

    Raises
    ------
    InvalidDocument
        If the bytes are no text, or text that the encoding they announce can't hold.
    """
    kind = next((kind for start, kind in _NOT_TEXT if data.startswith(start)), None)
    if kind:
        raise InvalidDocument([f"The file is {kind}. Cook logs are read as CSV or XLSX. Save it as one of these."])
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _announced(data, encoding), encoding.removesuffix("-sig")
    wide = _wide(data)
    if wide:
        return _announced(data, wide), wide
    if b"\x00" in data:
        raise InvalidDocument(
            ["The file holds NUL bytes, so it is no text. Cook logs are read as CSV or XLSX. Save it as one of these."]
        )
    try:
        return data.decode("utf-8"), "utf-8"
    except UnicodeDecodeError:
        return _one_byte(data)


def _announced(data: bytes, encoding: str) -> str:
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        raise InvalidDocument(
            [f"The file says it is {encoding} text but byte {error.start + 1} is not. Save it again as CSV in UTF-8."]
        ) from error
    if "\x00" in text:
        raise InvalidDocument(["The file holds NUL characters, so it is no text. Save it again as CSV in UTF-8."])
    return text


def _wide(data: bytes) -> str | None:
    """UTF-16 without its mark: every other byte of Latin text is zero."""
    sample = data[:_SAMPLE]
    half = len(sample) // 2
    if half < 4:
        return None
    if sample[1::2].count(0) > 0.6 * half and sample[0::2].count(0) < 0.1 * half:
        return "utf-16-le"
    if sample[0::2].count(0) > 0.6 * half and sample[1::2].count(0) < 0.1 * half:
        return "utf-16-be"
    return None


def _one_byte(data: bytes) -> tuple[str, str]:
    """Windows' page, unless the degree sign stands where another page has it."""
    text = data.decode("cp1252", "replace")
    if "°" not in text:
        if re.search("\u00a1 ?[CF]\\b", text):
            return data.decode("mac_roman"), "mac_roman"
        if re.search("\u00f8 ?[CF]\\b", text):
            return data.decode("cp850"), "cp850"
    if "\ufffd" in text:
        return data.decode("latin-1"), "latin-1"
    return text, "cp1252"
