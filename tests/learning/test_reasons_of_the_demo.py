"""Reasons read back as plain text: every number in them is found again as a difference of two forecasts, to its last digit."""

import json
import re
from pathlib import Path

import pytest

import tuner
from tests.demo.conftest import standing
from tuner.learning.levers import LEVERS, lever_values

DEMO = Path(__file__).resolve().parents[2] / "trials_demo" / "demo.json"
NUMBER = r"[+-]?\d+(?:\.\d+)?"
ATTRIBUTES = {
    "core": "core_temperature_c", "browning": "browning", "texture": "texture", "moisture": "moisture",
    "cook loss": "cook_loss_pct",
}  # fmt: skip
OF_AN_ATTRIBUTE = re.compile(rf"\b({'|'.join(ATTRIBUTES)}) ({NUMBER})")
OF_A_LEVER = re.compile(rf"({'|'.join(re.escape(lever.words) for lever in LEVERS)}) by ({NUMBER})")
VALUES = ("Expected:", "Expected again:", "Expected before any cook:", "This one comes nearest")
CHANGES = ("Expected from it:",)


def _developments():
    document = json.loads(DEMO.read_text(encoding="utf-8"))
    ovens = {oven["name"]: tuner.Oven.model_validate(oven) for oven in document["ovens"]}
    return {
        entry["brief"]["dish"]: (tuner.Brief.model_validate(entry["brief"]), ovens[entry["oven"]], standing(entry["cooks"]))
        for entry in document["developments"]
    }


def _recomputed(sentence, brief, oven, cooks, program):
    """Every number of a sentence with what it must be, from the public forecast alone."""
    programs = [cook.done_program for cook in cooks if cook.done_program is not None]
    last = programs[-1] if programs else program
    new, old = tuner.forecast(brief, oven, cooks, [program, last])
    found = []
    for words, number in OF_AN_ATTRIBUTE.findall(sentence):
        mean = new.attributes[ATTRIBUTES[words]].mean
        if sentence.startswith(CHANGES):
            found.append((number, mean - old.attributes[ATTRIBUTES[words]].mean))
        else:
            assert sentence.startswith(VALUES), sentence
            found.append((number, mean))
    by_words = {lever.words: lever.name for lever in LEVERS}
    for words, number in OF_A_LEVER.findall(sentence):
        assert sentence.startswith("Change "), sentence
        name = by_words[words]
        found.append((number, lever_values(program)[name] - lever_values(last)[name]))
    return found


@pytest.mark.parametrize("dish", _developments())
@pytest.mark.parametrize("share", [0.0, 0.3, 0.6, 1.0])
def test_every_number_in_the_demos_reasons_is_recomputed_from_the_text(dish, share):
    brief, oven, every = _developments()[dish]
    cooks = every[: round(share * len(every))]
    for proposal in tuner.propose(brief, oven, cooks, count=2):
        assert 2 <= len(proposal.reasons) <= 4
        for sentence in proposal.reasons:
            plain = re.sub(r"\(.*?\)", "", sentence)
            found = _recomputed(plain, brief, oven, cooks, proposal.program)
            assert sorted(number for number, _ in found) == sorted(re.findall(NUMBER, plain)), sentence
            for number, value in found:
                digits = len(number.partition(".")[2])
                assert float(number) == pytest.approx(round(value, digits) + 0.0, abs=1e-9), sentence
