"""The program strip as an editor: a small component of our own, drawn with the marks' colours."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import streamlit as st
from pydantic import ValidationError

from tuner.domain import Oven, Program

_HERE = Path(__file__).parent
_HINT = "Pull a number up or down, a ring sideways; arrow keys work too."


@cache
def _component() -> Any:
    """Registered when first shown, so that importing the screens needs no running server."""
    return st.components.v2.component(
        "tuner_strip_edit",
        html='<div class="strip-edit"></div>',
        css=(_HERE / "strip_edit.css").read_text(encoding="utf-8"),
        js=(_HERE / "strip_edit.js").read_text(encoding="utf-8"),
    )


def _settings(oven: Oven) -> dict[str, Any]:
    wanted = {"air_temperature_c", "air_speed_pct", "microwave_pct", "duration_s", "share_step_pct", "max_stages"}
    return oven.model_dump(mode="json", include=wanted)


def _read(sent: Any, otherwise: Program) -> Program:
    """What came from the browser is input like any other: it is checked, and what is no program is not taken."""
    try:
        return Program.model_validate(sent)
    except ValidationError:
        return otherwise


def strip_edit(program: Program, oven: Oven, *, key: str, token: str) -> Program:
    """Show the editor; the program as it stands under the hand.

    Parameters
    ----------
    program
        Where the change starts; drawn dashed.
    oven
        Its steps bind the hand.
    key
        Widget key.
    token
        Another value loads `program` anew; with the same one a rerun leaves the hand alone.
    """
    start = program.model_dump(mode="json")
    data = {"program": start, "oven": _settings(oven), "token": token, "hint": _HINT}
    sent = _component()(key=key, data=data, default={"program": start}, on_program_change=lambda: None)
    return _read(sent.program or start, program)


__all__ = ["strip_edit"]
