"""What a diagnosis says. All frozen, all with a JSON form."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from tuner.domain import Program
from tuner.domain.model import Flag, Model, Number, Text, Whole
from tuner.learning.suspects import CauseName


class Symptom(Model):
    """What is wrong with one attribute.

    `beyond` is how far it lies outside its window, or where it is inside (`outside` false) from its forecast, in the
    attribute's unit; `standard_errors` the same in standard errors of one cook.
    """

    attribute: Text
    side: Literal[-1, 1]
    words: Text
    beyond: Number
    standard_errors: Number
    outside: Flag


class Cause(Model):
    """A possible cause with its share in what is wrong (0 to 1), evidence for and against, and what to check."""

    cause: CauseName
    share: Number = Field(ge=0, le=1)
    evidence_for: tuple[Text, ...]
    evidence_against: tuple[Text, ...]
    checks: tuple[Text, ...]


class OwnEffect(Model):
    """What a rule's levers do here by the development's own cooks: change of an attribute with an 80 % range."""

    attribute: Text
    change: Number
    low: Number
    high: Number


class Remedy(Model):
    """A rule of the trade for the signs.

    `program` is the last program with the rule's levers moved by the usual size (maybe off the oven's steps), `effects` what
    that changes by this development's cooks (empty before there are enough), `times` by how much of the usual size the worst
    symptom would be put right, `hits` of `tries` how often it was borne out here.
    """

    rule: Whole
    levers: tuple[Text, ...]
    advice: Text
    costs: Text
    basis: Text
    program: Program | None
    effects: tuple[OwnEffect, ...]
    times: Number | None
    hits: Whole
    tries: Whole


class Diagnosis(Model):
    """Causes of what is wrong with a cook, the likeliest first, and rules for its signs.

    `cook` is its number among the cooks with a program. Without symptoms nothing is wrong. `repeat_first`: it may well be
    chance, so cook the same again before changing anything. `conflicts` names rules that pull a lever both ways.
    """

    cook: Whole
    symptoms: tuple[Symptom, ...]
    causes: tuple[Cause, ...]
    repeat_first: Flag
    remedies: tuple[Remedy, ...]
    conflicts: tuple[Text, ...]
