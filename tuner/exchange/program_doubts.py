"""Doubts about programs over a whole table: the order of bare numbers, and whether stage times are lengths or ends."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from tuner.exchange.asking import Asker
from tuner.exchange.cook_reading import CookReading
from tuner.exchange.file_hints import Hints, roles_in_order
from tuner.exchange.heading_words import said
from tuner.exchange.mapping import ColumnMapping, ColumnUse
from tuner.exchange.number_text import is_missing
from tuner.exchange.quantity_text import read_typed
from tuner.exchange.row_parts import Columns, Group
from tuner.exchange.settings import with_settings
from tuner.exchange.stage_building import share_numbers
from tuner.exchange.stage_order import choose_order
from tuner.exchange.stage_text import read_stages


def choose_orders(
    uses: Sequence[ColumnUse], groups: Sequence[Group], draft: ColumnMapping, hints: Hints, asker: Asker
) -> list[ColumnUse]:
    """Uses with the order of the bare numbers of stages in one cell."""
    texts = [use for use in uses if use.field in ("program", "stage") and not (use.by_person and use.order)]
    single = [use for use in texts if use.field == "program"]
    chosen = {use.column: _order_of([use], groups, draft, hints, asker) for use in single}
    together = [use for use in texts if use.field == "stage"]
    if together:
        order = _order_of(together, groups, draft, hints, asker)
        chosen |= {use.column: order for use in together}
    return [with_settings(use, order=chosen[use.column]) if use.column in chosen else use for use in uses]


def _order_of(
    texts: Sequence[ColumnUse], groups: Sequence[Group], draft: ColumnMapping, hints: Hints, asker: Asker
) -> tuple[str, ...] | None:
    columns = Columns(draft.columns)
    cells, durations, shown = [], [], []
    for group in groups:
        ordered = sorted(texts, key=lambda use: use.number or 0)
        filled = [next((row.cells[use.column] for row in group.rows if row.cells[use.column]), "") for use in ordered]
        text = " | ".join(cell for cell in filled if cell)
        read = read_stages(text) if text else None
        if read is not None:
            cells.append(read)
            durations.append(read.duration_s or CookReading(group, columns, draft).measure("duration"))
            shown.append(text)
    if not cells:
        return None
    hinted = roles_in_order(texts[0].heading)
    if not {"air", "microwave"} <= set(hinted):
        hinted = hints.order
    column = texts[0].column
    return choose_order(column, cells, durations, hinted, draft.expected, asker, shown) or None


def choose_shares(uses: Sequence[ColumnUse], groups: Sequence[Group], draft: ColumnMapping) -> list[ColumnUse]:
    """Uses with the unit of shares: told, or left to the sum of each row; `until ...` where they are ends of stages."""
    shares = [use for use in uses if use.field == "stage_share"]
    if not shares:
        return list(uses)
    told = "until" in frozenset().union(*(said(use.heading).things for use in shares))
    unit = next((use.unit for use in shares if use.unit), "") or ("s" if _all_times(shares, groups) else "")
    until = told or _rising_to_the_end(groups, draft)
    settled = f"until {unit}".strip() if until else unit or None
    return [with_settings(use, unit=settled) if use.field == "stage_share" and not use.by_person else use for use in uses]


def _all_times(shares: Sequence[ColumnUse], groups: Sequence[Group]) -> bool:
    """Whether all shares are written as times with their own unit, like 1:24 or 84 s."""
    cells = [cell for group in groups for row in group.rows for use in shares if (cell := row.cells[use.column])]
    typed = [read_typed(cell, "duration", "") for cell in cells if not is_missing(cell)]
    return bool(typed) and all(one is not None and one.unit for one in typed)


def _rising_to_the_end(groups: Sequence[Group], draft: ColumnMapping) -> bool:
    """Whether the times of nearly all cooks with several stages rise and end at the duration (or 100), and do not add up to it."""
    columns = Columns(draft.columns)
    rising = adding = several = 0
    for group in groups:
        reading = CookReading(group, columns, draft)
        numbers = share_numbers(reading)
        if len(numbers) < 2:
            continue
        several += 1
        wholes = [100.0, 1.0, *([seconds, seconds / 60] if (seconds := reading.measure("duration")) else [])]
        adding += any(abs(sum(numbers) - whole) <= 0.02 * whole for whole in wholes)
        ends = any(abs(numbers[-1] - whole) <= 0.005 * whole for whole in wholes)
        rising += ends and all(later > earlier for earlier, later in itertools.pairwise(numbers))
    return several > 0 and rising >= 0.9 * several and adding <= 0.1 * several
