"""From the command line: why a cook came out as it did, and what the model learned."""

import pytest


def test_a_diagnosis_names_causes_before_cures(demo, answer, tuner):
    found = answer("diagnose", "4", "-d", "kofta")
    assert {symptom["attribute"] for symptom in found["symptoms"]} == {"browning"}
    shares = [cause["share"] for cause in found["causes"]]
    assert shares == sorted(shares, reverse=True)
    assert all(0 <= share <= 1 for share in shares)
    said = tuner("diagnose", "4", "-d", "kofta").out
    assert said.index("What is wrong") < said.index("Check first") < said.index("The trade's rules")


def test_signs_that_people_saw_are_listed_and_used_and_others_refused(demo, answer, tuner, refusal):
    signs = answer("diagnose", "--signs")
    assert "wet beads" in signs
    assert "wet beads" in tuner("diagnose", "--signs").out
    plain = answer("diagnose", "4", "-d", "kofta")
    with_sign = answer("diagnose", "4", "-d", "kofta", "--seen", "uneven sides")
    assert {one["rule"] for one in with_sign["remedies"]} - {one["rule"] for one in plain["remedies"]}
    assert refusal("diagnose", "4", "-d", "kofta", "--seen", "too green")["exit_code"] == 2


def test_a_cook_with_nothing_wrong_is_said_to_be_so(demo, tuner):
    assert "Nothing is wrong" in tuner("diagnose", "10", "-d", "kofta").out


@pytest.mark.slow
def test_the_model_card_tells_what_was_learned_and_how_forecasts_held(demo, answer, tuner):
    card = answer("model", "-d", "kofta")
    assert card["cooks"] == 11
    assert {line["attribute"] for line in card["attributes"]} >= {"core_temperature_c", "browning"}
    said = tuner("model", "-d", "kofta").out
    assert "Inside 80 % range" in said
    assert "of 11" in said or "of 10" in said
