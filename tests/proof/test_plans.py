from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.example import DROP, brief
from tuner import proof
from tuner.domain import ProofPlan

NONE = {"none": True, "rule": "crumb only", "approved_by": "food-safety lead"}


def plan(**changes: Any) -> ProofPlan:
    return proof.plan(brief(**changes))


@pytest.mark.parametrize(
    "changes, strength",
    [
        *(({"food_class": name}, "full") for name in ("poultry", "ground_meat", "whole_muscle", "fish", "egg", "stuffed")),
        ({"food_class": "poultry", "critical_limit": NONE}, "full"),
        ({"food_class": "reheated"}, "standard"),
        ({"food_class": "reheated", "critical_limit": NONE}, "standard"),
        ({"food_class": "plant"}, "standard"),
        ({"food_class": "plant", "critical_limit": DROP}, "standard"),
        ({"food_class": "plant", "critical_limit": NONE}, "light"),
        ({"food_class": "plant", "critical_limit": NONE, "cook_before_eating": True}, "standard"),
        ({"food_class": "plant", "critical_limit": {"none": True, "rule": "r"}}, "standard"),
        ({"food_class": "bakery", "critical_limit": NONE}, "light"),
        ({"food_class": "bakery", "critical_limit": DROP}, "standard"),
        ({"food_class": "bakery", "critical_limit": {"none": True, "approved_by": "lead"}}, "standard"),
        ({"food_class": "bakery"}, "full"),
        ({"food_class": "bakery", "critical_limit": NONE, "eaters": "vulnerable"}, "full"),
        ({"food_class": "reheated", "eaters": "vulnerable"}, "full"),
    ],
)
def test_strength_follows_the_class_the_approval_and_the_eaters(changes: dict[str, Any], strength: str) -> None:
    assert plan(**changes).strength == strength


@pytest.mark.parametrize(
    "changes, cooks, days, ovens",
    [
        ({"food_class": "bakery", "critical_limit": NONE}, 8, 2, 2),
        ({"food_class": "reheated"}, 28, 2, 3),
        ({"food_class": "poultry"}, 58, 3, 6),
    ],
)
def test_the_parts_add_up(changes: dict[str, Any], cooks: int, days: int, ovens: int) -> None:
    found = plan(**changes)
    assert (found.cooks, found.days, found.ovens) == (cooks, days, ovens)
    assert sum(part.cooks for part in found.parts) == cooks
    assert all(part.condition for part in found.parts)


# Chance to accept [%] by the true share of cooks below the limit: 20, 10, 5, 2, 1, 0.1 and 0.01 %.
FIGURES = [
    ({"food_class": "poultry"}, (0.04, 0.9, 5.0, 20, 37, 85, 98), (0.005, 0.06, 0.05, 0.5, 0.5, 0.5, 0.5)),
    ({"food_class": "reheated"}, (0.7, 5.0, 15, 36, 53, 89, 98), (0.05, 0.05, 0.5, 0.5, 0.5, 0.5, 0.5)),
    ({"food_class": "bakery", "critical_limit": NONE}, (17, 43, 66, 85, 92, 99, 99.9), (0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.05)),
]


@pytest.mark.parametrize("changes, expected, tolerance", FIGURES)
def test_the_chance_to_accept_is_as_computed_elsewhere(
    changes: dict[str, Any], expected: tuple[float, ...], tolerance: tuple[float, ...]
) -> None:
    found = plan(**changes).chance_to_accept
    assert list(found) == [0.2, 0.1, 0.05, 0.02, 0.01, 0.001, 0.0001]
    for chance, percent, within in zip(found.values(), expected, tolerance, strict=True):
        assert 100 * chance == pytest.approx(percent, abs=within)


@pytest.mark.parametrize("rule", [proof.ToleranceRule(15, 0.95, 0.95), proof.ToleranceRule(10, 0.9, 0.95)])
@pytest.mark.parametrize("share_below", [0.1, 0.05, 0.01])
def test_the_operating_characteristic_is_that_of_simulated_proofs(rule: proof.ToleranceRule, share_below: float) -> None:
    from scipy.stats import norm

    rng = np.random.default_rng(1)
    proofs = 40_000
    margins = rng.normal(norm.isf(share_below), 1.0, (proofs, rule.cooks))
    by_factor = margins.mean(axis=1) - rule.factor * margins.std(axis=1, ddof=1) >= 0
    assert by_factor.mean() == pytest.approx(rule.chance_to_accept(share_below), abs=0.008)
    # That no single cook may lie below only lowers it, and hardly.
    both = by_factor & (margins >= 0).all(axis=1)
    assert both.mean() <= rule.chance_to_accept(share_below) + 0.008


def test_the_whole_plan_accepts_no_more_than_its_strictest_part_however_the_parts_hang_together() -> None:
    rng = np.random.default_rng(2)
    share, proofs = 0.05, 20_000
    from scipy.stats import norm

    alike = rng.normal(norm.isf(share), 1.0, (proofs, 15))
    rule = proof.ToleranceRule(15, 0.95, 0.95)
    worst = alike.mean(axis=1) - rule.factor * alike.std(axis=1, ddof=1) >= 0
    over_ovens = (np.concatenate((alike, alike[:, ::-1]), axis=1) >= 0).all(axis=1)  # as dependent as can be
    assert (worst & over_ovens).mean() <= plan().chance_to_accept[share] + 0.006


def test_a_plan_survives_its_own_json() -> None:
    found = plan()
    assert ProofPlan.model_validate_json(found.model_dump_json()) == found


@pytest.mark.parametrize("cooks, coverage, confidence", [(1, 0.9, 0.9), (5, 0.0, 0.9), (5, 0.9, 1.0)])
def test_a_factor_that_means_nothing_is_refused(cooks: int, coverage: float, confidence: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        proof.tolerance_factor(cooks, coverage, confidence)
