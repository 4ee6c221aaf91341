"""How large a file from outside may be; above it the file is refused before it costs memory or time.

A cook log of a few thousand rows fits many times over. The limits are ours (no source); they keep the worst file that is
still read within seconds and a few hundred MB.
"""

from __future__ import annotations

from tuner.domain import InvalidDocument

MAX_LOG_BYTES = 10_000_000
"""Size of a cook log as it comes [bytes]."""

MAX_UNPACKED_BYTES = 60_000_000
"""Size of a workbook once unpacked [bytes]: a small file can hold a thousand times its size."""

MAX_SHEETS = 60
"""Sheets of one workbook."""

MAX_ROWS = 12_000
"""Rows of one file, all sheets together."""

MAX_COLUMNS = 300
"""Columns of one sheet."""

MAX_CELL_CHARACTERS = 4_000
"""Characters of one cell."""

MAX_JSON_BYTES = 200_000_000
"""Size of an export that is read back [bytes]."""


def check_size(data: bytes, most: int, what: str) -> None:
    """Refuse what is larger than allowed.

    Raises
    ------
    InvalidDocument
        Names the size, the limit and what to do.
    """
    if len(data) > most:
        raise InvalidDocument(
            [f"{what} has {len(data) / 1e6:.1f} MB. At most {most / 1e6:.0f} MB are read. Split it into smaller ones."]
        )


def check_count(count: int, most: int, what: str, where: str) -> None:
    """Refuse more rows, columns or sheets than allowed.

    Raises
    ------
    InvalidDocument
        Names the limit and what to do.
    """
    if count > most:
        raise InvalidDocument(
            [f"{where} has more than {most} {what}. At most {most} are read. Split the file into smaller ones."]
        )
