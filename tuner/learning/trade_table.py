"""The trade's rules for symptoms, as data: what is seen, which lever, by how much, what it costs.

Sizes are starting values of common practice or simple calculation; a development's own slopes replace them once it has cooks
enough (`diagnosis`). A rule speaks where all of its signs are there. Signs come from the measurements, from what the brief
and the cook sheet say, and from what people at the oven tick.
"""

from __future__ import annotations

from dataclasses import dataclass

from tuner.learning.lever_moves import Move

MEASURED_SIGNS = (
    "core low", "core right", "core high", "pale", "colour right", "dark", "soft", "firm", "dry", "wet", "loss high",
    "scores right",
)  # fmt: skip
TOLD_SIGNS = (
    "frozen start", "thick and thawed", "small load", "several portions", "hot oven", "raw dough or bread", "egg", "fish",
    "plant", "other oven", "new lot", "long program", "slow switching",
)  # fmt: skip
SEEN_SIGNS = {
    "wet beads": "Wet beads stand on the surface",
    "dark rim": "The rim is dark and the middle pale",
    "dry outside": "The outer layer alone is dry",
    "icy centre": "The centre is icy while the edge is hot",
    "boiling filling": "The filling boils and the core is cold",
    "dark corners": "Corners are overdone",
    "erratic core": "The core scatters widely at the same settings",
    "first of the day": "It was the first cook of the day, pale beneath",
    "soggy base": "The base is soggy",
    "lifting crust": "The crust lifts or blisters",
    "leathery": "The bread turns leathery within minutes",
    "gummy line": "There is a gummy line, or the crumb collapses",
    "unbaked inside": "Browned, but unbaked inside",
    "bitter specks": "Bitter dark specks on something starchy",
    "pale breading": "The breading stays pale",
    "oily breading": "The breading is oily",
    "breading over raw": "The breading looks done over a raw inside",
    "burnt cheese": "The cheese burns before the base is hot",
    "white beads": "White beads and dry flakes on fish",
    "rubbery egg": "Egg is porous or rubbery",
    "limp vegetables": "Vegetables are limp and wet",
    "spitting sauce": "The sauce spits while the solid is cold",
    "cold at the site": "Right here, cold at the site",
    "peak complaints": "Right when tested, complaints at the peak",
    "small rise in rest": "The core hardly rises in a rest that counts on it",
    "drifting scores": "Scores drift while the instruments stay flat",
    "soft after rest": "Crisp at the door, soft after a covered rest",
    "uneven sides": "Left and right, or front and back, differ",
    "sparks": "Sparks, smoke or a burnt smell",
}
"""Signs that people see, with the words to tick."""

CALCULATED, PRACTICE, BOTH = "calculated", "common practice", "calculated and common practice"


@dataclass(frozen=True)
class TableRule:
    """One rule.

    Attributes
    ----------
    number
        For referring to it.
    signs
        All must be there.
    moves
        Levers of the program; none where the program is not what must change.
    advice
        What to do, in words, beside or instead of the levers.
    costs
        What it moves elsewhere, and what to guard.
    basis
        Where the size comes from.
    """

    number: int
    signs: frozenset[str]
    moves: tuple[Move, ...]
    advice: str
    costs: str
    basis: str = PRACTICE

    @property
    def changes_program(self) -> bool:
        """Whether the program is what it would change."""
        return bool(self.moves)


def _rule(number: int, signs: str, moves: tuple[Move, ...], advice: str, costs: str, basis: str = PRACTICE) -> TableRule:
    return TableRule(number, frozenset(part.strip() for part in signs.split("+")), moves, advice, costs, basis)


TRADE_TABLE: tuple[TableRule, ...] = (
    _rule(
        1,
        "core low + colour right",
        (Move("early_dose", 7, 9),),
        "more for thin portions, which air heats too",
        "edges hotter by a few degrees, a little more loss",
        BOTH,
    ),
    _rule(2, "core low + pale", (Move("duration", 8, 10),), "", "more loss; mind the time limit", BOTH),
    _rule(3, "core low + dark", (Move("early_dose", 10, 10), Move("late_air", -10, -10)), "", "a softer crust"),
    _rule(
        4,
        "core right + pale + dry",
        (Move("late_air", 10, 15),),
        "or some seconds more at the end; dose kept",
        "loss rises a little; cut the dose against it only with margin in the core",
        BOTH,
    ),
    _rule(
        5,
        "core right + pale + wet beads",
        (Move("late_to_early", -90, -90), Move("late_air", 20, 20)),
        "move that dose forward, never drop it",
        "not moved it costs core; a hotter peak",
        BOTH,
    ),
    _rule(
        6,
        "core right + dark",
        (Move("late_air", -15, -10),),
        "or some seconds less at the end, dose put back early",
        "a thinner crust",
    ),
    _rule(7, "dark rim", (Move("air", -10, -10), Move("duration_dose_kept", 5, 8)), "centre or raise the portion", "slower"),
    _rule(8, "core high + dry", (Move("dose", -9, -7),), "find the coldest place again", "the margin shrinks", BOTH),
    _rule(
        9,
        "core right + dry outside",
        (Move("air", -10, -10), Move("duration_dose_kept", -5, -5)),
        "or cover the first third",
        "paler",
    ),
    _rule(10, "core right + dry", (Move("peak", -30, -20), Move("duration_dose_kept", 10, 15)), "with a pause", "longer"),
    _rule(
        11,
        "icy centre + frozen start",
        (Move("peak", -30, -20), Move("duration_dose_kept", 20, 30)),
        "begin gently or pulsed, then ramp; or temper in the chiller",
        "longer",
        BOTH,
    ),
    _rule(
        12, "boiling filling + core low", (), "two bursts of microwave with air only between them", "longer by a quarter minute"
    ),
    _rule(
        13,
        "core low + thick and thawed",
        (),
        "flatten to 30 mm or rest longer; more microwave does not reach the middle",
        "the specification changes",
        CALCULATED,
    ),
    _rule(14, "dark corners", (Move("peak", -15, -15),), "round the shape, lay in a ring", "the specification changes"),
    _rule(15, "erratic core", (), "leave the program; check start temperature, mass, placing and reading", "none"),
    _rule(
        16,
        "first of the day",
        (),
        "warm the oven with its tray or by an air-only run",
        "energy; never microwave an empty cavity",
    ),
    _rule(
        17,
        "hot oven + core low",
        (Move("dose", 5, 14),),
        "prove on a hot oven, or leave it time to recover",
        "the first cook comes out hotter",
        BOTH,
    ),
    _rule(
        18,
        "several portions + core low",
        (),
        "a program of its own: microwave time up by half to nine tenths, finish by a tenth to a fifth, with its own proof",
        "or forbid it on the card",
    ),
    _rule(19, "small load", (Move("dose", -30, -20),), "or state a least load", "the count stands on the card"),
    _rule(
        20, "soggy base", (Move("late_to_early", -20, -20), Move("late_seconds", 10, 15)), "a hot perforated tray", "darker rim"
    ),
    _rule(
        21,
        "lifting crust",
        (Move("early_air", -15, -15),),
        "less microwave in the first quarter, put back mid-way",
        "paler: add late air",
    ),
    _rule(
        22,
        "leathery",
        (Move("dose", -25, -15), Move("late_seconds", 20, 30)),
        "keep the crumb cooler if the class allows; score at one and five minutes",
        "longer",
    ),
    _rule(
        23, "gummy line", (Move("late_to_early", -20, -20), Move("duration", 10, 10), Move("early_air", 10, 10)), "", "darker"
    ),
    _rule(
        24, "unbaked inside", (Move("early_air", -20, -15), Move("duration", 10, 15), Move("dose", 5, 10)), "", "longer", BOTH
    ),
    _rule(25, "bitter specks", (Move("late_seconds", -15, -10),), "aim a step lighter, glaze afterwards", "paler"),
    _rule(
        26,
        "pale breading",
        (Move("late_to_early", -90, -90), Move("late_air", 20, 20)),
        "a mist of oil, drier crumb",
        "a little more loss; dose kept",
    ),
    _rule(47, "oily breading", (Move("late_to_early", -90, -90), Move("late_air", 20, 20)), "no added oil, drain", "dose kept"),
    _rule(
        27,
        "breading over raw",
        (Move("early_dose", 7, 9), Move("late_air", -10, -10)),
        "never judge by colour: measure",
        "tasting waits",
    ),
    _rule(
        28,
        "burnt cheese",
        (Move("late_air", -10, -10), Move("early_dose", 10, 10)),
        "cheese colder, lower or later",
        "paler rim",
    ),
    _rule(
        29,
        "white beads + fish",
        (Move("peak", -20, -20),),
        "stop a little earlier and rest, only if the limit is proven after the rest",
        "margin",
    ),
    _rule(
        30,
        "rubbery egg",
        (Move("peak", -40, -30),),
        "low levels with pauses, hottest place at 80 °C",
        "limit and guard may leave little room: say so",
    ),
    _rule(
        31,
        "limp vegetables",
        (Move("dose", -15, -10), Move("late_air", 10, 10)),
        "one layer",
        "charred tips; not below a limit",
    ),
    _rule(
        32,
        "spitting sauce",
        (Move("peak", -20, -20), Move("duration_dose_kept", 10, 10)),
        "sauce below or at the rim, vented lid",
        "longer",
    ),
    _rule(
        33,
        "cold at the site",
        (),
        "compare the ovens' checks and translate the program; below the limit: service",
        "three check cooks",
    ),
    _rule(
        34, "peak complaints", (), "look at run length, start temperature, skipped rest and voltage before the recipe", "none"
    ),
    _rule(35, "small rise in rest", (Move("dose", 3, 5),), "insulate or cover first; else drop the credit", "over-cooking"),
    _rule(36, "drifting scores", (), "anchor the panel again with a hidden benchmark", "a session"),
    _rule(
        37,
        "new lot + core right",
        (),
        "air down or up by ten points for colour; ask for sugar, moisture, glaze, allergens",
        "look at the loss again",
    ),
    _rule(38, "slow switching", (), "merge stages, or use whole and no power in blocks", "coarser"),
    _rule(39, "core high + dark", (Move("duration", -7, -7),), "", "loss falls; margin", BOTH),
    _rule(
        40,
        "core high + pale",
        (Move("dose", -10, -7), Move("late_air", 10, 10)),
        "find the coldest place again",
        "margin",
        BOTH,
    ),
    _rule(
        41,
        "scores right + core right + long program",
        (Move("early_dose", 5, 5), Move("duration_dose_kept", -10, -10)),
        "air to full; the crust needs its time",
        "hotter edges",
        BOTH,
    ),
    _rule(
        42,
        "soft after rest",
        (Move("late_air", 10, 10),),
        "vent the cover if the rule allows, judge after the rest",
        "never shorten a rest that is required",
    ),
    _rule(43, "uneven sides", (), "an evenness sheet, turn the tray half-way, mark the position", "none"),
    _rule(
        44, "firm + plant + core right", (Move("duration_dose_kept", 10, 15),), "cover, add water or cook before", "softer skin"
    ),
    _rule(45, "sparks", (), "stop; look for metal, foil, grease, an empty cavity, a damaged door", "licensed service"),
    _rule(
        46,
        "loss high + scores right",
        (Move("peak", -15, -15), Move("late_air", -5, -5)),
        "then aim at the lower end of the core's window",
        "paler",
    ),
    _rule(48, "core low", (Move("dose", 7, 9),), "", "more loss", BOTH),
    _rule(49, "core high", (Move("dose", -9, -7),), "find the coldest place again", "the margin shrinks", BOTH),
    _rule(50, "core right + pale", (Move("late_air", 10, 15),), "dose kept", "a little more loss", BOTH),
    _rule(51, "core right + wet", (Move("late_air", 10, 10), Move("late_to_early", -50, -50)), "", "a darker crust"),
    _rule(52, "core right + firm", (Move("duration_dose_kept", -6, -4),), "", "less colour"),
    _rule(53, "core right + soft", (Move("duration_dose_kept", 4, 6),), "", "more colour and loss"),
)
"""Rules by number; those from 47 on split or round off others."""


def matching(signs: frozenset[str]) -> tuple[TableRule, ...]:
    """Rules all of whose signs are there, the most special first."""
    found = [rule for rule in TRADE_TABLE if rule.signs <= signs]
    special = [rule for rule in found if not any(rule.signs < other.signs for other in found)]
    return tuple(sorted(special, key=lambda rule: (-len(rule.signs), rule.number)))
