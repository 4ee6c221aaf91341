"""Air speeds and microwave levels: per cent, fractions, steps of ten, or watts; told, plain from the values, or asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tuner.exchange.asking import Asker, listed
from tuner.exchange.mapping import LEAVE_OUT, Expected

OF_TEN = "steps of ten (8 is 80 %)"
METRES = "metres a second of the oven's top speed"
WATTS = "watts of the rated power"
PER_CENT = "per cent"
FRACTION = "fractions (0.8 is 80 %)"
_UNIT_OF = {OF_TEN: "of 10", WATTS: "W", METRES: "m/s", PER_CENT: "%", FRACTION: "fraction", LEAVE_OUT: LEAVE_OUT}


@dataclass(frozen=True, slots=True)
class Levels:
    """Columns of one kind of level (air speed or microwave), all stages together.

    Attributes
    ----------
    field
        `stage_air` or `stage_microwave`.
    columns
        Where they stand.
    told
        Unit that headings tell, empty where they do not.
    values
        All numbers, without those that carry a unit of their own.
    """

    field: str
    columns: tuple[int, ...]
    told: str
    values: tuple[float, ...]

    @property
    def words(self) -> str:
        """What it is, for a question."""
        return {"stage_air": "air speed", "stage_microwave": "microwave"}.get(self.field, "air speed and microwave")


def choose_levels(groups: Sequence[Levels], expected: Expected, asker: Asker) -> dict[int, str | None]:
    """Unit of each column: "%", "fraction", "of 10" or "W"; None where in doubt, and `leave it out` where so answered."""
    everything = [value for group in groups if not group.told for value in group.values]
    fractions = bool(everything) and max(everything) <= 1 and any(value != int(value) for value in everything)
    per_cent = any(10 < _usual_top(group.values) <= 100 for group in groups)
    chosen: dict[int, str | None] = {}
    together = [group for group in groups if not group.told and 1 < _usual_top(group.values) <= 10]
    if len(together) > 1 and not per_cent:  # one question for both
        columns = tuple(column for group in together for column in group.columns)
        values = tuple(value for group in together for value in group.values)
        return dict.fromkeys(columns, _choose(Levels("levels", columns, "", values), expected, asker))
    for group in groups:
        alike = per_cent and not group.told and 1 < max(group.values, default=0) <= 10  # nobody uses two systems in one log
        unit = "fraction" if fractions and not group.told else "%" if alike else _choose(group, expected, asker)
        chosen.update(dict.fromkeys(group.columns, unit))
    return chosen


def _choose(group: Levels, expected: Expected, asker: Asker) -> str | None:
    top = _usual_top(group.values)
    if group.told == "%" and top <= 100:
        fractions = group.values and 0 < top <= 1 and any(value != int(value) for value in group.values)
        return "fraction" if fractions else "%"
    if group.told == "fraction":
        return "fraction"
    if group.told in ("W", "kW") or (group.field == "stage_microwave" and top > 100):
        return _watts(group, expected, asker)
    if group.told == "m/s" and expected.air_speed_max_m_s:
        text = f"The air speed stands in m/s. Take it as parts of the oven's top speed of {expected.air_speed_max_m_s:g} m/s?"
        return _ask(group, asker, [METRES, LEAVE_OUT], text)
    if group.told in ("m/s", "rpm") or top > 100:
        return _ask(
            group,
            asker,
            [LEAVE_OUT],
            f"The numbers for {group.words} go up to {top:g} {group.told}. A program holds per cent of the top speed.",
        )
    if top > 10 or not any(group.values):
        return "%"
    choices = [OF_TEN, PER_CENT] if top > 1 else [FRACTION, PER_CENT]
    return _ask(group, asker, choices, f"The numbers for {group.words} go only up to {top:g}. How are they meant?")


def _usual_top(values: Sequence[float]) -> float:
    """The highest value, single slips of the pen left aside: 120 among per cents is no watt."""
    high = [value for value in values if value > 100]
    return (
        max(values, default=0.0)
        if len(high) * 3 > len([value for value in values if value > 0])
        else max(set(values) - set(high), default=0.0)
    )


def _watts(group: Levels, expected: Expected, asker: Asker) -> str | None:
    rated = expected.microwave_rated_w
    if rated is None:
        why = "The microwave stands in watts, and the oven's rated power is not known. Add it to the oven to read them."
        return _ask(group, asker, [LEAVE_OUT], why)
    answer = _ask(
        group, asker, [WATTS, LEAVE_OUT], f"The microwave stands in watts. Take them as parts of the oven's rated {rated:g} W?"
    )
    return "kW" if answer == "W" and group.told == "kW" else answer


def _ask(group: Levels, asker: Asker, choices: Sequence[str], text: str) -> str | None:
    shown = listed([f"{value:g}" for value in group.values])
    answer = asker.ask(f"level:{group.field}", f"{text} (values: {shown})", choices, columns=group.columns)
    return _UNIT_OF.get(answer) if answer is not None else None
