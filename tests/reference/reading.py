"""Reads the published values beside these tests."""

from __future__ import annotations

import csv
from pathlib import Path

DATA = Path(__file__).parent / "data"


def rows(filename: str) -> list[dict[str, str]]:
    """Rows of one table of published values."""
    with (DATA / filename).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
