"""What is kept of a proof: the plan as it was fixed, what was left out of it, and its result."""

from __future__ import annotations

import hashlib
import json
from typing import Literal

from pydantic import Field

from tuner.domain.model import Flag, Model, Number, Text, Whole
from tuner.domain.program import Program
from tuner.domain.results import Chance

PlanPartName = Literal["map", "stress", "worst corner", "over ovens"]
PlanStrength = Literal["light", "standard", "full"]


class PlanSlot(Model):
    """One cook of a plan: when, where and at what condition.

    `oven` is a serial number or, where it is not known yet, a label that the first cook on it binds. `contingent` cooks are
    done only if the worst corner's values turn out not to be normal.
    """

    number: Whole = Field(ge=1)
    part: PlanPartName
    condition: Text
    day: Whole = Field(ge=1)
    oven: Text
    hot: Flag = False
    start_temperature_c: Number
    mass_g: Number = Field(gt=0)
    load: Whole = Field(default=1, ge=1)
    person: Text
    lot: Text
    places: Whole = Field(ge=1)
    scored: Flag = False
    contingent: Flag = False


class PlanSetting(Model):
    """Where and with what a plan is cooked.

    `ovens` are serial numbers (or names), the weakest first; missing ones are named by the first cook on them. The worst corner
    is `coldest_c`, `heaviest_g` and `greatest_load`, the hardest that the card will allow; left out, they follow from the
    brief's tolerance, or 3 K and 5 %. `three_ovens` makes a full plan of 3 ovens x 10 cooks where 6 can't be had: the same
    test, weaker evidence. `strength` may only be stronger than the food class asks for. `seed` draws the order.
    """

    ovens: tuple[Text, ...] = ()
    people: tuple[Text, ...] = ()
    lots: tuple[Text, ...] = ()
    coldest_c: Number | None = Field(default=None, ge=-40, le=60)
    heaviest_g: Number | None = Field(default=None, gt=0, le=20000)
    greatest_load: Whole = Field(default=1, ge=1, le=50)
    three_ovens: Flag = False
    strength: PlanStrength | None = None
    seed: Whole = Field(default=0, ge=0)


class FixedPlan(Model):
    """A proof plan, fixed before its first cook: nothing in it changes afterwards.

    `chance_to_accept` gives for each part the chance that it accepts a recipe of which a share of cooks lies below
    limit + guard at that condition; over ovens once for ovens that do not differ, once for ovens that make up half of the
    variance.
    """

    strength: PlanStrength
    program: Program
    attempt: Whole = Field(ge=1)
    cause: Text | None = None
    confidence: Number = Field(gt=0, lt=1)
    coverage: Number = Field(gt=0, lt=1)
    days: Whole = Field(ge=1)
    ovens: Whole = Field(ge=1)
    cooks_each: Whole = Field(ge=1)
    seed: Whole
    brief_version: Whole = Field(ge=1)
    brief_hash: Text
    slots: tuple[PlanSlot, ...]
    chance_to_accept: dict[Text, dict[float, Chance]]
    remarks: tuple[Text, ...] = ()

    @property
    def hash(self) -> str:
        """SHA-256 of the plan: what was fixed, and nothing else, has it."""
        text = json.dumps(self.model_dump(mode="json"), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        return hashlib.sha256(text.encode()).hexdigest()

    @property
    def cooks(self) -> int:
        """Cooks that are certainly to be done."""
        return sum(not slot.contingent for slot in self.slots)

    def slot(self, number: int) -> PlanSlot | None:
        """One slot, None where the plan has no such number."""
        return next((slot for slot in self.slots if slot.number == number), None)
