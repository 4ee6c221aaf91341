"""Cooks: logged once, corrected by new rows, and never tasted unless known to be safe, whatever the way in."""

from __future__ import annotations

import pytest

from tests.services.invented import (
    ANN,
    BEN,
    LIMIT,
    PROGRAM,
    QUINN,
    YES,
    Clock,
    brief,
    by_eye,
    cook,
    oven,
    scores,
    started,
    tasting,
)
from tuner.domain import Conflict, InvalidDocument, NeedsConfirmation, NotAllowed, NotFound
from tuner.services import (
    CookRecord,
    Workspace,
    add_scores,
    correct_cook,
    edit_brief,
    edit_oven,
    log_cook,
    preview_cook,
    view_development,
)


def log(space: Workspace, development_id: str, may_taste=YES, client_id=None, **changes) -> CookRecord:
    return log_cook(space, ANN, development_id=development_id, cook=cook(**changes), may_taste=may_taste, client_id=client_id)


class TestLogging:
    def test_a_safe_cook_is_kept_with_what_it_says(self, space, clock: Clock):
        view = started(space)
        record = log(space, view.id)
        assert (record.number, record.verdict.status, record.outcome.result) == (1, "safe_to_taste", "pass")
        assert record.cook == cook()
        assert (record.counts, record.logged_by, record.delay_s) == (True, "Ann", 2700)
        assert record.margins["core_temperature_c"] == pytest.approx(0.1)  # 76.4 over a usable low edge of 76, half-width 4
        assert view_development(space, ANN, development_id=view.id).cooks == (record,)

    def test_the_same_cook_sent_twice_is_kept_once(self, space):
        view = started(space)
        assert log(space, view.id, client_id="c1") == log(space, view.id, client_id="c1")
        assert len(view_development(space, ANN, development_id=view.id).cooks) == 1

    def test_the_id_inside_the_cook_counts_as_well(self, space):
        view = started(space)
        assert log(space, view.id, client_id=None).id != log(space, view.id, client_id=None).id
        first = log_cook(space, ANN, development_id=view.id, cook=cook(client_id="phone-7"), may_taste=YES)
        assert log_cook(space, ANN, development_id=view.id, cook=cook(client_id="phone-7"), may_taste=YES) == first

    def test_the_same_id_with_other_content_is_a_conflict(self, space):
        view = started(space)
        log(space, view.id, client_id="c1")
        with pytest.raises(Conflict, match="'c1' was used before with other content"):
            log(space, view.id, client_id="c1", mass_g=184.0)

    def test_a_cook_known_already_is_answered_even_after_the_development_was_closed(self, space):
        from tuner.services import close_development

        view = started(space)
        record = log(space, view.id, client_id="c1")
        close_development(space, ANN, development_id=view.id, reason="done")
        assert log(space, view.id, client_id="c1").id == record.id

    def test_unlikely_values_are_asked_about_and_kept_as_confirmed(self, space):
        view = started(space)
        with pytest.raises(NeedsConfirmation, match="mass_g 150 g") as asked:
            log(space, view.id, mass_g=150.0, mass_out_g=130.0)
        codes = [question.code for question in asked.value.questions]
        record = log(space, view.id, mass_g=150.0, mass_out_g=130.0, confirmed=codes)
        assert record.cook.confirmed == tuple(codes)
        assert not record.counts

    def test_a_benchmark_cook_needs_no_program(self, space):
        view = started(space)
        record = log(space, view.id, program=None, purpose="benchmark")
        assert (record.cook.program, record.counts) == (None, False)

    def test_a_cook_with_nothing_but_its_program_is_legal_and_unknown(self, space):
        view = started(space)
        record = log_cook(space, ANN, development_id=view.id, cook=type(cook()).model_validate({"program": PROGRAM}))
        assert (record.verdict.status, record.outcome.result, record.delay_s) == ("unknown", "pending", None)

    def test_learning_gets_the_cooks_in_the_order_of_cooking(self, space):
        from tuner.services.loading import load

        view = started(space)
        for minute, mass in ((50, 181.0), (None, 182.0), (10, 183.0), (30, 184.0)):
            when = None if minute is None else f"2026-03-02T09:{minute}:00Z"
            log(space, view.id, mass_g=mass, cooked_at=when, scores=None)
        assert [one.mass_g for one in load(space, ANN, view.id).cooks] == [183.0, 182.0, 184.0, 181.0]


NOT_SAFE = {"core_temperature_c": [75.9, 77.0, 79.1]}
UNKNOWN = {
    "no thermometer check": {"thermometer_checked_at": None},
    "rest not covered": {"rest_covered": None},
    "too few places": {"core_temperature_c": [76.4, 77.0]},
    "interrupted": {"completed": False, "interrupted_by": "power lost"},
    "no readings": {"core_temperature_c": None},
}
EATEN = {
    "texture": [{"taster": "A", "texture": 3}],
    "moisture": [{"taster": "A", "moisture": 3}],
    "another mark": [{"taster": "A", "other": {"liking": 4}}],
}


class TestEatGate:
    @pytest.mark.parametrize("marks", EATEN.values(), ids=EATEN)
    @pytest.mark.parametrize("state", [NOT_SAFE, *UNKNOWN.values()], ids=["not safe", *UNKNOWN])
    def test_tastings_of_a_cook_not_known_to_be_safe_are_refused_and_nothing_is_kept(self, space, state, marks):
        view = started(space)
        with pytest.raises(NotAllowed, match=r"somebody tasted this cook[\s\S]*browning by eye"):
            log(space, view.id, **{**state, "scores": marks})
        assert view_development(space, ANN, development_id=view.id).cooks == ()

    def test_what_can_be_seen_is_always_welcome(self, space):
        view = started(space)
        record = log(space, view.id, may_taste=None, **{**NOT_SAFE, "scores": by_eye()})
        assert (record.verdict.status, record.cook.panel_mean("browning")) == ("not_safe", 2.75)

    def test_the_reason_is_named(self, space):
        view = started(space)
        with pytest.raises(NotAllowed, match=r"75\.9"):
            log(space, view.id, **NOT_SAFE)

    def test_each_taster_must_have_been_asked(self, space):
        view = started(space)
        with pytest.raises(NotAllowed, match="Taster B was not asked"):
            log(space, view.id, may_taste={"A": True})
        with pytest.raises(NotAllowed, match="Taster B does not taste today"):
            log(space, view.id, may_taste={"A": True, "B": False})
        with pytest.raises(NotAllowed, match="Nobody has said"):
            log(space, view.id, may_taste=None)

    def test_unknown_allergens_block_tasting(self, space):
        view = started(space, allergens=None)
        with pytest.raises(NotAllowed, match="Allergens are unknown"):
            log(space, view.id)

    def test_a_limit_that_nobody_approved_blocks_tasting(self, space):
        view = started(space, critical_limit=None)
        with pytest.raises(NotAllowed):
            log(space, view.id)

    def test_an_approved_nothing_to_kill_lets_taste_without_readings(self, space):
        limit = {"none": True, "rule": "baked before, nothing raw", "approved_by": "Quinn"}
        view = started(space, food_class="bakery", critical_limit=limit)
        assert log(space, view.id, core_temperature_c=None).verdict.status == "safe_to_taste"

    @pytest.mark.parametrize("history", [True, "imported from old.csv"])
    def test_the_mark_of_old_cooks_is_no_way_past_the_gate(self, space, history):
        view = started(space)
        with pytest.raises(NotAllowed, match="This mark is for cooks of old logs"):
            log(space, view.id, **{**NOT_SAFE, "history": history})

    def test_a_preview_says_the_same_and_keeps_nothing(self, space):
        view = started(space)
        found = preview_cook(space, ANN, development_id=view.id, cook=cook(**NOT_SAFE), may_taste=YES)
        assert (found.verdict.status, found.gate.allowed) == ("not_safe", False)
        assert len(found.problems) == 1
        assert "somebody tasted" in found.problems[0]
        safe = preview_cook(space, ANN, development_id=view.id, cook=cook(), may_taste=YES)
        assert (safe.gate.allowed, safe.problems, safe.questions) == (True, (), ())
        asked = preview_cook(space, ANN, development_id=view.id, cook=cook(mass_g=150.0, mass_out_g=130.0), may_taste=YES)
        assert [question.field for question in asked.questions] == ["mass_g"]
        assert view_development(space, ANN, development_id=view.id).cooks == ()


class TestCorrecting:
    def test_a_correction_is_a_new_row_in_the_place_of_the_old_one(self, space):
        view = started(space)
        first = log(space, view.id)
        log(space, view.id)
        corrected = correct_cook(
            space, BEN, development_id=view.id, cook_id=first.id, cook=cook(mass_g=185.0), reason="scale read wrong"
        )
        after = view_development(space, ANN, development_id=view.id)
        assert [(row.number, row.superseded) for row in after.cooks] == [(1, True), (2, False), (1, False)]
        assert [row.number for row in after.current_cooks] == [2, 1]
        assert (corrected.corrects, corrected.reason, corrected.logged_by) == (first.id, "scale read wrong", "Ben")

    def test_who_was_asked_when_it_was_logged_need_not_be_asked_again(self, space):
        view = started(space)
        first = log(space, view.id)
        record = correct_cook(space, ANN, development_id=view.id, cook_id=first.id, cook=cook(note="x"), reason="r")
        assert record.cook.panel_mean("texture") == 3

    def test_readings_corrected_below_the_limit_take_the_tastings_away(self, space):
        view = started(space)
        first = log(space, view.id)
        with pytest.raises(NotAllowed, match=r"75\.9"):
            correct_cook(space, ANN, development_id=view.id, cook_id=first.id, cook=cook(**NOT_SAFE), reason="r")
        record = correct_cook(
            space, ANN, development_id=view.id, cook_id=first.id, cook=cook(**NOT_SAFE, scores=by_eye()), reason="r"
        )
        assert record.verdict.status == "not_safe"

    def test_new_tastings_pass_the_gate(self, space):
        view = started(space)
        first = log(space, view.id, may_taste=None, scores=None, rest_covered=None)
        with pytest.raises(NotAllowed):
            correct_cook(space, ANN, development_id=view.id, cook_id=first.id, cook=cook(rest_covered=None), reason="r")
        with pytest.raises(NotAllowed, match="Nobody has said"):
            correct_cook(space, ANN, development_id=view.id, cook_id=first.id, cook=cook(), reason="r")
        record = correct_cook(
            space, ANN, development_id=view.id, cook_id=first.id, cook=cook(), reason="it was covered", may_taste=YES
        )
        assert record.verdict.may_taste

    def test_tastings_from_before_a_stricter_limit_stay_when_something_else_is_corrected(self, space):
        view = started(space)
        first = log(space, view.id)
        edit_brief(space, QUINN, development_id=view.id, brief=brief(critical_limit={**LIMIT, "core_temperature_c": 80}))
        record = correct_cook(space, ANN, development_id=view.id, cook_id=first.id, cook=cook(note="seen"), reason="note")
        assert (record.verdict.status, record.brief_version) == ("not_safe", 1)
        with pytest.raises(NotAllowed):
            add_scores(space, ANN, development_id=view.id, cook_id=first.id, scores=[tasting("C")], may_taste={"C": True})

    def test_a_row_is_corrected_once(self, space):
        view = started(space)
        first = log(space, view.id)
        correct_cook(space, ANN, development_id=view.id, cook_id=first.id, cook=cook(note="1"), reason="r")
        with pytest.raises(Conflict, match="corrected by somebody else"):
            correct_cook(space, BEN, development_id=view.id, cook_id=first.id, cook=cook(note="2"), reason="r")

    def test_sent_twice_it_is_one_row(self, space):
        view = started(space)
        first = log(space, view.id)
        for _ in range(2):
            correct_cook(space, ANN, development_id=view.id, cook_id=first.id, cook=cook(note="1"), reason="r", client_id="k")
        assert len(view_development(space, ANN, development_id=view.id).cooks) == 2

    def test_a_reason_is_needed_and_the_cook_must_be_of_this_development(self, space):
        view, other = started(space), started(space, dish="Other")
        first, foreign = log(space, view.id), log(space, other.id)
        with pytest.raises(InvalidDocument, match="reason"):
            correct_cook(space, ANN, development_id=view.id, cook_id=first.id, cook=cook(), reason=" ")
        with pytest.raises(NotFound, match="No cook of this development"):
            correct_cook(space, ANN, development_id=view.id, cook_id=foreign.id, cook=cook(), reason="r")
        with pytest.raises(NotFound, match="No cook of this development"):
            add_scores(space, ANN, development_id=view.id, cook_id=foreign.id, scores=[tasting()], may_taste=YES)

    def test_unlikely_values_are_asked_about(self, space):
        view = started(space)
        first = log(space, view.id)
        with pytest.raises(NeedsConfirmation):
            correct_cook(space, ANN, development_id=view.id, cook_id=first.id, cook=cook(mass_g=205.0), reason="r")


class TestAddingScores:
    def test_marks_are_added_by_a_correction_row(self, space):
        view = started(space)
        first = log(space, view.id, scores=by_eye(), may_taste=None)
        added = [tasting("A", texture=3, moisture=3), tasting("C", texture=3.5)]
        record = add_scores(
            space, ANN, development_id=view.id, cook_id=first.id, scores=added, may_taste={"A": True, "C": True}
        )
        marks = {score.taster: (score.browning, score.texture, score.moisture) for score in record.cook.scores or ()}
        assert marks == {"A": (2.5, 3, 3), "B": (3, None, None), "C": (None, 3.5, None)}
        assert (record.corrects, record.number) == (first.id, 1)

    def test_further_marks_join_those_there(self, space):
        view = started(space)
        first = log(space, view.id, scores=[{"taster": "A", "other": {"crisp": 3}}])
        more = [tasting("A", other={"liking": 4})]  # type: ignore[arg-type]
        record = add_scores(space, ANN, development_id=view.id, cook_id=first.id, scores=more, may_taste=YES)
        assert (record.cook.scores or ())[0].other == {"crisp": 3, "liking": 4}

    def test_an_unsafe_cook_gains_no_tasting(self, space):
        view = started(space)
        first = log(space, view.id, may_taste=None, **{**NOT_SAFE, "scores": by_eye()})
        with pytest.raises(NotAllowed, match=r"75\.9"):
            add_scores(space, ANN, development_id=view.id, cook_id=first.id, scores=[tasting()], may_taste=YES)
        seen = [tasting("C", browning=3)]
        assert add_scores(space, ANN, development_id=view.id, cook_id=first.id, scores=seen, may_taste={}).number == 1

    def test_the_newest_row_of_the_cook_is_meant_and_sending_twice_is_one_row(self, space):
        view = started(space)
        first = log(space, view.id, scores=by_eye(), may_taste=None)
        correct_cook(space, ANN, development_id=view.id, cook_id=first.id, cook=cook(scores=by_eye(), note="n"), reason="r")
        for _ in range(2):
            record = add_scores(
                space, ANN, development_id=view.id, cook_id=first.id, scores=[tasting()], may_taste=YES, client_id="s"
            )
        assert record.cook.note == "n"
        assert len(view_development(space, ANN, development_id=view.id).cooks) == 3


def test_another_oven_serial_does_not_count(space):
    view = started(space)
    edit_oven(space, ANN, oven_id=view.oven_id, oven=oven(serial="S1"))
    assert not log(space, view.id, oven_serial="S2").counts
    assert log(space, view.id, oven_serial="S1", scores=scores()).counts
