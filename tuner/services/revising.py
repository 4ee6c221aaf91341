"""Which class a change has against the release it follows, what differs, and which evidence no longer holds."""

from __future__ import annotations

from dataclasses import dataclass

from tuner.domain import Brief, Oven, Program
from tuner.domain.recipe import Recipe
from tuner.domain.release import ReleaseDocument, RevisionClass
from tuner.services.brief_changes import brief_differences

MINOR_DOSE = 0.05
"""Largest relative change of a dose that is still minor."""
MINOR_COOKS = 3
CLASSES: tuple[RevisionClass, ...] = ("text", "minor", "major")
_TEXT_OF_BRIEF = frozenset(["dish", "customer", "confirmed", "budget_cooks", "tasters", "taster_sd", "cook_sd"])
_MAJOR_OF_RECIPE = ("trayware", "placement", "before")


@dataclass(frozen=True, slots=True)
class Findings:
    """What a change comes to."""

    kind: RevisionClass
    differences: tuple[str, ...]
    no_longer_holds: tuple[str, ...]


def findings_between(parent: ReleaseDocument, brief: Brief, recipe: Recipe, program: Program, oven: Oven) -> Findings:
    """Compare what would be released with its parent.

    Major: ingredients, preparation before, trayware, placement, portion, limit, rest, food class, oven's limits, number of
    stages, air temperature, a dose more than 5 % away, or any program that gives less heat. Minor: other changes of the
    program. Text: everything else.
    """
    major = [*_brief_major(parent.brief, brief), *recipe_major(parent.recipe, recipe), *_oven_major(parent.oven, oven)]
    program_major, program_minor = _program_changes(parent.program, program)
    major += program_major
    text = [line for line in brief_differences(parent.brief, brief) if line not in major]
    if parent.recipe != recipe and not recipe_major(parent.recipe, recipe):
        text.append("recipe: steps after cooking, serving or words changed")
    kind: RevisionClass = "major" if major else "minor" if program_minor else "text"
    lost = {
        "text": (),
        "minor": ("forecast and quality scores of the former program",),
        "major": ("map of the coldest place", "worst corner", "series over ovens", "operating window", "top-up", "quality"),
    }[kind]
    return Findings(kind, tuple(dict.fromkeys([*major, *program_minor, *text])), lost)


def _brief_major(old: Brief, new: Brief) -> list[str]:
    silent = set(_TEXT_OF_BRIEF)
    if old.model_dump(exclude=silent) == new.model_dump(exclude=silent):
        return []
    cut = [Brief.model_validate({**one.model_dump(exclude_unset=True), "dish": "x", "customer": None}) for one in (old, new)]
    ignored = ("tasters", "taster sd", "cook sd", "budget")
    return [line for line in brief_differences(cut[0], cut[1]) if not line.startswith(ignored)]


def recipe_major(old: Recipe, new: Recipe) -> list[str]:
    """What of a recipe changed so that what was proven is another dish, a line each."""
    found = [f"recipe, {field}: changed" for field in _MAJOR_OF_RECIPE if getattr(old, field) != getattr(new, field)]
    if _shares(old) != _shares(new):
        found.append("recipe, ingredients: changed")
    return found


def _shares(recipe: Recipe) -> list[tuple[str, float, tuple[str, ...] | None, tuple[str, ...] | None, str | None]]:
    """Ingredients for one portion: another batch size is no change of the dish."""
    portions = recipe.portions or 1
    return [
        (one.name.casefold(), round((one.amount_g or 0) / portions, 6), one.allergens, one.may_contain, one.supplier)
        for one in recipe.ingredients
    ]


def _oven_major(old: Oven, new: Oven) -> list[str]:
    kept = {"name", "serial", "checks"}
    return [] if old.model_dump(exclude=kept) == new.model_dump(exclude=kept) else ["oven: its limits or power changed"]


def doses(program: Program) -> tuple[float, float]:
    """Microwave and air dose: seconds at full power and at full speed [s]."""
    shares = [(stage.share_pct / 100, stage.microwave_pct / 100, stage.air_speed_pct / 100) for stage in program.stages]
    microwave = program.duration_s * sum(share * level for share, level, _ in shares)
    air = program.duration_s * sum(share * speed for share, _, speed in shares)
    return microwave, air


def _program_changes(old: Program, new: Program) -> tuple[list[str], list[str]]:
    if old.key == new.key:
        return [], []
    line = f"program: {_in_words(old)}, now {_in_words(new)}"
    (old_wave, old_air), (new_wave, new_air) = doses(old), doses(new)
    major = len(old.stages) != len(new.stages) or old.air_temperature_c != new.air_temperature_c
    for before, after in ((old_wave, new_wave), (old_air, new_air), (old.duration_s, new.duration_s)):
        major |= after < before or abs(after - before) > MINOR_DOSE * before + 1e-9
    return ([line], []) if major else ([], [line])


def _in_words(program: Program) -> str:
    stages = " + ".join(
        f"{one.share_pct:g} % (air {one.air_speed_pct:g}, microwave {one.microwave_pct:g})" for one in program.stages
    )
    return f"{program.air_temperature_c:g} °C, {program.duration_s:g} s, {stages}"
