"""Which program was cooked: one that was taken, one cooked before, one of the chef's own, or none (benchmark)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import streamlit as st

from tuner.domain import Program, Purpose, Stage
from tuner.screens.marks.strip import headline, large_strip
from tuner.screens.marks.words import PURPOSE
from tuner.screens.parts.rows import searched
from tuner.screens.strip_edit import strip_edit
from tuner.services import CookRecord, DevelopmentView

OWN, BENCHMARK = "own", "benchmark"


@dataclass(frozen=True, slots=True)
class Cooked:
    """What was ordered, what was keyed in where it differs, and what the cook was for."""

    program: Program | None
    program_set: Program | None
    purpose: Purpose


def _plain_program(view: DevelopmentView) -> Program:
    """A middling program on the oven's steps to begin one's own from."""
    oven = view.oven
    middle = {name: getattr(oven, name) for name in ("air_temperature_c", "duration_s", "air_speed_pct", "microwave_pct")}
    at = {name: setting.at(setting.count // 2) for name, setting in middle.items()}
    stage = Stage(share_pct=100, air_speed_pct=at["air_speed_pct"], microwave_pct=at["microwave_pct"])
    return Program(air_temperature_c=at["air_temperature_c"], duration_s=at["duration_s"], stages=(stage,))


def _options(view: DevelopmentView) -> dict[str, str]:
    options = {
        f"proposal:{one.id}": f"Taken: {PURPOSE[one.proposal.purpose]}, {headline(one.program)}"
        for one in view.pending_proposals
    }
    for record in reversed(searched(view)):
        if record.cook.done_program:
            options[f"cook:{record.id}"] = f"Again as cook {record.number}, {headline(record.cook.done_program)}"
    return options | {OWN: "A program of my own", BENCHMARK: "Benchmark: the conventional method"}


def _begin_with(options: Mapping[str, str]) -> int:
    wanted = f"proposal:{st.query_params.get('proposal', '')}"
    return list(options).index(wanted) if wanted in options else 0


def _repeat_purpose(record: CookRecord) -> Purpose:
    return "confirm" if record.outcome.result == "pass" else "search"


def which_program(view: DevelopmentView, prefix: str) -> Cooked:
    """Ask which program was cooked, show it, and ask whether it was keyed in so."""
    options = _options(view)
    names = list(options)
    chosen = st.selectbox(
        "What was cooked?", names, index=_begin_with(options), format_func=options.__getitem__, key=f"{prefix}.which"
    )
    if chosen == BENCHMARK:
        return Cooked(None, None, "benchmark")
    if chosen == OWN:
        cooks = [record.cook.done_program for record in searched(view) if record.cook.done_program]
        start = cooks[-1] if cooks else _plain_program(view)
        return Cooked(strip_edit(start, view.oven, key=f"{prefix}.own", token=prefix), None, "search")
    kind, _, found = chosen.partition(":")
    if kind == "proposal":
        proposal = next(one for one in view.pending_proposals if one.id == found)
        return _as_ordered(view, proposal.program, proposal.proposal.purpose, f"{prefix}.{found}")
    record = next(one for one in view.current_cooks if one.id == found)
    again = record.cook.done_program
    return _as_ordered(view, again, _repeat_purpose(record), f"{prefix}.{found}") if again else Cooked(None, None, "benchmark")


def _as_ordered(view: DevelopmentView, program: Program, purpose: Purpose, key: str) -> Cooked:
    st.html(large_strip(program))
    if not st.toggle("Keyed in differently", key=f"{key}.differs"):
        return Cooked(program, None, purpose)
    done = strip_edit(program, view.oven, key=f"{key}.set", token=key)
    return Cooked(program, done if done != program else None, purpose)
