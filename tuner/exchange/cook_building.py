"""One cook of a log as a document of a test cook."""

from __future__ import annotations

import re
from typing import Any

from tuner.domain import Purpose
from tuner.exchange.cell_words import DONE, NO, YES
from tuner.exchange.cook_reading import CookReading
from tuner.exchange.heading_words import plain
from tuner.exchange.number_text import is_missing, read_number
from tuner.exchange.quantity_text import converted, read_typed
from tuner.exchange.score_reading import scores_of
from tuner.exchange.stage_building import keyed_in, program_of
from tuner.exchange.time_reading import checked_at, cooked_at

_PURPOSES: tuple[tuple[str, Purpose], ...] = (
    (r"bench|referen|convention|original|control|standard oven|vergleich|referenz|testigo|temoin", "benchmark"),
    (r"site", "site_check"),
    (r"proof|nachweis|validation", "proof"),
    (r"conf|bestatig|repeat|replica|wiederhol|repet", "confirm"),
    (r"first|guess|erste|premier|primer", "first_guess"),
    (r"search|explor|trial|test|try|such|versuch|essai|prueba|develop|tuning", "search"),
)
_MOST_PLACES = 60
_INTERRUPTED = re.compile(
    r"power\s*(?:cut|fail\w*|outage|loss|was lost|went|trip\w*)|black\s?-?out|door\s+(?:was\s+|got\s+)?open\w*|open\w*\s+(?:the\s+)?door"
    r"|interrupt\w*|abort\w*|cut short|stopped\s+(?:early|at|after|before)|oven\s+(?:stopped|trip\w*|fault|error|off)|breaker|fuse"
    r"|stromausfall|t(?:u|ü)r\s+(?:auf|ge(?:o|ö)ffnet|offen)|abgebrochen|unterbrochen|coupure|porte\s+ouverte|interrompu\w*"
    r"|corte\s+de\s+(?:luz|corriente)|puerta\s+abierta|interrumpid\w*",
    re.IGNORECASE,
)
_DENIED = re.compile(r"\b(?:no|not|never|without|kein\w*|ohne|nicht|nie|sans|pas|sin)\b[^.;,]{0,24}$", re.IGNORECASE)


def cook_document(reading: CookReading) -> dict[str, Any]:
    """Everything the log tells about one cook; problems, left-out values and remarks are kept on the reading."""
    content: dict[str, Any] = {}
    _program(reading, content)
    _masses(reading, content)
    _temperatures(reading, content)
    for key, name in (("rest_s", "rest"), ("held_s", "held"), ("serving_age_s", "serving_age")):
        _put(content, key, reading.measure(name))
    _put(content, "seconds_since_last_cook", reading.measure("seconds_since_last_cook"))
    _put(content, "rest_covered", reading.flag("rest_covered"))
    _put(content, "cooked_at", cooked_at(reading))
    _put(content, "thermometer_checked_at", checked_at(reading))
    scores = scores_of(reading)
    _put(content, "scores", scores or None)
    for key, name in (("cook", "cook_name"), ("lot", "lot"), ("oven_serial", "oven_serial"), ("photo", "photo")):
        _put(content, key, reading.text(name)[:200] or None)
    _other_oven(reading, content)
    _put(content, "load", _whole(reading, "load"))
    _put(content, "note", _note(reading) or None)
    _completion(reading, content)
    return content


def _put(content: dict[str, Any], key: str, value: Any) -> None:
    if value is not None:
        content[key] = value


def _program(reading: CookReading, content: dict[str, Any]) -> None:
    purpose = _purpose(reading)
    if purpose:
        content["purpose"] = purpose
    told = " ".join(cell for _, _, cell in reading.cells("program", "program_name", "purpose", "cook_id"))
    if purpose == "benchmark" or (not purpose and re.search(r"bench|conventional", plain(told))):
        content["purpose"] = "benchmark"
        content["program"] = None
        trial = CookReading(reading.group, reading.columns, reading.mapping)
        program = program_of(trial) if reading.cells("stage_microwave", "program", "stage") else None
        if program is not None and not trial.problems:
            content["program"] = program
        return
    program = program_of(reading)
    if program is None and not reading.problems:
        asked = any(
            question.code.startswith(("level:", "order:", "which:", "field:")) for question in reading.mapping.open_questions
        )
        named = reading.text("program_name")
        lacking = "no program is told. Only a benchmark has none. Add what the oven was set to, or say that it is a benchmark"
        if named:
            lacking = f"what program {named!r} is stands nowhere in the file. Add a sheet that tells it, or write it out"
        reading.problems.append("the program can't be read before the questions about it are answered" if asked else lacking)
    content["program"] = program
    _keyed_in(reading, content)


def _keyed_in(reading: CookReading, content: dict[str, Any]) -> None:
    """The program keyed in where it differs, as our own tidy CSV writes it."""
    for row, use, cell in reading.cells("program_set")[:1]:
        keyed = keyed_in(cell, use, reading, content.get("program"))
        if keyed is None:
            reading.omit(row, use.heading, cell, "it is no whole program")
        else:
            content["program_set"] = keyed


def _purpose(reading: CookReading) -> Purpose | None:
    text = plain(reading.text("purpose")).replace("_", " ")
    if not text:
        return None
    found = next((purpose for pattern, purpose in _PURPOSES if re.search(pattern, text)), None)
    if found is None:
        reading.remarks.append(f"purpose {text!r} is none that is known; taken as search")
    return found


def _masses(reading: CookReading, content: dict[str, Any]) -> None:
    before, after = reading.measure("mass_in"), reading.measure("mass_out")
    _put(content, "mass_g", before)
    if after is None and before is not None and not reading.cells("mass_out"):
        after = _after_by_loss(reading, before)
    _put(content, "mass_out_g", after)


def _after_by_loss(reading: CookReading, before: float) -> float | None:
    """Mass after cooking from the loss or yield that the log tells instead."""
    for name in ("loss", "yield"):
        for _, use, cell in reading.cells(name)[:1]:
            typed = read_typed(cell, "percent", reading.mark) or read_typed(cell, "mass", reading.mark)
            if typed is None or use.unit is None:
                continue
            if typed.unit in ("g", "kg", "oz", "lb") or use.unit in ("g", "kg", "oz", "lb"):
                lost = converted(typed, "mass", use.unit if use.unit != "%" else "g")
                after = before - lost if name == "loss" else lost
            else:
                part = converted(typed, "percent", use.unit) / 100
                after = before * (1 - part) if name == "loss" else before * part
            reading.remarks.append(f"mass after cooking was worked out from {use.heading!r}")
            return round(after, 3)
    return None


def _temperatures(reading: CookReading, content: dict[str, Any]) -> None:
    starts = reading.values("start_temperature")
    if len(starts) > 1:
        reading.remarks.append(f"{len(starts)} start temperatures; their mean is kept")
    if starts:
        content["start_temperature_c"] = round(sum(starts) / len(starts), 6)
    elif reading.mapping.constants.get("start_temperature"):
        _put(content, "start_temperature_c", reading.measure("start_temperature"))
    cores = reading.values("core")
    if len(cores) > _MOST_PLACES:
        reading.problems.append(
            f"{len(cores)} core temperatures stand in one cook. At most {_MOST_PLACES} places are read. Correct it"
        )
    elif cores:
        content["core_temperature_c"] = cores
        places = _places(reading)
        if len(places) == len(cores):
            content["probe_places"] = places


def _places(reading: CookReading) -> list[str]:
    """Names of the places, where the log gives them."""
    rows = [cell for row, _, cell in reading.cells("place") if reading.columns.cells(row, "core")]
    if rows and not all(cell.isdecimal() for cell in rows):
        return rows
    labels = [use.label for _, use, _ in reading.cells("core")]
    return [label for label in labels if label] if all(labels) else []


def _other_oven(reading: CookReading, content: dict[str, Any]) -> None:
    """A cook on another oven than the development's keeps that oven's name, so that it does not count here."""
    for _, use, cell in reading.cells("oven_name")[:1]:
        if use.label is not None and plain(cell) != plain(use.label):
            content.setdefault("oven_serial", cell[:200])


def _whole(reading: CookReading, name: str) -> int | None:
    cells = reading.cells(name)
    if not cells:
        return None
    row, use, cell = cells[0]
    number = read_number(cell, reading.mark)
    if number is None or number.value != int(number.value):
        reading.omit(row, use.heading, cell, "it is no whole number")
        return None
    return int(number.value)


def _note(reading: CookReading) -> str:
    cells = [cell.replace("\n", " ") for _, _, cell in reading.cells("note")]
    cells += [comment for row in reading.group.rows for comment in row.comments]
    return "; ".join(dict.fromkeys(cells))[:4000]


def _completion(reading: CookReading, content: dict[str, Any]) -> None:
    """Whether the cook ran to its end: told by a column, else by a note that says it did not."""
    told = _told_completion(reading, content)
    why = reading.text("interrupted_by")
    if why and plain(why).strip(" .") not in NO:
        told = False if told is None else told
        if told is False:
            content["interrupted_by"] = why[:500]
    by_note = interruption(content.get("note", ""))
    if by_note and told is None:
        told = False
        content.setdefault("interrupted_by", by_note)
        reading.remarks.append(f"kept as not completed, because the note says {by_note!r}")
    elif by_note and told:
        reading.remarks.append(f"the log says completed, the note says {by_note!r}")
    elif by_note:
        content.setdefault("interrupted_by", by_note)
    if told is True:
        content.pop("interrupted_by", None)
    _put(content, "completed", told)


def _told_completion(reading: CookReading, content: dict[str, Any]) -> bool | None:
    told: bool | None = None
    for name, sense in (("completed", True), ("interrupted", False)):
        for row in reading.group.rows:
            for use in reading.columns.of(name):
                cell = row.cells[use.column]
                word = plain(cell).strip(" .!?").split(" ")[0] if cell else ""
                if word in DONE:
                    told = True
                elif word in YES or word in NO:
                    told = sense if word in YES else not sense
                elif cell and not is_missing(cell):
                    cut = interruption(cell) or (cell if name == "interrupted" else "")
                    if cut:
                        told = False
                        content["interrupted_by"] = cell[:500]
                    else:
                        reading.omit(row, use.heading, cell, "it says neither yes nor no")
    return told


def interruption(note: str) -> str:
    """What a note says interrupted the cook, empty where it says nothing of the kind or denies it."""
    for found in _INTERRUPTED.finditer(note):
        if not _DENIED.search(note[: found.start()]):
            return found[0]
    return ""
