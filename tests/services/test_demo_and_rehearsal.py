"""The demo loads once; a rehearsal tells its story; cautions stand where they belong."""

from __future__ import annotations

import json

import pytest

import tuner
from tests.services.invented import ANN, VALE
from tuner.domain import InvalidDocument, NotAllowed, NotFound, TunerError
from tuner.services import cautions, list_developments, list_ovens, load_demo, rehearsal_names, rehearse, view_development
from tuner.services.demo import demo_file


class TestDemo:
    def test_it_loads_whole_and_loading_again_changes_nothing(self, space):
        invented = json.loads(demo_file().read_text(encoding="utf-8"))
        assert load_demo(space, ANN) == len(invented["developments"])
        before = list_developments(space, ANN)
        assert load_demo(space, ANN) == len(invented["developments"])
        assert list_developments(space, ANN) == before
        assert [record.oven.name for record in list_ovens(space, ANN)] == [oven["name"] for oven in invented["ovens"]]

    def test_every_row_is_there_once_by_whom_and_when_it_was_entered(self, space):
        load_demo(space, ANN)
        for development in json.loads(demo_file().read_text(encoding="utf-8"))["developments"]:
            view = view_development(space, ANN, development_id=development["id"])
            rows = {row["cook"]["client_id"]: row for row in development["cooks"]}
            assert {record.client_id for record in view.cooks} == set(rows)
            for record in view.cooks:
                assert record.logged_by == rows[record.client_id]["logged_by"]
                assert record.cook == tuner.TestCook.model_validate(rows[record.client_id]["cook"])

    def test_nobody_tasted_what_was_not_safe(self, space):
        load_demo(space, ANN)
        unsafe = [
            record
            for line in list_developments(space, ANN)
            for record in view_development(space, ANN, development_id=line.id).cooks
            if not record.verdict.may_taste
        ]
        assert unsafe
        for record in unsafe:
            assert record.cook.history or all(score.texture is None for score in record.cook.scores or ())

    def test_it_is_the_houses(self, space):
        with pytest.raises(NotAllowed, match="several customers"):
            load_demo(space, VALE)


@pytest.mark.slow
class TestRehearsal:
    def test_it_tells_a_sentence_for_each_cook_and_says_how_it_ended(self):
        heard: list[tuple[int, str]] = []
        report = rehearse(kitchen=rehearsal_names()[0], seed=1, budget=3, progress=lambda *told: heard.append(told))
        assert report.kitchen == rehearsal_names()[0]
        assert [number for number, _ in heard] == list(range(1, len(report.cooks) + 1))
        assert [words for _, words in heard] == list(report.story[1 : 1 + len(report.cooks)])
        assert report.story[1].startswith("Cook 1 (first guess")
        assert f"After {len(report.cooks)} cooks: {report.status}" in report.story[1 + len(report.cooks)]
        assert report.proven == (report.status == "proven")
        times = [cook.cooked_at for cook in report.cooks]
        assert times == sorted(times)  # type: ignore[type-var]

    def test_the_same_seed_tells_the_same_story(self):
        name = rehearsal_names()[0]
        first = rehearse(kitchen=name, seed=2, budget=2)
        assert rehearse(kitchen=name, seed=2, budget=2) == first
        assert rehearse(kitchen=name, seed=3, budget=2).cooks != first.cooks

    def test_what_is_truly_inside_is_a_share(self):
        report = rehearse(kitchen=rehearsal_names()[0], seed=1, budget=2)
        assert (report.best_program is None) == (report.truly_inside is None)
        if report.truly_inside is not None:
            assert 0 <= report.truly_inside <= 1


@pytest.mark.parametrize("budget", [0, 201])
def test_a_budget_out_of_range_is_refused(budget: int):
    with pytest.raises(InvalidDocument, match=f"budget is {budget}"):
        rehearse(kitchen=1, budget=budget)


def test_an_unknown_kitchen_is_not_found():
    with pytest.raises(NotFound):
        rehearse(kitchen="no such kitchen")


def test_there_are_kitchens_to_rehearse_in():
    assert len(rehearsal_names()) >= 8


def test_cautions_stand_where_they_belong():
    assert {"C1", "C2"} <= {caution.code for caution in cautions("verdict")}
    with pytest.raises(TunerError):
        cautions("nowhere")
