"""What a column of a cook log can hold, and the rules by which headings name it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from tuner.exchange.heading_words import Said

ValueKind = Literal["temperature", "mass", "duration", "percent", "score", "when", "flag", "text", "whole", "stages", "none"]
Level = Literal["cook", "stage", "place", "taster"]


@dataclass(frozen=True, slots=True)
class FieldOf:
    """One thing a column can hold.

    Attributes
    ----------
    name
        Stable name, used in mappings.
    words
        The same for a person.
    kind
        How its values are read.
    level
        What there is one value of: a cook, a stage, a place of the thermometer, or a taster.
    """

    name: str
    words: str
    kind: ValueKind
    level: Level = "cook"


FIELDS: dict[str, FieldOf] = {
    field.name: field
    for field in (
        FieldOf("cook_id", "number of the cook", "text"),
        FieldOf("dish", "dish", "text"),
        FieldOf("oven_name", "oven", "text"),
        FieldOf("oven_serial", "serial number of the oven", "text"),
        FieldOf("cooked_at", "day and time of the cook", "when"),
        FieldOf("cooked_on", "day of the cook", "when"),
        FieldOf("cooked_time", "time of day of the cook", "when"),
        FieldOf("thermometer_checked_at", "when the thermometer was checked", "when"),
        FieldOf("program", "stages of the program, in one cell", "stages"),
        FieldOf("program_set", "program keyed in, where it differs from the one ordered", "stages"),
        FieldOf("program_name", "name of the program", "text"),
        FieldOf("air_temperature", "air temperature of the program", "temperature"),
        FieldOf("duration", "duration of the program", "duration"),
        FieldOf("stage_number", "number of the stage", "whole", "stage"),
        FieldOf("stage", "one stage, in one cell", "stages", "stage"),
        FieldOf("stage_share", "share of the time of a stage", "percent", "stage"),
        FieldOf("stage_air", "air speed of a stage", "percent", "stage"),
        FieldOf("stage_microwave", "microwave of a stage", "percent", "stage"),
        FieldOf("mass_in", "mass before cooking", "mass"),
        FieldOf("mass_out", "mass after cooking", "mass"),
        FieldOf("loss", "cook loss", "percent"),
        FieldOf("yield", "mass after cooking as a share of mass before", "percent"),
        FieldOf("start_temperature", "start temperature", "temperature"),
        FieldOf("core", "core temperature", "temperature", "place"),
        FieldOf("place", "place of the thermometer", "text", "place"),
        FieldOf("rest", "rest", "duration"),
        FieldOf("rest_covered", "rest covered or not", "flag"),
        FieldOf("held", "time held at the limit", "duration"),
        FieldOf("completed", "completed or not", "flag"),
        FieldOf("interrupted", "interrupted or not", "flag"),
        FieldOf("interrupted_by", "what interrupted the cook", "text"),
        FieldOf("taster", "taster", "text", "taster"),
        FieldOf("browning", "browning score", "score", "taster"),
        FieldOf("texture", "texture score", "score", "taster"),
        FieldOf("moisture", "moisture score", "score", "taster"),
        FieldOf("other_score", "another score", "score", "taster"),
        FieldOf("scores", "scores, in one cell", "text", "taster"),
        FieldOf("purpose", "purpose of the cook", "text"),
        FieldOf("lot", "lot", "text"),
        FieldOf("load", "portions cooked together", "whole"),
        FieldOf("cook_name", "who cooked", "text"),
        FieldOf("note", "note", "text"),
        FieldOf("photo", "photo", "text"),
        FieldOf("seconds_since_last_cook", "time since the last cook", "duration"),
        FieldOf("serving_age", "time from the oven to the tasting", "duration"),
        FieldOf("history", "where the cook came from", "text"),
        FieldOf("computed", "a mean or sum, left out", "none"),
        FieldOf("ignore", "not used", "none"),
    )
}
"""Everything a column can hold, by name."""

_RULES = """
cook_id 4 id | 6 cook id | 3 cook | 6 program id
cook_name 6 person | 3 cook | 7 cook person
taster 5 taster | 6 taster id | 6 taster person
dish 5 dish | 6 dish person | 6 dish id
oven_name 3 oven | 6 oven person | 6 oven id
oven_serial 7 serial | 9 oven serial
cooked_at 9 date clock | 10 date clock cook | 5 date time
cooked_on 5 date | 6 date cook | 6 date id
cooked_time 6 clock | 2 start | 5 start time | 7 start clock | 3 time | 4 cook time
thermometer_checked_at 9 thermometer check | 4 thermometer | 4 check | 5 check time | 6 check date | 8 check clock
    date
program 5 program | 5 stage | 8 program stage | 7 air microwave | 9 air microwave share | 9 stage air microwave | 9
    program air microwave | 11 stage air microwave share | 11 program air microwave share | 6 program power | 9
    program share time
program_set 12 program actual | 12 stage air microwave actual | 13 stage air microwave share actual | 12 air microwave share actual | 11
    air microwave actual | 6 actual
program_name 5 program | 8 program person | 8 program id
air_temperature 8 air temp | 8 oven temp | 5 cavity | 8 cavity temp | 7 set temp | 8 set temp air | 8 set temp oven |
    7 program temp | 4 cook temp | 2 temp | 2 oven | 3 set
duration 4 time | 8 time total | 8 time program | 8 time cook | 6 time oven | 6 time set | 3 seconds | 3 total | 6
    cook total | 7 total seconds | 6 cook seconds | 4 program seconds
stage_number 4 stage | 8 stage id
stage 6 stage | 8 stage program | 9 stage air microwave | 10 stage air microwave share
stage_share 5 share | 9 stage share | 8 stage time | 8 share time | 8 stage seconds | 9 stage until | 8 stage time
    start | 5 until | 6 until time | 7 stage end
stage_air 5 air | 8 air speed | 4 speed | 6 air power | 6 air level | 9 stage air | 10 stage air speed | 7 stage speed
    | 6 air set | 7 air oven
stage_microwave 5 microwave | 8 microwave power | 4 power | 7 microwave level | 9 stage microwave | 10 stage microwave
    power | 8 stage power | 6 microwave set | 5 microwave oven
mass_in 5 mass | 9 mass start | 8 mass portion | 9 mass portion start | 3 portion | 3 start | 6 mass dish | 5 start
    portion
mass_out 9 mass end | 10 mass end portion | 10 mass end cook | 12 mass end rest | 10 mass rest | 3 end | 5 end portion
    | 6 mass cook
loss 6 loss | 9 loss mass | 8 loss cook | 10 loss cook mass
yield 6 yield | 8 yield cook | 8 yield mass
start_temperature 9 start temp | 9 portion temp | 10 portion start temp | 3 start | 6 dish temp | 2 temp | 5 start
    portion | 11 core temp start | 9 core start
core 2 end | 6 core | 10 core temp | 7 end temp | 9 core end | 11 core end temp | 9 core rest | 12 core rest temp | 11 core
    end rest | 13 core end temp rest | 10 end temp rest | 9 temp rest | 8 core extreme | 11 core extreme temp | 6 temp
    extreme | 9 core place | 11 core place temp | 8 temp place | 9 core id | 11 core id temp | 2 temp | 11 core temp
    thermometer | 7 core thermometer | 7 temp thermometer | 11 core temp cook | 9 end temp cook | 7 end temp portion |
    12 core end temp portion | 11 core temp portion | 11 core temp value | 7 core value
place 5 place | 8 place core | 9 place thermometer | 9 place core thermometer
rest 7 rest | 10 rest time | 10 rest seconds | 12 rest time end | 9 rest end | 12 rest time cook | 11 rest cook
rest_covered 7 covered | 12 covered rest | 13 covered rest time
held 6 hold | 9 hold time | 9 hold seconds | 12 hold temp time
completed 6 completed | 8 completed cook | 7 completed program
interrupted 7 interrupted | 8 interrupted cook
interrupted_by 10 interrupted reason | 6 reason | 9 interrupted note | 10 interrupted person
browning 7 browning | 9 browning score | 9 browning taster | 11 browning score taster
texture 7 texture | 9 texture score | 9 texture taster | 11 texture score taster
moisture 7 moisture | 9 moisture score | 9 moisture taster | 11 moisture score taster
other_score 5 other | 8 other score | 8 other taster | 9 other score taster
scores 4 score | 6 score taster
purpose 5 purpose | 6 purpose cook
lot 6 lot | 7 lot id | 8 lot portion
load 5 load | 7 load portion | 7 load id | 6 load cook
note 6 note | 7 note cook
photo 5 photo
seconds_since_last_cook 5 since | 9 since cook | 8 since time | 11 since cook time | 9 since seconds | 12 since cook
    seconds
serving_age 5 serving | 9 serving age | 9 serving time | 5 age | 11 serving age time | 8 serving seconds | 11 serving
    age seconds
history 6 history
"""


def _rules() -> tuple[tuple[str, int, frozenset[str]], ...]:
    rules = []
    for line in _RULES.replace("\n    ", " ").strip().splitlines():
        name, _, listed = line.partition(" ")
        for rule in listed.split("|"):
            weight, *things = rule.split()
            rules.append((name, int(weight), frozenset(things)))
    return tuple(rules)


RULES = _rules()
SUPERSEDED = "superseded"
"""Column of the tidy CSV whose rows are no cooks of their own where it says yes."""
_EXCLUSIVE = frozenset({"mean"})
_ATTRIBUTE_THINGS = frozenset({"browning", "texture", "moisture", "other"})
STRONG = 5
"""Weight from which a heading names its field without help from the values."""


_OWN = dict.fromkeys(
    (
        "development_id",
        "customer",
        "development_state",
        "development_oven",
        "entry_id",
        "corrects_entry",
        "correction_reason",
        "logged_at",
        "logged_by",
        "cook_loss_pct",
        "trace_samples",
        SUPERSEDED,
    ),
    "ignore",
) | {"program_set": "program_set", "cook_number": "cook_id", "further_scores": "scores"}
"""Columns of our own tidy CSV whose names would mean something else in a log."""


def _beside_the_cook(things: frozenset[str]) -> bool:
    """Whether a heading names what is no measure of the cook: a target, a room, a tray, the end on the clock."""
    if "aside" in things and things & {"temp", "core", "mass", "moisture"}:
        return True
    if "wanted" in things:
        return not things & {"oven", "air", "cavity", "program", "note", "purpose"}
    return (
        bool(things & {"time", "clock"})
        and "end" in things
        and not things & {"rest", "stage", "share", "total", "lasts", "cook"}
    )


def _contradicted(name: str, heading: Said) -> bool:
    """Whether a heading says more than a field of that name would: "Batch temp" is no lot, "Garzeit" no time of day."""
    if name == "cooked_time":
        return "lasts" in heading.things
    return name in _NEVER_WARM and "temp" in heading.things


_NEVER_WARM = frozenset({"lot", "load", "dish", "cook_name", "oven_serial", "photo", "note", "purpose"})


def candidates(heading: Said) -> tuple[tuple[str, float], ...]:
    """Fields a heading may name, best first, with weights; empty where it says nothing known.

    A thing that the rule leaves out costs a little, so that the rule that explains most of the heading wins.
    """
    own = heading.text.strip().lower()
    if own in _OWN:
        return ((_OWN[own], 30.0),)
    things = heading.things
    if "share" in things and heading.numbers and len(things & {"air", "microwave"}) == 1:
        heading = replace(heading, things=things - {"share"} | {"stage"})  # "Part 1 air" is a stage's air, not a share
        things = heading.things
    measured = things & {"core", "browning", "texture", "moisture", "mass", "loss"}
    if "mean" in things or (measured and "microwave" in things) or {"total", "score"} <= things:
        return (("computed", 20.0),)  # "MW" beside a measure is the German mean, not the microwave
    if _beside_the_cook(things):
        return (("ignore", 20.0),)
    if "reversed" in heading.things:
        return (("other_score", 9.0),)
    if len(heading.things & {"browning", "texture", "moisture"}) > 1:
        return (("scores", 12.0),)
    best: dict[str, float] = {}
    for name, weight, things in RULES:
        if things <= heading.things and not _contradicted(name, heading):
            unexplained = len(heading.things - things - {"lasts", "wanted"})
            best[name] = max(best.get(name, 0.0), weight - 0.6 * unexplained)
    return tuple(sorted(best.items(), key=lambda pair: -pair[1]))
