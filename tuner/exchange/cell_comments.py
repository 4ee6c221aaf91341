"""Comments that people hang on cells of a workbook."""

from __future__ import annotations

import posixpath
import re
import zipfile
from xml.etree import ElementTree

from openpyxl.utils.cell import coordinate_to_tuple

Comments = dict[tuple[int, int], str]
"""Text by row (from 1) and column (from 0)."""

_TARGET = re.compile(r'<Relationship\b[^>]*?\bTarget="([^"]*comment[^"]*\.xml)"', re.IGNORECASE)
_MOST = 2_000
_LONGEST = 500


def comments_of(packed: zipfile.ZipFile, sheet_path: str) -> Comments:
    """Comments of one sheet; empty where it has none or they can't be read.

    Parameters
    ----------
    packed
        The workbook, opened; its size was checked before.
    sheet_path
        Path of the sheet inside it.
    """
    path = sheet_path.lstrip("/")
    folder, name = posixpath.split(path)
    names = set(packed.namelist())
    relations = posixpath.join(folder, "_rels", f"{name}.rels")
    if relations not in names:
        return {}
    found: Comments = {}
    for target in _TARGET.findall(packed.read(relations).decode("utf-8", "replace")):
        inside = target.lstrip("/") if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target))
        if inside in names and "threaded" not in inside:
            found |= _read(packed.read(inside))
    return found


def _read(content: bytes) -> Comments:
    if b"<!DOCTYPE" in content:
        return {}
    try:
        root = ElementTree.fromstring(content)
    except ElementTree.ParseError:
        return {}
    found: Comments = {}
    for element in root.iter():
        reference = element.get("ref", "")
        if not element.tag.endswith("}comment") or not re.fullmatch(r"[A-Z]{1,3}\d{1,7}", reference) or len(found) >= _MOST:
            continue
        text = "".join(part.text or "" for part in element.iter() if part.tag.endswith("}t"))
        row, column = coordinate_to_tuple(reference)
        if text.strip():
            found[row, column - 1] = re.sub(r"\s+", " ", text).strip()[:_LONGEST]
    return found
