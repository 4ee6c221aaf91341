"""Reads the documents named on the command line: JSON files, standard input, programs in short form."""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path
from typing import Any, TypeVar

from tuner.domain import InvalidDocument, Program
from tuner.domain.model import Model
from tuner.domain.quantities import minutes_seconds, read_quantity

Document = TypeVar("Document", bound=Model)


def read_bytes(name: str) -> bytes:
    """Content of a file; `-` is standard input.

    Raises
    ------
    OSError
        If the file can't be read.
    """
    return sys.stdin.buffer.read() if name == "-" else Path(name).read_bytes()


def _no_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        double = next(name for name in names if names.count(name) > 1)
        raise InvalidDocument([f"{double!r} is given twice in one object. Each name may be used once. Remove one of the two."])
    return found


def read_json(name: str) -> Any:
    """Value of a JSON file; `-` is standard input.

    Raises
    ------
    InvalidDocument
        If it is not JSON, or gives a name twice (the last would silently win).
    OSError
        If the file can't be read.
    """
    data = read_bytes(name)
    try:
        return json.loads(data.decode("utf-8-sig"), object_pairs_hook=_no_doubles)
    except UnicodeDecodeError:
        raise InvalidDocument([f"{name} is not text in UTF-8. A document is a JSON file. Save it as UTF-8."]) from None
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise InvalidDocument([f"{name} is not JSON ({place}: {error.msg}). Check commas and brackets there."]) from None
    except RecursionError:
        raise InvalidDocument([f"{name} is nested too deeply to be a document. Check the file."]) from None


def read_model(name: str, model: type[Document]) -> Document:
    """Document in a JSON file; a file that holds it under its own name (`{"brief": ...}`) is understood.

    Raises
    ------
    InvalidDocument
        If it is not JSON.
    pydantic.ValidationError
        If it breaks a rule of the model.
    OSError
        If the file can't be read.
    """
    value = read_json(name)
    wrapped = {"TestCook": "test_cook"}.get(model.__name__, model.__name__.lower())
    if isinstance(value, dict) and list(value) == [wrapped]:
        value = value[wrapped]
    return model.model_validate(value)


_STAGE = re.compile(r"^\s*([^/]+)/([^/]+)/([^/]+)\s*$")


def _short_program(text: str) -> Program:
    """Read `250, 3:30, 40/30/80, 60/90/20`: air, duration, then share/air speed/microwave of each stage."""
    parts = [part for part in re.split(r",(?!\d)|;|\s+", text.strip()) if part and part not in {"°C", "C"}]
    if len(parts) < 3:
        raise InvalidDocument([f"program {text!r} is neither a file nor a short form. Write it like {SHORT_FORM!r}."])
    air = read_quantity(parts[0], "temperature", field="air temperature")
    stages = []
    for number, part in enumerate(parts[2:], start=1):
        found = _STAGE.match(part)
        if not found:
            raise InvalidDocument([f"stage {number} {part!r} is not share/air speed/microwave. Write it like '40/30/80'."])
        share, speed, microwave = (read_quantity(entry, "share", field=f"stage {number}").value for entry in found.groups())
        stages.append({"share_pct": share, "air_speed_pct": speed, "microwave_pct": microwave})
    duration = read_quantity(parts[1], "duration", field="duration")
    # An air temperature of 130 to 212 without unit is °C: programs are always in °C unless °F is written.
    document = {"air_temperature_c": round(air.value, 6), "duration_s": duration.value, "stages": stages}
    return Program.model_validate(document)


SHORT_FORM = "250, 3:30, 40/30/80, 60/90/20"
"""Example of a program in short form."""


def read_program(text: str) -> Program:
    """Program from a JSON file, JSON text, or its short form.

    Raises
    ------
    InvalidDocument
        If it is none of these.
    pydantic.ValidationError
        If it breaks a rule of programs.
    OSError
        If the file can't be read.
    """
    if text.lstrip().startswith("{"):
        return Program.model_validate_json(text)
    if text == "-" or text.endswith(".json") or Path(text).is_file():
        return read_model(text, Program)
    return _short_program(text)


def in_short(program: Program) -> str:
    """Program in short form: `250, 3:30, 40/30/80, 60/90/20`."""
    stages = ", ".join(f"{stage.share_pct:g}/{stage.air_speed_pct:g}/{stage.microwave_pct:g}" for stage in program.stages)
    return f"{program.air_temperature_c:g}, {minutes_seconds(program.duration_s)}, {stages}"
