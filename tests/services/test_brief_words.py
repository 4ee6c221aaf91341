"""What is said of a brief: what changed, what is missing, whether it can be met."""

from __future__ import annotations

from tests.services.invented import LIMIT, brief, oven
from tuner.services import brief_differences, check_brief


class TestDifferences:
    def test_equal_briefs_differ_in_nothing(self):
        assert brief_differences(brief(), brief()) == ()

    def test_each_changed_field_is_said_with_its_unit(self):
        portion = {**brief().portion.model_dump(exclude_unset=True), "mass_g": 190}
        new = brief(dish="Lemon strip", portion=portion, rest_s=150, allergens=["milk", "egg"])
        assert brief_differences(brief(), new) == (
            "dish: Herb chicken strip, now Lemon strip",
            "allergens: milk, now milk; egg",
            "portion, mass: 180 g, now 190 g",
            "rest: 120 s, now 150 s",
        )

    def test_a_window_that_went_or_came_is_said_edge_by_edge(self):
        windows = brief().targets.model_dump(exclude_none=True)
        without = brief(targets={name: window for name, window in windows.items() if name != "core_temperature_c"})
        assert brief_differences(brief(), without) == (
            "targets, core temperature, low: 74 °C, now not given",
            "targets, core temperature, high: 84 °C, now not given",
        )
        assert brief_differences(without, brief())[0] == "targets, core temperature, low: not given, now 74 °C"

    def test_yes_no_and_lists(self):
        old = brief(ingredients=["chicken", {"name": "butter", "amount_g": 12}])
        new = brief(critical_limit={**LIMIT, "covered": False}, allergens=[])
        assert brief_differences(old, new) == (
            "allergens: milk, now none",
            "critical limit, covered: yes, now no",
            "ingredients: chicken; butter 12.0, now not given",
        )

    def test_what_was_confirmed_is_no_difference(self):
        assert brief_differences(brief(), brief(confirmed=["tasters=1"])) == ()


class TestCheck:
    def test_a_complete_brief_misses_little(self):
        check = check_brief(brief(texture_with_heat="firmer"), oven())
        assert check.missing == ()
        assert check.limit.approved_by == "Quinn"
        assert 0 < check.feasibility.pass_chance <= 1

    def test_what_is_unanswered_is_named(self):
        bare = brief(allergens=None, critical_limit=None, conventional=None, targets={})
        said = " ".join(check_brief(bare, oven()).missing)
        for word in ("Allergens", "Approver", "conventional method", "core temperature", "browning", "duration"):
            assert word in said

    def test_questions_of_values_and_of_the_limit_are_asked(self):
        codes = [question.code for question in check_brief(brief(tasters=1, critical_limit=None), oven()).questions]
        assert "tasters=1" in codes
        assert "critical_limit.approved_by" in codes

    def test_an_impossible_duration_is_said_before_anything_is_saved(self):
        windows = {**brief().targets.model_dump(exclude_none=True), "duration_s": {"high": 10}}
        check = check_brief(brief(targets=windows, confirmed=["targets.duration_s.high=10"]), oven())
        assert check.feasibility.possible == "no"
