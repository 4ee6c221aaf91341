from __future__ import annotations

import pytest

from tuner import safety
from tuner.domain import InvalidDocument


def test_there_are_thirteen_and_each_has_its_place() -> None:
    assert [caution.code for caution in safety.CAUTIONS] == [f"C{number}" for number in range(1, 14)]
    for caution in safety.CAUTIONS:
        assert caution.places
        assert set(caution.places) <= set(safety.PLACES)
        assert len(caution.text) <= 140


@pytest.mark.parametrize(
    "place, codes",
    [
        ("verdict", ["C1", "C2", "C11"]),
        ("score entry", ["C1", "C2"]),
        ("cook sheet", ["C1", "C2", "C3", "C4", "C5", "C6"]),
        ("measuring", ["C4"]),
        ("oven", ["C5"]),
        ("session invitation", ["C6"]),
        ("oven check", ["C7"]),
        ("printed limit", ["C8"]),
        ("light-plan card", ["C9"]),
        ("brief", ["C10", "C13"]),
        ("card", ["C3", "C4", "C6", "C10", "C11", "C12", "C13"]),
    ],
)
def test_each_place_shows_its_cautions(place: str, codes: list[str]) -> None:
    assert [caution.code for caution in safety.cautions(place)] == codes


def test_an_unknown_place_is_refused_with_the_known_ones() -> None:
    with pytest.raises(InvalidDocument, match="cook sheet"):
        safety.cautions("ceiling")


def test_the_light_plan_figure_is_that_of_eight_cooks() -> None:
    text = safety.cautions("light-plan card")[0].text
    assert f"{100 * 0.9**8:.0f} in 100" in text


def test_eu_declares_14_and_us_9_and_nothing_is_left_out_where_the_market_is_unknown() -> None:
    assert len(set(safety.allergen_list("EU"))) == 14
    assert safety.allergen_list("UK") == safety.allergen_list("France") == safety.allergen_list("EU")
    assert len(set(safety.allergen_list("US"))) == 9
    everything = set(safety.allergen_list("EU")) | set(safety.allergen_list("US"))
    assert set(safety.allergen_list(None)) == set(safety.allergen_list("Elsewhere")) == everything
