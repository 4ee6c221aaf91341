"""Text with separators to a grid: which separator it is is told by equal cell counts and by headings that make sense."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Callable

from tuner.domain import InvalidDocument
from tuner.exchange.bounds import MAX_CELL_CHARACTERS, MAX_COLUMNS, MAX_ROWS, check_count
from tuner.exchange.grid import Grid, grid_of

Lines = list[tuple[int, list[str]]]

_SEPARATORS = (";", "\t", ",", "|", "^", "~")
_BLANKS = re.compile(r" {2,}|\t+")
_RULER = re.compile(r"[\s|+:=\-_]*[-=_]{3,}[\s|+:=\-_]*")
_SAMPLE_LINES = 400


def read_separated(text: str, sense: Callable[[tuple[str, ...]], int]) -> Grid:
    """The grid of a text file.

    Parameters
    ----------
    text
        The whole file.
    sense
        Number of cells of a row that make sense as headings; tells apart separators that fit equally well.

    Raises
    ------
    InvalidDocument
        If there is nothing in it, or more rows or columns than are read.
    """
    told, body, skipped = _told_separator(text)
    if not body.strip():
        raise InvalidDocument(
            ["The file is empty. A cook log has a line of headings and a line for each cook. Choose another file."]
        )
    lines = _split(body, told) if told else _best(body, sense)
    lines = [(line + skipped, cells) for line, cells in lines if not _RULER.fullmatch("|".join(cells))]
    check_count(len(lines), MAX_ROWS, "rows", "The file")
    check_count(max((len(cells) for _, cells in lines), default=0), MAX_COLUMNS, "columns", "The file")
    return grid_of("", _without_frame(lines))


def _told_separator(text: str) -> tuple[str, str, int]:
    """Separator that a leading `sep=` line tells, the rest of the text, and how many lines were dropped."""
    first, _, rest = text.partition("\n")
    found = re.fullmatch(r'"?sep=(.)"?\r?', first.strip("\ufeff "), re.IGNORECASE)
    return (found[1], rest, 1) if found else ("", text, 0)


def _best(text: str, sense: Callable[[tuple[str, ...]], int]) -> Lines:
    """Lines split by the separator that fits best; one column where none fits."""
    sample = "\n".join(text.splitlines()[:_SAMPLE_LINES])
    scored: list[tuple[float, int, str]] = []
    for rank, separator in enumerate((*_SEPARATORS, "  ")):
        fit = _fit(_split(sample, separator), sense)
        if fit > 0:
            scored.append((fit, -rank, separator))
    if not scored:
        return [(number, [line]) for number, line in enumerate(text.splitlines(), start=1)]
    return _split(text, max(scored)[2])


def _fit(lines: Lines, sense: Callable[[tuple[str, ...]], int]) -> float:
    """Share of the lines that have the commonest cell count, weighted by headings that make sense under it."""
    counts = Counter(_last_filled(cells) for _, cells in lines if any(cell.strip() for cell in cells))
    several = {count: times for count, times in counts.items() if count >= 2}
    if not several:
        return 0.0
    common = max(several, key=lambda count: (several[count], count))
    alike = sum(times for count, times in counts.items() if abs(count - common) <= max(1, common // 6) and count >= 2)
    headings = max((sense(tuple(cell.strip() for cell in cells)) for _, cells in lines[:60]), default=0)
    return alike / sum(counts.values()) + headings


def _last_filled(cells: list[str]) -> int:
    return max((index + 1 for index, cell in enumerate(cells) if cell.strip()), default=0)


def _split(text: str, separator: str) -> Lines:
    if separator == "  ":
        return [(number, _BLANKS.split(line.strip())) for number, line in enumerate(text.splitlines(), start=1)]
    try:
        lines = _records(text, separator, csv.QUOTE_MINIMAL)
    except csv.Error:
        lines = None
    if lines is None or any(len(cell) > MAX_CELL_CHARACTERS for _, cells in lines for cell in cells):
        try:  # a quote that never ends swallows the file: take quotes as plain characters then
            lines = _records(text, separator, csv.QUOTE_NONE)
        except csv.Error as error:
            raise InvalidDocument([f"The file can't be split into cells ({error}). Save it again as CSV."]) from error
    longest = max((len(cell) for _, cells in lines for cell in cells), default=0)
    check_count(longest, MAX_CELL_CHARACTERS, "characters", "A cell")
    return lines


def _records(text: str, separator: str, quoting: int) -> Lines:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, quoting=quoting, skipinitialspace=separator != "\t")  # type: ignore[arg-type]
    lines: Lines = []
    begins = 1
    for cells in reader:
        lines.append((begins, cells))
        begins = reader.line_num + 1
        check_count(len(lines), MAX_ROWS * 3, "lines", "The file")
    return lines


def _without_frame(lines: Lines) -> Lines:
    """Rows drawn as `| a | b |` without the empty cells of their frame."""
    framed = [cells for _, cells in lines if len(cells) > 2]
    if framed and all(not cells[0].strip() and not cells[-1].strip() for cells in framed):
        return [(line, cells[1:-1] if len(cells) > 2 else cells) for line, cells in lines]
    return lines
