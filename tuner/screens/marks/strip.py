"""A program as a strip: time from left to right, air up and microwave down from one line, both on the same 0 to 100 scale."""

from __future__ import annotations

from html import escape

from tuner.domain import Program
from tuner.domain.quantities import minutes_seconds
from tuner.screens.marks.words import number


def sentence(program: Program) -> str:
    """The program in words, for a screen reader and for reading back."""
    stages = "; then ".join(
        f"{number(stage.share_pct)} percent of the time, {number(seconds)} s, air {number(stage.air_speed_pct)} percent, "
        f"microwave {number(stage.microwave_pct)} percent"
        for stage, seconds in zip(program.stages, program.stage_seconds())
    )
    return f"Program at {number(program.air_temperature_c)} degrees, {number(program.duration_s)} seconds: {stages}"


def headline(program: Program) -> str:
    """Air temperature and duration: `250 °C · 3:30`."""
    return f"{number(program.air_temperature_c)} °C · {minutes_seconds(program.duration_s)}"


def _bars(program: Program, height_px: int) -> str:
    columns = " ".join(f"minmax(0,{stage.share_pct:g}fr)" for stage in program.stages)
    stages = "".join(
        f'<span class="tk-stage"><i class="up" style="height:{stage.air_speed_pct / 2:g}%"></i>'
        f'<i class="down" style="height:{stage.microwave_pct / 2:g}%"></i></span>'
        for stage in program.stages
    )
    return f'<div class="tk-strip" style="height:{height_px}px;grid-template-columns:{columns}">{stages}</div>'


def strip(program: Program, *, height_px: int = 40, longest_s: float | None = None, caption: bool = True) -> str:
    """The strip for a list.

    Parameters
    ----------
    program
        What is drawn.
    height_px
        Height of both halves together.
    longest_s
        Duration that fills the width; shorter programs are drawn shorter. None fills the width always.
    caption
        Whether air temperature and duration stand below.
    """
    width = 100 if longest_s is None else round(100 * min(1.0, program.duration_s / longest_s))
    foot = f"<small>{headline(program)}</small>" if caption else ""
    return (
        f'<div class="tk" role="img" aria-label="{escape(sentence(program))}">'
        f'<div style="width:{width}%">{_bars(program, height_px)}</div>{foot}</div>'
    )


THIN, VERY_THIN = 18.0, 8.0
"""Shares [%] below which the words of a stage no longer fit under it on a phone, and at a desk: they become a list then."""


def _thinness(program: Program) -> str:
    least = min(stage.share_pct for stage in program.stages)
    return " very-thin" if least < VERY_THIN else " thin" if least < THIN else ""


def large_strip(program: Program, *, at_most_s: float | None = None) -> str:
    """The strip to cook from: under each stage its share (what is keyed in), its seconds and both levels.

    Parameters
    ----------
    program
        What is drawn.
    at_most_s
        Longest duration the brief allows, written beside the program's own.
    """
    columns = " ".join(f"minmax(0,{stage.share_pct:g}fr)" for stage in program.stages)
    feet = "".join(
        f'<div><span class="tk-nowrap"><b>{number(stage.share_pct)} %</b> <small>{number(seconds)} s</small></span><br>'
        f'<span class="tk-level tk-air">▲ {number(stage.air_speed_pct)}</span> '
        f'<span class="tk-level tk-microwave">▼ {number(stage.microwave_pct)}</span></div>'
        for stage, seconds in zip(program.stages, program.stage_seconds())
    )
    limit = f" <small>brief: at most {minutes_seconds(at_most_s)}</small>" if at_most_s else ""
    return (
        f'<div class="tk tk-large-strip{_thinness(program)}" role="img" aria-label="{escape(sentence(program))}">'
        '<div class="tk-strip-head">'
        f"<span><b>{headline(program)} min</b>{limit}</span>"
        '<small>share of the time % &nbsp; <span class="tk-air">▲ air speed %</span> &nbsp; '
        '<span class="tk-microwave">▼ microwave %</span></small></div>'
        f'{_bars(program, 150)}<div class="tk-strip-foot" style="grid-template-columns:{columns}">{feet}</div></div>'
    )
