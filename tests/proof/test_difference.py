"""Difference tests: sizes and answers, against figures computed elsewhere from the exact distributions."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binom

from tuner.proof.discrimination import (
    Protocol,
    d_prime,
    most_right_for_similar,
    right_chance,
    similarity_outlook,
    similarity_size,
    telling_apart,
)
from tuner.proof.liking import LikingProtocol, liked_as_well, liking_power, liking_size

TRIANGLE = Protocol("triangle")


def test_sixty_tasters_and_at_most_25_right_show_not_told_apart() -> None:
    found = similarity_outlook("triangle", 60, 0.3, 0.05)
    assert found.most_right == 25
    assert 100 * found.chance_identical == pytest.approx(93, abs=0.5)
    assert 100 * found.chance_at_limit == pytest.approx(4.6, abs=0.05)


def test_the_smallest_panel_for_a_claim_keeps_both_risks() -> None:
    found = similarity_size("triangle")
    assert found.chance_identical >= 0.9
    assert found.chance_at_limit <= 0.05
    assert found.tasters < 60
    assert similarity_size("duo-trio").tasters > found.tasters
    with pytest.raises(ValueError, match="tasters"):
        similarity_size("triangle", share_telling=0.01)


def test_twelve_tasters_who_notice_nothing_show_nothing() -> None:
    """Power of 12 tasters against 30 % who can tell is 26 %: the answer is 'not shown', never 'similar'."""
    found = telling_apart(TRIANGLE, [[True]] * 4 + [[False]] * 8)
    assert found.answer == "not shown"
    assert binom.sf(7, 12, right_chance("triangle", 0.3)) == pytest.approx(0.26, abs=0.01)


@pytest.mark.parametrize("right, answer", [(25, "similar within the stated limit"), (26, "not shown"), (27, "different")])
def test_the_three_answers_of_sixty_tasters(right, answer) -> None:
    found = telling_apart(TRIANGLE, [[place < right] for place in range(60)])
    assert found.answer == answer


@settings(deadline=None, max_examples=80)
@given(st.sampled_from(["triangle", "duo-trio"]), st.integers(5, 120), st.data())
def test_similar_is_said_exactly_up_to_the_critical_number(method, tasters, data) -> None:
    right = data.draw(st.integers(0, tasters))
    most = most_right_for_similar(method, tasters, 0.3, 0.05)
    found = telling_apart(Protocol(method), [[place < right] for place in range(tasters)])
    assert (found.answer == "similar within the stated limit") == (most is not None and right <= most)


def test_replicates_of_few_tasters_are_not_so_many_tasters() -> None:
    """12 tasters x 5 answers with tasters who differ: surer claims than 12 tasters allow are not made."""
    rng = np.random.default_rng(2)
    claimed = {"clusters": 0, "as if independent": 0}
    for _ in range(400):
        telling = rng.random(12) < 0.3  # 30 % can always tell, the others guess
        answers = [list(rng.random(5) < (1.0 if can else 1 / 3)) for can in telling]
        if telling_apart(TRIANGLE, [[bool(a) for a in row] for row in answers]).answer.startswith("similar"):
            claimed["clusters"] += 1
        if telling_apart(TRIANGLE, [[bool(a)] for row in answers for a in row]).answer.startswith("similar"):
            claimed["as if independent"] += 1
    assert claimed["clusters"] / 400 <= 0.06
    assert claimed["as if independent"] > 1.5 * claimed["clusters"]


def test_d_prime_has_no_value_at_guessing_or_when_all_are_right() -> None:
    assert d_prime("triangle", 0.3) is None
    assert d_prime("triangle", 1.0) is None


def test_tests_that_cannot_be_judged_are_refused() -> None:
    with pytest.raises(ValueError, match="Nobody"):
        telling_apart(TRIANGLE, [])
    with pytest.raises(ValueError, match="one taster"):
        telling_apart(TRIANGLE, [[True, False]])
    with pytest.raises(ValueError, match="at least 2"):
        liked_as_well(LikingProtocol(), {"A": [1.0]})
    with pytest.raises(ValueError, match="Correct"):
        liking_size(-1.0, LikingProtocol())


@pytest.mark.parametrize("sd, margin, tasters", [(2.0, 1.0, 27), (1.5, 1.0, 16), (2.0, 0.5, 101), (1.5, 0.5, 58)])
def test_how_many_tasters_liked_as_well_takes(sd, margin, tasters) -> None:
    assert liking_size(sd, LikingProtocol(margin=margin)) == tasters
    assert liking_power(tasters, sd, LikingProtocol(margin=margin)) >= 0.8


def test_the_three_answers_about_liking() -> None:
    rng = np.random.default_rng(1)

    def judged(shift: float, sd: float, tasters: int):
        values = rng.normal(0, 1, tasters)
        values = shift + sd * (values - values.mean()) / values.std(ddof=1)
        return liked_as_well(LikingProtocol(), {f"t{i}": [value] for i, value in enumerate(values)})

    assert judged(0.0, 1.5, 30).answer == "similar within the stated limit"
    assert judged(-2.0, 1.5, 30).answer == "different"
    assert judged(0.0, 3.0, 8).answer == "not shown"
    less = judged(-0.3, 0.5, 60)
    assert less.answer == "similar within the stated limit"
    assert "less" in less.remark


def test_the_risk_of_a_false_claim_about_liking_is_as_stated() -> None:
    rng = np.random.default_rng(7)
    claims = 0
    for _ in range(2000):
        values = rng.normal(-1.0, 2.0, 27)  # truly worse by the whole margin
        claims += liked_as_well(LikingProtocol(), {str(i): [v] for i, v in enumerate(values)}).answer.startswith("similar")
    assert claims / 2000 == pytest.approx(0.05, abs=0.015)


def test_replicates_of_a_taster_count_once() -> None:
    once = liked_as_well(LikingProtocol(), {"A": [0.5], "B": [-0.5], "C": [0.0]})
    often = liked_as_well(LikingProtocol(), {"A": [0.5] * 9, "B": [-0.5] * 9, "C": [0.0] * 9})
    assert (once.low, once.tasters) == (often.low, often.tasters)
