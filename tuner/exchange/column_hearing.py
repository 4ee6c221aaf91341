"""What a column's heading says in the light of the groups above it and of its unit."""

from __future__ import annotations

from dataclasses import replace

from tuner.exchange.fields import candidates
from tuner.exchange.heading_words import Said, said
from tuner.exchange.quantity_text import UNITS
from tuner.exchange.table import Column

_REFINES = frozenset(
    "start end temp portion program stage taster score set oven cook total time seconds extreme place id thermometer".split()
)
"""Things by which a group says more about the heading below it; others only group."""


_OF_STAGES = frozenset("share air microwave time seconds power speed level program until".split())


_ALONE = {"temp": UNITS["temperature"], "mass": UNITS["mass"], "time": (*UNITS["duration"], "mm:ss")}
"""What a heading of nothing but a unit names."""


_WARM = frozenset({"core", "start", "end", "oven", "cavity", "air", "set", "portion", "program", "place"})


def heard_from(column: Column) -> Said:
    """What a column's own heading says, refined by the groups above it."""
    leaf = said(column.leaf)
    if not column.groups:
        return with_unit(leaf)
    group = said(" ".join(column.groups))
    has_field = bool([name for name, weight in candidates(leaf) if weight >= 4.5])
    things = leaf.things | (group.things & _REFINES if has_field else group.things)
    if "stage" in group.things and has_field and not leaf.things & _OF_STAGES:
        things -= {"stage"} - leaf.things
    if leaf.things & {"air", "microwave", "share", "speed", "power", "stage"}:
        things -= {"program"} - leaf.things
    if leaf.things & {"mean"}:
        things = leaf.things
    told = group.things & {
        "stage",
        "taster",
        "core",
        "score",
        "browning",
        "texture",
        "moisture",
        "place",
        "thermometer",
        "program",
    }
    unit, bare = (leaf.unit, leaf.bare) if leaf.unit else (group.unit, group.bare)
    refined = Said(
        things=frozenset(things),
        order=(*group.order, *(thing for thing in leaf.order if thing not in group.order)),
        numbers=leaf.numbers or (group.numbers if told else ()),
        rest=(*leaf.rest, *group.rest),
        unit=unit,
        bare=bare,
        scale=leaf.scale or group.scale,
        text=column.heading,
    )
    return with_unit(refined)


def with_unit(heading: Said) -> Said:
    """A unit says what is measured where words do not: "Air °C" is a temperature, "Stage 1 s" a time, "Before (g)" a mass."""
    things = heading.things
    if not things and heading.unit and not heading.numbers and heading.bare == heading.text.strip():
        kind = next((thing for thing, units in _ALONE.items() if heading.unit in units), "")
        things = frozenset({kind}) if kind else things
    elif heading.unit in UNITS["temperature"] and things & _WARM:
        things |= {"temp"}
    elif heading.unit in UNITS["mass"] and things & {"start", "end", "portion"} and not things & {"core", "loss"}:
        things |= {"mass"}
    elif (heading.unit in (*UNITS["duration"], "mm:ss") and things and things <= {"oven", "program", "cook", "set"}) or (
        heading.unit in (*UNITS["duration"], "mm:ss") and things == {"stage"}
    ):
        things |= {"time"}
    elif heading.unit in ("%", "fraction") and (things == {"stage"} or "time" in things):
        things |= {"share"}
    return replace(heading, things=things) if things != heading.things else heading
