"""What people see on a terminal: tables of developments, cooks, forecasts, programs. Pure: records in, drawings out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.box import SIMPLE_HEAD
from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from tuner.cli.documents import in_short
from tuner.cli.words import (
    ATTRIBUTE_WORDS,
    OUTCOME_WORDS,
    PURPOSE_WORDS,
    SHORT_VERDICTS,
    STATUS_WORDS,
    VERDICT_CAUTIONS,
    VERDICT_STYLES,
    chance,
    cooks_left_words,
    measured,
    measured_range,
    verdict_words,
    window_words,
)
from tuner.domain import SCORES, Assessment, Brief, Caution, Feasibility, Forecast, Program, Verdict
from tuner.domain.quantities import minutes_seconds
from tuner.services import CookRecord, DevelopmentSummary, DevelopmentView, OvenRecord, ProposalRecord

RANGE_80 = 1.2816
"""Half-width of the central 80 % of a normal distribution, in standard deviations."""


def table(*columns: str, title: str | None = None, right: Iterable[str] = ()) -> Table:
    """An empty table with these columns; those named in `right` hold numbers."""
    drawn = Table(title=title, title_justify="left", title_style="bold", header_style="bold", box=SIMPLE_HEAD)
    drawn.pad_edge, drawn.collapse_padding, drawn.show_edge = False, True, False
    for column in columns:
        number = column in set(right)
        drawn.add_column(column, justify="right" if number else "left", overflow="fold", no_wrap=number)
    return drawn


def heading(text: str) -> Text:
    """A line that names what follows."""
    return Text(text, style="bold")


def sentences(lines: Iterable[str], *, mark: str = "-") -> Text:
    """Sentences as a list."""
    return Text("\n".join(f"{mark} {line}" for line in lines))


def developments_table(summaries: Sequence[DevelopmentSummary]) -> Table:
    """Who waits for whom."""
    drawn = table("Id", "Dish", "State", "Waits for", "Cooks", "Reliable", "Idle", right=("Cooks", "Reliable", "Idle"))
    for summary in summaries:
        belongs = [summary.customer] if summary.customer else []
        dish = f"{summary.dish}\n{', '.join([*belongs, summary.oven_name])}"
        state = STATUS_WORDS.get(summary.status, summary.status)
        known = chance(summary.chance_reliable) if summary.best_program else "–"
        idle = f"{summary.idle_days} d"
        row = (summary.id[:8], dish, state, summary.waits_for, str(summary.cook_count), known, idle)
        drawn.add_row(*(Text(cell) for cell in row))
    return drawn


def ovens_table(records: Sequence[OvenRecord]) -> Table:
    """Ovens with their limits."""
    drawn = table("Id", "Oven", "Air", "Duration", "Stages", "Microwave", right=("Stages", "Microwave"))
    for record in records:
        oven = record.oven
        air = f"{oven.air_temperature_c.low:g} to {oven.air_temperature_c.high:g} °C"
        duration = f"{minutes_seconds(oven.duration_s.low)} to {minutes_seconds(oven.duration_s.high)}"
        rated = f"{oven.microwave_rated_w:g} W" if oven.microwave_rated_w else "–"
        drawn.add_row(*(Text(cell) for cell in (record.id[:8], oven.name, air, duration, str(oven.max_stages), rated)))
    return drawn


def program_table(program: Program, *, title: str | None = None) -> Table:
    """A program to key in: one row a stage, with the times at which it begins and ends."""
    shown = f"{program.air_temperature_c:g} °C for {minutes_seconds(program.duration_s)}"
    drawn = table(
        "Stage", "From", "To", "Share", "Air speed", "Microwave",
        title=f"{title}: {shown}" if title else shown,
        right=("Stage", "From", "To", "Share", "Air speed", "Microwave"),
    )  # fmt: skip
    begin = 0.0
    for number, (stage, seconds) in enumerate(zip(program.stages, program.stage_seconds(), strict=True), start=1):
        drawn.add_row(
            str(number),
            minutes_seconds(begin),
            minutes_seconds(begin + seconds),
            f"{stage.share_pct:g} %",
            f"{stage.air_speed_pct:g} %",
            f"{stage.microwave_pct:g} %",
        )
        begin += seconds
    return drawn


def forecast_table(forecast: Forecast, brief: Brief, *, usable_low_c: float | None) -> RenderableType:
    """A forecast against the windows, and the two chances that count."""
    drawn = table("Attribute", "Expected", "4 cooks in 5", "Window", "Measured in", "Truly in")
    for name, words in ATTRIBUTE_WORDS.items():
        attribute = forecast.attributes[name]
        low = attribute.mean - RANGE_80 * attribute.spread
        high = attribute.mean + RANGE_80 * attribute.spread
        window = window_words(name, brief.targets.of(name), usable_low=usable_low_c if name == "core_temperature_c" else None)
        drawn.add_row(
            words,
            measured(name, attribute.mean),
            measured_range(name, low, high),
            window,
            chance(attribute.chance_inside),
            chance(attribute.chance_true_inside),
        )
    safe = Text(f"{chance(forecast.chance_safe)} safe to taste", style="bold red" if forecast.chance_safe < 0.9 else "")
    return Group(drawn, Text(f"{chance(forecast.chance_all_inside)} inside every window at once"), safe)


def proposal_parts(record: ProposalRecord, brief: Brief, *, usable_low_c: float | None) -> list[RenderableType]:
    """A proposal: program to key in, reasons, forecast."""
    purpose = PURPOSE_WORDS[record.proposal.purpose]
    parts: list[RenderableType] = [program_table(record.program, title=f"Proposal {record.number} ({purpose}, {record.state})")]
    parts.append(sentences(record.proposal.reasons))
    parts.append(forecast_table(record.proposal.forecast, brief, usable_low_c=usable_low_c))
    if record.decision:
        parts.append(Text(f"{record.decision.decision} by {record.decision.decided_by}: {record.decision.reason}"))
    return parts


def cooks_parts(records: Sequence[CookRecord]) -> list[RenderableType]:
    """Cooks in the order of logging, and the programs they were cooked with under one letter each."""
    drawn = table(
        "Cook", "Program", "Core", "Brown.", "Text.", "Moist.", "Loss", "Verdict", "Windows", "Counts", right=("Cook",)
    )
    letters: dict[str, str] = {}
    for record in records:
        cook = record.cook
        lowest = min(cook.readings_c) if cook.readings_c else None
        program = in_short(cook.done_program) if cook.done_program else "benchmark, as it is cooked now"
        letter = letters.setdefault(program, _letter(len(letters)))
        drawn.add_row(
            str(record.number),
            letter,
            measured("core_temperature_c", lowest),
            *(measured(name, cook.panel_mean(name)) for name in SCORES),
            measured("cook_loss_pct", cook.cook_loss_pct),
            Text(SHORT_VERDICTS[record.verdict.status], style=VERDICT_STYLES[record.verdict.status]),
            OUTCOME_WORDS[record.outcome.result],
            "yes" if record.counts else "no",
        )
    return [drawn, Text("\n".join(f"{letter}  {program}" for program, letter in letters.items()))]


def _letter(index: int) -> str:
    """A, B, ... Z, AA, AB, ..."""
    text = ""
    index += 1
    while index:
        index, place = divmod(index - 1, 26)
        text = chr(ord("A") + place) + text
    return text


def verdict_parts(verdict: Verdict, cautions: Sequence[Caution]) -> list[RenderableType]:
    """What the readings allow, why, and those of the cautions that go with it."""
    parts: list[RenderableType] = [Text(verdict_words(verdict), style=VERDICT_STYLES[verdict.status])]
    if verdict.reasons:
        parts.append(sentences(verdict.reasons))
    codes = VERDICT_CAUTIONS[verdict.status]
    parts.extend(Text(f"{caution.code} {caution.text}", style="bold") for caution in cautions if caution.code in codes)
    return parts


def assessment_parts(assessment: Assessment) -> list[RenderableType]:
    """Where a development stands and what to do next."""
    passed = f"{assessment.confirmations.passed} confirmations passed, {assessment.confirmations.needed} needed"
    drawn = Table.grid(padding=(0, 2))
    drawn.add_row("State", Text(f"{STATUS_WORDS[assessment.status]}, {passed}"))
    drawn.add_row("Reliable", Text(f"{chance(assessment.chance_reliable)} chance that 9 of 10 further cooks truly lie inside"))
    drawn.add_row("Cooks left", Text(cooks_left_words(assessment)))
    parts: list[RenderableType] = [drawn, sentences(assessment.advice)]
    if assessment.best_program is not None:
        parts.append(program_table(assessment.best_program, title="Best program so far"))
    return parts


def feasibility_parts(feasibility: Feasibility) -> list[RenderableType]:
    """Whether a brief can be met, what stands in the way, and what to relax first."""
    parts: list[RenderableType] = [
        Text(f"Can it be met? {feasibility.possible}. A perfect program passes one cook in {chance(feasibility.pass_chance)}.")
    ]
    if feasibility.obstacles:
        parts += [heading("In the way"), sentences(feasibility.obstacles)]
    if feasibility.relaxations:
        parts += [heading("To relax, cheapest first"), sentences(feasibility.relaxations)]
    return parts


def view_heading(view: DevelopmentView) -> Text:
    """Dish, customer, oven and version of the brief in one line."""
    customer = f" for {view.customer}" if view.customer else ""
    return heading(f"{view.dish}{customer}, {view.oven.name}, brief version {view.brief_version} ({view.id[:8]})")
