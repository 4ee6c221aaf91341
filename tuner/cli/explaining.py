"""Commands that explain: why a cook came out as it did, and what the model of a development learned."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from rich.text import Text

from tuner import services
from tuner.cli import tables
from tuner.cli.entry import UsageError
from tuner.cli.session import chosen_cook, chosen_development, opened, viewed
from tuner.cli.words import ATTRIBUTE_WORDS, chance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from tuner.cli.output import Output
    from tuner.services.diagnosing import Diagnosis, Remedy
    from tuner.services.model_cards import ModelCard

CAUSE_WORDS = {
    "program": "the program",
    "keyed_in": "keyed in otherwise",
    "start_temperature": "start temperature",
    "portion_mass": "mass",
    "rest": "the rest",
    "reading": "the reading",
    "oven": "the oven",
    "lot": "the lot",
    "panel": "the panel",
    "load": "the load",
    "interruption": "a break",
    "chance": "chance",
}
_LEAST_SHARE = 0.05
"""A cause with a smaller share is left to the JSON answer."""


def diagnose(arguments: argparse.Namespace, output: Output) -> int:
    """Say why a cook came out as it did."""
    signs = services.diagnosis_signs()
    if arguments.signs:
        output.answer(signs, lambda: [_signs_table(signs)])
        return 0
    unknown = [sign for sign in arguments.seen if sign not in signs]
    if unknown:
        raise UsageError(f"no sign is called {unknown[0]!r}. `tuner diagnose --signs` lists them.")
    with opened(arguments) as session:
        view = viewed(session, arguments.development)
        cook_id = chosen_cook(view, arguments.cook).id if arguments.cook else None
        found = services.diagnose_cook(
            session.space, session.who, development_id=view.id, cook_id=cook_id, seen=tuple(arguments.seen)
        )
    output.answer(found, lambda: _diagnosis(found))
    return 0


def model(arguments: argparse.Namespace, output: Output) -> int:
    """Say what the model of a development learned."""
    with opened(arguments) as session:
        development = chosen_development(session, arguments.development)
        card = services.view_model_card(session.space, session.who, development_id=development)
    output.answer(card, lambda: _card(card))
    return 0


def _signs_table(signs: dict[str, str]) -> RenderableType:
    drawn = tables.table("Sign", "What was seen")
    for sign, words in signs.items():
        drawn.add_row(sign, words)
    return drawn


def _diagnosis(found: Diagnosis) -> Iterator[RenderableType]:
    if not found.symptoms and not found.remedies:
        yield Text("Nothing is wrong with this cook: every measured window is met, as far as measuring can tell.")
        return
    yield tables.heading("What is wrong")
    yield tables.sentences(symptom.words for symptom in found.symptoms)
    if found.repeat_first:
        yield Text("It may well be chance: cook the same program again before changing anything.", style="bold")
    drawn = tables.table("Cause", "Share", "For and against", "Check first", right=("Share",))
    for cause in found.causes:
        if cause.share >= _LEAST_SHARE:
            evidence = [*(f"+ {text}" for text in cause.evidence_for), *(f"- {text}" for text in cause.evidence_against)]
            drawn.add_row(CAUSE_WORDS[cause.cause], chance(cause.share), "\n".join(evidence), "\n".join(cause.checks))
    yield drawn
    if found.remedies:
        yield tables.heading("The trade's rules for it, if it is the program")
        yield tables.sentences(_remedy(remedy) for remedy in found.remedies)
    yield tables.sentences(found.conflicts, mark="!")


def _remedy(remedy: Remedy) -> str:
    advice = ", ".join([*remedy.levers, *([remedy.advice] if remedy.advice else [])])
    return f"Rule {remedy.rule}: {advice}. It costs {remedy.costs}." if remedy.costs else f"Rule {remedy.rule}: {advice}."


def _short(value: float) -> str:
    """Three digits, without an exponent."""
    return f"{value:.0f}" if abs(value) >= 100 else f"{value:.3g}"


def _number(value: float | None, digits: int = 2) -> str:
    return "" if value is None else f"{value:.{digits}f}"


def _card(card: ModelCard) -> Iterator[RenderableType]:
    yield tables.heading(f"{card.dish} on {card.oven}: {card.cooks} cooks, {card.earlier_developments} earlier developments")
    drawn = tables.table("What", "Before", "Now (4 in 5)", "Learned", right=("Before", "Now (4 in 5)", "Learned"))
    for parameter in sorted(card.parameters, key=lambda one: -one.learned):
        before, now = parameter.before, parameter.now
        unit = "" if parameter.unit == "-" else f" {parameter.unit}"
        drawn.add_row(
            parameter.words,
            f"{_short(before.low)} to {_short(before.high)}",
            f"{_short(now.low)} to {_short(now.high)}{unit}",
            chance(parameter.learned),
        )
    yield drawn
    held = tables.table("Forecasts", "Inside 80 % range", "Typical error", "Left-one-out error", right=("Typical error",))
    for line in card.attributes:
        held.add_row(
            ATTRIBUTE_WORDS.get(line.attribute, line.attribute),
            f"{line.covered} of {line.forecasts}",
            _number(line.typical_error),
            _number(line.left_out_error),
        )
    yield held
    if card.tangled:
        yield tables.heading("What the cooks could not tell apart")
        yield tables.sentences(tangle.words for tangle in card.tangled)
    yield tables.sentences(card.notes)
