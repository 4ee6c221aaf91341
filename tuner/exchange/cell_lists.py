"""Several values in one cell: readings of the places, marks of the tasters, levels of the stages."""

from __future__ import annotations

import re
from functools import lru_cache

from tuner.exchange.number_text import REMEMBERED, Decimal, straightened

_LABELS = re.compile(
    r"\b[^\W\d_]{1,10}\s?\d{0,2}\s*[:=]\s*|\b\d\s*[:=]\s*(?=\d)|\b[^\W\d_]{1,3}\d\s+(?=\d)|\(\s*[^\W\d_]{1,12}\s*\)", re.UNICODE
)
_TAIL_UNIT = re.compile(r"\s*(°\s?[CF]|º\s?[CF]|[CF]|%|g|oz|s)\s*$")


@lru_cache(maxsize=REMEMBERED)
def split_list(text: str, mark: Decimal) -> tuple[tuple[str, ...], bool]:
    """Values of a cell, and whether they are the ends of a range (`76-79`).

    Labels in front of values are dropped, a unit behind the last one counts for all. A single value comes back alone.
    """
    body = straightened(text).strip("[]{} ")
    unit = _TAIL_UNIT.search(body)
    stripped = _LABELS.sub(" ", body[: unit.start()] if unit else body).strip()
    suffix = unit[1] if unit else ""
    pieces, ranged = _pieces(stripped, mark)
    if len(pieces) < 2:
        return (text.strip(),), False
    return tuple(piece if re.search(r"[^\W\d_]", piece) or not suffix else f"{piece} {suffix}" for piece in pieces), ranged


def _pieces(body: str, mark: Decimal) -> tuple[list[str], bool]:
    for cut in (r"\s*[/;|\n]+\s*", r"\s*,\s+|\s+(?:&|and|und|et|y)\s+", r"\s+-\s+"):
        pieces = [piece for piece in re.split(cut, body) if piece.strip()]
        if len(pieces) > 1 and all(re.search(r"\d", piece) or len(piece) <= 4 for piece in pieces):
            return pieces, False
    blanks = body.split()
    if len(blanks) > 1 and all(re.fullmatch(r"[+-]?\d+(?:[.,]\d+)?(?:°?[CF])?", piece) for piece in blanks):
        return blanks, False
    if body.count(",") >= 2 or (body.count(",") == 1 and mark == "." and not re.search(r",\d{3}$", body)):
        pieces = [piece for piece in body.split(",") if piece.strip()]
        if all(re.fullmatch(r"\s*[+-]?\d+(?:\.\d+)?\s*", piece) for piece in pieces):
            return pieces, False
    several = re.fullmatch(r"\d+(?:[.,]\d+)?(?:-\d+(?:[.,]\d+)?){2,}", body) or re.fullmatch(
        r"\d+(?:[.,]\d+)?(?:\s*\+\s*\d+(?:[.,]\d+)?)+", body
    )
    if several:
        return re.findall(r"\d+(?:[.,]\d+)?", body), False
    ends = re.fullmatch(r"(\d+(?:[.,]\d+)?)-(\d+(?:[.,]\d+)?)", body)
    return ([ends[1], ends[2]], True) if ends else ([body], False)
