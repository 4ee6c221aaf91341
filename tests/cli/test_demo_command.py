"""`tuner demo` and `tuner rehearse`."""

import json

import pytest


def test_the_demo_is_loaded_once_however_often_it_is_asked_for(folder, answer):
    assert answer("demo", "--no-serve")["developments"] == 3
    before = answer("status")["developments"]
    assert answer("demo", "--no-serve")["developments"] == 3
    assert answer("status")["developments"] == before
    assert sum(entry["cook_count"] for entry in before) == 41
    assert sorted(entry["status"] for entry in before) == ["confirming", "proven", "stalled"]


def test_the_demo_is_kept_apart_from_somebody_s_own_work(demo, answer, refusal):
    kept = json.loads((demo / "tuner.sqlite").is_file() and json.dumps(answer("status", "kofta")["brief"]))
    (demo / "brief.json").write_text(json.dumps({**kept, "dish": "House meatball"}))
    (demo / "oven.json").write_text(json.dumps(answer("ovens")["ovens"][0]["oven"]))
    answer("start", "brief.json", "--oven", "oven.json", "--db", "own.sqlite")
    error = refusal("demo", "--no-serve", "--db", "own.sqlite")
    assert error["kind"] == "NotAllowed"
    assert "--db demo.sqlite" in error["message"]
    assert len(answer("status", "--db", "own.sqlite")["developments"]) == 1


def test_a_workspace_that_can_t_be_opened_is_told_before_the_app_starts(folder, refusal):
    (folder / "notes.txt").write_text("not a database, only a text that is long enough to be read as one" * 20)
    assert refusal("open", "--no-browser", "--db", "notes.txt")["exit_code"] == 1


def test_without_a_kitchen_the_names_are_listed(answer, tuner):
    names = answer("rehearse")["kitchens"]
    assert len(names) >= 8
    assert names[0] in tuner("rehearse").out


def test_an_unknown_kitchen_is_refused_with_the_known_ones(refusal):
    error = refusal("rehearse", "moon base")
    assert (error["kind"], error["exit_code"]) == ("NotFound", 1)


@pytest.mark.slow
def test_a_rehearsal_tells_what_happened_with_progress_on_standard_error(answer, tuner):
    report = answer("rehearse", "pork-cutlet", "--budget", "3")
    assert len(report["cooks"]) <= 3
    assert report["story"]
    heard = tuner("rehearse", "pork-cutlet", "--budget", "3")
    assert heard.code == 0
    assert "Rehearsal in pork-cutlet" in heard.out
    assert "\r" not in heard.out
