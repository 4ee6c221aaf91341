"""All cooks as one table: a row for each entry, a column for each value, lists spread over numbered columns.

The same state gives the same bytes: UTF-8, comma, CR LF, columns as `data_dictionary` lists them. Text that a spreadsheet
would take for a formula gets an apostrophe in front; numbers never do, so that -5 stays a number.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable
from datetime import datetime
from typing import Any

from tuner.domain import CookEntry, DevelopmentEntry, Score, Snapshot, TestCook
from tuner.exchange.data_dictionary import DATA_DICTIONARY

_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def write_tidy_csv(snapshot: Snapshot) -> bytes:
    """All cooks of a snapshot as CSV; see `DATA_DICTIONARY` for the columns."""
    rows = [row for development in snapshot.developments for row in _rows(development, snapshot)]
    names = _columns(rows)
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(names)
    for row in rows:
        writer.writerow([_written(row.get(name)) for name in names])
    return out.getvalue().encode("utf-8")


def _columns(rows: Iterable[dict[str, Any]]) -> list[str]:
    """Columns of the dictionary; numbered ones as often as the fullest row needs them, at least once, side by side by number."""
    keys = {key for row in rows for key in row}
    names: list[str] = []
    waiting: list[str] = []
    for entry in (*DATA_DICTIONARY, None):
        if entry is not None and "<n>" in entry.name:
            waiting.append(entry.name)
            continue
        if waiting:
            most = max((n for pattern in waiting for n in range(1, 51) if pattern.replace("<n>", str(n)) in keys), default=1)
            names += [pattern.replace("<n>", str(n)) for n in range(1, most + 1) for pattern in waiting]
            waiting = []
        if entry is not None:
            names.append(entry.name)
    return names


def _rows(development: DevelopmentEntry, snapshot: Snapshot) -> list[dict[str, Any]]:
    oven = next(entry for entry in snapshot.ovens if entry.id == development.oven_id)
    corrected = {entry.corrects for entry in development.cooks if entry.corrects}
    head = {
        "development_id": development.id,
        "dish": development.brief.dish,
        "customer": development.customer,
        "development_state": development.state,
        "development_oven": oven.versions[-1].oven.name,
    }
    return [{**head, **_entry(entry, superseded=entry.id in corrected), **_cook(entry.cook)} for entry in development.cooks]


def _entry(entry: CookEntry, *, superseded: bool) -> dict[str, Any]:
    return {
        "entry_id": entry.id,
        "cook_number": entry.number,
        "corrects_entry": entry.corrects,
        "superseded": superseded,
        "correction_reason": entry.reason,
        "logged_at": entry.at,
        "logged_by": entry.by,
    }


_SAME_NAME = (
    "purpose cooked_at mass_g start_temperature_c thermometer_checked_at rest_s rest_covered held_s completed interrupted_by mass_out_g"
    " note lot load oven_serial seconds_since_last_cook serving_age_s photo"
)


def _cook(cook: TestCook) -> dict[str, Any]:
    row: dict[str, Any] = {name: getattr(cook, name) for name in _SAME_NAME.split()}
    row |= {"cook_name": cook.cook, "cook_loss_pct": cook.cook_loss_pct}
    row["history"] = "yes" if cook.history is True else cook.history or None
    row["trace_samples"] = _samples(cook)
    if cook.program is not None:
        row |= {"air_temperature_c": cook.program.air_temperature_c, "duration_s": cook.program.duration_s}
        for number, stage in enumerate(cook.program.stages, start=1):
            for part in ("share_pct", "air_speed_pct", "microwave_pct"):
                row[f"stage_{number}_{part}"] = getattr(stage, part)
    if cook.program_set is not None:
        row["program_set"] = _json(cook.program_set.model_dump(mode="json"))
    for number, reading in enumerate(cook.readings_c, start=1):
        row[f"core_{number}_c"] = reading
    for number, place in enumerate(cook.probe_places or (), start=1):
        row[f"place_{number}"] = str(place)
    return row | _scores(cook.scores or ())


def _samples(cook: TestCook) -> int | None:
    if cook.trace is None:
        return None
    return sum(len(piece.time_s) if isinstance(piece.time_s, tuple) else 1 for piece in cook.trace)


def _scores(scores: Iterable[Score]) -> dict[str, Any]:
    row: dict[str, Any] = {}
    further: dict[str, dict[str, float]] = {}
    for number, score in enumerate(scores, start=1):
        row[f"taster_{number}"] = score.taster
        row |= {f"{name}_{number}": getattr(score, name) for name in ("browning", "texture", "moisture")}
        if score.other:
            further[score.taster] = score.other
    if further:
        row["further_scores"] = _json(further)
    return row


def _json(content: Any) -> str:
    return json.dumps(content, ensure_ascii=False, sort_keys=True)


def _written(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.isoformat().replace("+00:00", "Z")
    if isinstance(value, int | float):
        return repr(value) if isinstance(value, int) or value != int(value) or abs(value) >= 1e15 else str(int(value))
    return _defused(str(value))


def _defused(text: str) -> str:
    return f"'{text}" if text.startswith(_FORMULA) else text
