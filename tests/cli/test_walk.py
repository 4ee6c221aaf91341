"""From a brief to a confirmed cook, typed as a kitchen would."""

import json
from datetime import UTC, datetime

import pytest

from tuner.cli.documents import read_program

OVEN = {
    "name": "Left oven",
    "air_temperature_c": {"low": 200, "high": 270, "step": 10},
    "air_speed_pct": {"low": 10, "high": 100, "step": 10},
    "microwave_pct": {"low": 0, "high": 100, "step": 10},
    "duration_s": {"low": 20, "high": 600, "step": 10},
    "share_step_pct": 10,
    "max_stages": 3,
    "microwave_rated_w": 1500,
    "air_speed_max_m_s": 22,
}
SCORES = {"low": 2.5, "high": 3.5}
BRIEF = {
    "dish": "Barley and beet patty",
    "food_class": "reheated",
    "allergens": ["gluten"],
    "portion": {
        "mass_g": 150, "shape": "slab", "thickness_mm": 22, "water": 0.66, "fat": 0.08, "protein": 0.07,
        "carbohydrate": 0.17, "ash": 0.02, "start_state": "chilled", "start_temperature_c": 4,
    },
    "conventional": {"method": "oven", "oven_temperature_c": 190, "duration_s": 1200},
    "targets": {
        "core_temperature_c": {"low": 76, "high": 86}, "browning": SCORES, "texture": SCORES, "moisture": SCORES,
        "cook_loss_pct": {"low": 0, "high": 20}, "duration_s": {"low": 0, "high": 300},
    },
    "critical_limit": {
        "core_temperature_c": 74, "rest_s": 120, "covered": True, "guard_c": 2,
        "rule": "house rule", "market": "US", "edition": "1", "approved_by": "food-safety approver",
    },
    "rest_s": 120,
    "places": 3,
    "tasters": 3,
    "taster_sd": 0.3,
}  # fmt: skip


@pytest.fixture
def papers(folder):
    """Brief and oven as files."""
    (folder / "brief.json").write_text(json.dumps(BRIEF))
    (folder / "oven.json").write_text(json.dumps(OVEN))
    return folder


READINGS = (
    "--mass",
    "151",
    "--start",
    "4,2",
    "--core",
    "78.1",
    "80.4",
    "81.0",
    "--rest",
    "2:00",
    "--covered",
    "--mass-out",
    "132",
)
TIMES = ("--cooked-at", "now", "--thermometer-checked-at", "now")


def test_a_development_goes_from_brief_to_a_scored_cook(papers, answer):
    started = answer("start", "brief.json", "--oven", "oven.json")
    assert started["dish"] == BRIEF["dish"]
    assert started["brief"] == BRIEF
    (proposal,) = answer("next")["proposals"]
    assert proposal["proposal"]["purpose"] == "first_guess"
    assert len(proposal["proposal"]["reasons"]) >= 1
    assert answer("decide", "accept", "--reason", "fits the service")["state"] == "accepted"
    cook = answer("log", *READINGS, *TIMES)
    assert cook["verdict"]["status"] == "safe_to_taste"
    assert cook["cook"]["program"] == proposal["proposal"]["program"]
    assert cook["cook"]["purpose"] == "first_guess"
    marks = ("--score", "A browning=3 texture=3 moisture=3", "--score", "B browning=2,5 texture=3 moisture=3.5")
    scored = answer("score", cook["number"], *marks, "--may-taste", "A", "B")
    assert scored["outcome"]["result"] == "pass"
    assert answer("status", "barley")["assessment"]["status"] == "candidate"


def test_the_same_in_words_for_people(papers, tuner):
    assert "Started: Barley and beet patty" in tuner("start", "brief.json", "--oven", "oven.json").out
    heard = tuner("next")
    assert "Stage" in heard.out
    assert "4 cooks in 5" in heard.out
    assert "Decide: tuner decide" in heard.out
    assert "Proposal 1 is accepted" in tuner("decide", "accept", "--reason", "fits").out
    heard = tuner("log", *READINGS, *TIMES)
    assert "● safe to taste" in heard.out
    assert "C1" not in heard.out
    assert "Barley and beet patty" in tuner("status").out
    assert "78.1 °C" in tuner("status", "barley", "--cooks").out


def test_an_oven_of_the_workspace_is_named_and_not_kept_twice(papers, answer):
    answer("ovens", "--add", "oven.json")
    answer("start", "brief.json", "--oven", "left oven")
    (papers / "other.json").write_text(json.dumps({**BRIEF, "dish": "Barley and carrot patty"}))
    answer("start", "other.json", "--oven", "oven.json")
    assert [record["oven"]["name"] for record in answer("ovens")["ovens"]] == ["Left oven"]


def test_a_brief_is_checked_before_anything_is_saved(papers, answer, tuner):
    hopeless = {**BRIEF, "targets": {**BRIEF["targets"], "duration_s": {"high": 10}}}
    (papers / "hopeless.json").write_text(json.dumps(hopeless))
    assert answer("check", "brief.json", "--oven", "oven.json")["feasibility"]["possible"] in {"yes", "doubtful"}
    found = answer("check", "hopeless.json", "--oven", "oven.json")
    assert found["feasibility"]["possible"] == "no"
    assert found["feasibility"]["obstacles"]
    assert "In the way" in tuner("check", "hopeless.json", "--oven", "oven.json").out
    assert answer("status")["developments"] == []


def test_an_unlikely_brief_is_asked_about_and_kept_as_confirmed(papers, answer, refusal):
    wide = {**BRIEF, "portion": {**BRIEF["portion"], "mass_g": 1600}}
    (papers / "wide.json").write_text(json.dumps(wide))
    error = refusal("start", "wide.json", "--oven", "oven.json")
    assert (error["kind"], error["exit_code"]) == ("NeedsConfirmation", 3)
    codes = [question["code"] for question in error["questions"]]
    assert codes
    started = answer("start", "wide.json", "--oven", "oven.json", "--confirm", codes[0], "--confirm", "all")
    assert set(codes) <= set(started["brief"]["confirmed"])


def test_the_chef_s_own_program_is_forecast_in_full(demo, answer, tuner):
    (found,) = answer("forecast", "-d", "cutlet", "270, 2:40, 30/15/100, 20/10/50, 50/90/10")["forecasts"]
    assert set(found["attributes"]) == {"core_temperature_c", "browning", "texture", "moisture", "cook_loss_pct"}
    assert "inside every window at once" in tuner("forecast", "-d", "cutlet", "270, 2:40, 100/50/50").out


def test_a_changed_proposal_is_what_is_logged_next(demo, answer, refusal):
    answer("next", "-d", "kofta")
    own = "260, 3:20, 30/20/100, 10/30/60, 60/100/10"
    assert refusal("decide", "change", "-d", "kofta", "--reason", "shorter")["exit_code"] == 2
    decided = answer("decide", "change", "-d", "kofta", "--program", own, "--reason", "the pass is slow")
    assert decided["state"] == "changed"
    cook = answer("log", "-d", "kofta", "--mass", "120", "--core", "77.5", "79", "80")
    assert read_program(json.dumps(cook["cook"]["program"])) == read_program(own)


def test_a_refused_proposal_is_not_what_is_logged(demo, answer, refusal):
    answer("next", "-d", "kofta")
    assert answer("decide", "refuse", "-d", "kofta", "--reason", "no lamb today")["state"] == "refused"
    error = refusal("log", "-d", "kofta", "--mass", "120")
    assert (error["kind"], error["exit_code"]) == ("Usage", 2)
    assert "--program" in error["message"]


def test_a_first_day_is_six_cooks_spread_wide_with_a_repeat(papers, answer):
    answer("start", "brief.json", "--oven", "oven.json")
    plan = answer("next", "--first-day")["proposals"]
    assert len(plan) == 6
    assert 4 <= len({json.dumps(record["proposal"]["program"]) for record in plan}) <= 6


def test_a_development_is_closed_with_a_reason_and_opened_again(demo, answer, tuner):
    closed = answer("close", "-d", "squares", "--reason", "the customer takes another dish")
    assert closed["state"] == "closed"
    assert "closed" in tuner("status", "squares").out
    assert answer("archive", "-d", "squares", "--reason", "done")["state"] == "archived"
    assert len(answer("status")["developments"]) == 2
    assert len(answer("status", "--all")["developments"]) == 3
    assert answer("reopen", "-d", "squares", "--reason", "thinner squares")["state"] == "open"


def test_a_development_is_named_by_id_beginning_of_id_or_dish(demo, answer, refusal):
    kept = answer("status")["developments"]
    identity = next(entry["id"] for entry in kept if "kofta" in entry["dish"])
    for name in (identity, identity[:8], "Lamb kofta with cumin", "lamb", "KOFTA"):
        answer("export", "-d", name, "-o", "one.json")
        assert [one["id"] for one in json.loads((demo / "one.json").read_text())["developments"]] == [identity]
    error = refusal("status", "goulash")
    assert (error["kind"], error["exit_code"]) == ("NotFound", 1)
    assert "Lamb kofta" in error["message"]


def test_where_several_are_open_the_tool_asks_which(demo, refusal):
    error = refusal("next")
    assert (error["kind"], error["exit_code"]) == ("Usage", 2)
    assert "kofta" in error["message"]


def test_another_customer_sees_nothing_of_it(demo, answer, refusal):
    assert answer("status", "--customer", "Customer East")["developments"] == []
    assert refusal("status", "kofta", "--customer", "Customer East")["exit_code"] == 1


def test_a_cook_is_corrected_and_the_first_entry_is_kept(demo, answer, rows):
    before = rows()
    last = before[-1]
    (demo / "right.json").write_text(json.dumps({**last["cook"], "mass_out_g": 105.0}))
    fixed = answer(
        "correct", last["number"], "right.json", "-d", "kofta", "--reason", "balance read wrongly", "--may-taste", *"ABC"
    )
    assert (fixed["corrects"], fixed["number"]) == (last["id"], last["number"])
    assert rows()[: len(before)] == before
    assert len(rows()) == len(before) + 1


def test_times_of_a_logged_cook_are_moments(demo, answer):
    answer("next", "-d", "kofta")
    cook = answer("log", "-d", "kofta", "--mass", "120", *TIMES)
    moment = datetime.fromisoformat(cook["cook"]["cooked_at"])
    assert moment.tzinfo is not None
    assert moment <= datetime.now(UTC)
