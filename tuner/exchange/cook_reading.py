"""Reads the cells of one cook under a mapping, and keeps what went wrong, what was left out and what is worth a look."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from tuner.exchange.cell_lists import split_list
from tuner.exchange.cell_words import NO, YES
from tuner.exchange.fields import FIELDS
from tuner.exchange.heading_words import plain
from tuner.exchange.import_result import LeftOut
from tuner.exchange.mapping import LEAVE_OUT, ColumnMapping, ColumnUse
from tuner.exchange.number_text import Decimal, is_censored, is_missing
from tuner.exchange.quantity_text import CLOCK_UNITS, MeasureKind, Typed, converted, read_typed
from tuner.exchange.row_parts import Columns, Group, says_something
from tuner.exchange.table import Row
from tuner.exchange.unit_choice import usual

_NOT_MEASURED = re.compile(
    r"(?:not|no|never|nicht|kein\w*|nie|non|pas|jamais|sin|sans|niet|geen|senza|forgot\w*|vergessen|lost|broken|defekt|missing|fehlt|probe\s+(?:out|fell|broke))"
    r"\b[^\d]*$"
)
_STATES = re.compile(
    r"(?:deep[\s-]?)?(?:frozen|chilled|fridge|refrigerated|ambient|room|tempered|tiefgekuhlt|gefroren|gekuhlt|kuhl\w*|surgele|froid|congelado|refrigerado|surgelato|refrigerato|gekoeld|bevroren)[^\d]*$"
)
_EXAMPLES = {"temperature": "76.4", "mass": "183", "duration": "210 or 3:30", "percent": "40"}


def value_code(column: int, text: str) -> str:
    """Code of the question about one value of a column."""
    return f"value:{column}:{text[:40]}"


@dataclass
class CookReading:
    """One cook on its way from cells to values.

    Attributes
    ----------
    group
        Its rows.
    columns
        What the columns hold.
    mapping
        Conventions, answers and questions.
    problems
        Reasons to refuse it.
    left_out
        Values that were not taken.
    remarks
        What is worth a look.
    """

    group: Group
    columns: Columns
    mapping: ColumnMapping
    problems: list[str] = field(default_factory=list)
    left_out: list[LeftOut] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    @property
    def mark(self) -> Decimal:
        """Decimal mark of the file."""
        mark = self.mapping.decimal
        return "," if mark == "," else "." if mark == "." else ""

    def cells(self, *names: str) -> list[tuple[Row, ColumnUse, str]]:
        """Filled cells of the cook that hold one of these fields."""
        held = self.columns.of(*names)
        if not held:
            return []
        return [
            (row, use, row.cells[use.column])
            for row in self.group.rows
            for use in held
            if says_something(row.cells[use.column])
        ]

    def text(self, name: str) -> str:
        """First filled cell of a field, or what holds for all rows; empty where there is neither."""
        return next((cell for _, _, cell in self.cells(name)), self.mapping.constants.get(name, ""))

    def omit(self, row: Row | None, heading: str, value: str, reason: str) -> None:
        """List a value as not taken."""
        at = row or self.group.rows[0]
        self.left_out.append(LeftOut(line=at.line, part=at.part, column=heading, value=value[:200], reason=reason))

    def measure(self, name: str) -> float | None:
        """Value of a field a cook has once, in the project's units."""
        cells = self.cells(name)
        if cells:
            row, use, cell = cells[0]
            return self.value(row, use, cell)
        constant = self.mapping.constants.get(name, "")
        return self._constant(name, constant) if constant else None

    def value(self, row: Row, use: ColumnUse, cell: str) -> float | None:
        """One cell in the project's units, None where it is not taken."""
        kind: MeasureKind = FIELDS[use.field].kind  # type: ignore[assignment]  # only measured fields come here
        typed = read_typed(cell, kind, self.mark)
        if typed is None:
            self._unreadable(row, use, cell, kind)
            return None
        if typed.soft:
            self.remarks.append(f"{use.heading}: {cell!r} is marked as approximate")
        return self._settled(row, use, cell, typed, kind)

    def _unreadable(self, row: Row, use: ColumnUse, cell: str, kind: str) -> None:
        if is_censored(cell):
            self.omit(row, use.heading, cell, "it gives only a bound, not a value")
        elif cell.startswith("#"):
            self.omit(row, use.heading, cell, "the workbook holds an error or a formula without a value there")
        elif _NOT_MEASURED.match(plain(cell)) or (use.field == "start_temperature" and _STATES.match(plain(cell))):
            self.omit(row, use.heading, cell, "it holds no number")
        else:
            example = _EXAMPLES.get(kind, "12.5")
            self.problems.append(
                f"{use.words} {cell!r} in column {use.heading!r} can't be read. It must be a value like {example}. Correct the cell"
            )

    def _settled(self, row: Row, use: ColumnUse, cell: str, typed: Typed, kind: MeasureKind) -> float | None:
        code = value_code(use.column, cell)
        unit = use.unit
        if any(question.code == code for question in self.mapping.questions):
            answer = self.mapping.answers.get(code)
            if answer is None or answer == LEAVE_OUT:
                self.omit(row, use.heading, cell, "left out as answered" if answer else "its unit is asked")
                return None
            unit = answer
        if unit == LEAVE_OUT:
            self.omit(row, use.heading, cell, "left out as answered")
            return None
        needs_unit = not typed.unit or (typed.unit in CLOCK_UNITS and typed.unit == "h:mm:ss")
        if unit is None and needs_unit:
            self.omit(row, use.heading, cell, "its unit is asked")
            return None
        value = self._decimal(row, use, cell, typed)
        return None if value is None else converted(Typed(value, typed.unit), kind, unit or "")

    def _decimal(self, row: Row, use: ColumnUse, cell: str, typed: Typed) -> float | None:
        """The reading of a number that could be a decimal or thousands; only one that is usual is taken."""
        if typed.other is None:
            return typed.value
        picked = pick_reading(typed, use, self.mapping)
        if picked is None:
            self.omit(row, use.heading, cell, "whether its comma or point is a decimal mark is asked")
        return picked

    def _constant(self, name: str, text: str) -> float | None:
        kind: MeasureKind = FIELDS[name].kind  # type: ignore[assignment]  # only measured fields come here
        typed = read_typed(text, kind, self.mark)
        if typed is None:
            self.problems.append(
                f"{FIELDS[name].words} {text!r}, told for all rows, can't be read. Give it like {_EXAMPLES[kind]}"
            )
            return None
        default = {"temperature": "°C", "mass": "g", "duration": "s"}.get(kind, "%")
        return converted(typed, kind, default)

    def values(self, *names: str) -> list[float]:
        """All values of a field, also several in one cell, in order."""
        found: list[float] = []
        cells = self.cells(*names)
        if not self.columns.has("place"):  # rows of tasters repeat what was measured once
            cells = list({use.column: (row, use, cell) for row, use, cell in reversed(cells)}.values())
            cells.sort(key=lambda one: one[1].column)
        for row, use, cell in cells:
            pieces, ranged = split_list(cell, self.mark)
            if ranged:
                self.remarks.append(f"{use.heading}: {cell!r} was read as its lowest and highest value")
            for piece in pieces:
                if len(pieces) > 1 and not any(char.isdigit() for char in piece):
                    if not is_missing(piece):
                        self.omit(row, use.heading, piece, "it holds no number")
                    continue
                value = self.value(row, use, piece if len(pieces) > 1 else cell)
                if value is not None:
                    found.append(value)
        return found

    def flag(self, name: str) -> bool | None:
        """Yes or no, None where it says neither."""
        for _, use, cell in self._raw(name):
            word = plain(cell).strip(" .!?").split(" ")[0]
            if word in NO:
                return False
            if word in YES:
                return True
            if cell and word not in ("", "-", "?"):
                self.omit(None, use.heading, cell, "it says neither yes nor no")
                return None
        constant = plain(self.mapping.constants.get(name, "")).strip()
        return True if constant in YES else False if constant in NO else None

    def _raw(self, name: str) -> list[tuple[Row, ColumnUse, str]]:
        """Cells of a yes/no field, also those ('open', 'x') that mean missing elsewhere."""
        return [
            (row, use, row.cells[use.column])
            for row in self.group.rows
            for use in self.columns.of(name)
            if row.cells[use.column]
        ]


def pick_reading(typed: Typed, use: ColumnUse, mapping: ColumnMapping) -> float | None:
    """The one of two readings of a number that is usual for its field, None where both or neither are."""
    if typed.other is None:
        return typed.value
    kind: MeasureKind = FIELDS[use.field].kind  # type: ignore[assignment]  # only measured fields come here
    low, high = usual(use.field, mapping.expected)
    fitting = []
    for value in (typed.value, typed.other):
        try:
            si = converted(Typed(value, typed.unit), kind, use.unit or "")
        except KeyError:
            return None
        if low <= si <= high:
            fitting.append(value)
    return fitting[0] if len(fitting) == 1 else None
