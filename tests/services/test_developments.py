"""Developments: started, copied, edited, closed and opened again; customers kept apart."""

from __future__ import annotations

import pytest

from tests.services.invented import ANN, BEN, LIMIT, NORTH, QUINN, VALE, Clock, brief, cook, oven, started
from tuner.domain import Conflict, InvalidDocument, NeedsConfirmation, NotAllowed, NotFound
from tuner.services import (
    add_oven,
    archive_development,
    assess_development,
    close_development,
    copy_development,
    edit_brief,
    export_json,
    list_developments,
    log_cook,
    next_proposals,
    reopen_development,
    start_development,
    view_development,
)


class TestStarting:
    def test_a_new_development_says_where_it_stands(self, space):
        view = started(space)
        assert (view.dish, view.state, view.brief_version, view.started_by) == ("Herb chicken strip", "open", 1, "Ann")
        assert view.assessment.status == "gathering"
        assert view.feasibility.possible in ("yes", "doubtful", "no")
        assert view.limit.core_temperature_c == 74
        assert (view.cooks, view.proposals, view.decisions) == ((), (), ())
        assert assess_development(space, ANN, development_id=view.id) == view.assessment

    def test_sent_twice_it_is_started_once(self, space):
        assert started(space).id == started(space).id
        assert len(list_developments(space, ANN)) == 1

    def test_the_same_id_with_another_brief_is_a_conflict(self, space):
        view = started(space)
        with pytest.raises(Conflict, match="used before with other content"):
            start_development(space, ANN, brief=brief(rest_s=60), oven_id=view.oven_id, client_id="dev None")

    def test_unlikely_values_are_asked_about_once_and_kept_as_confirmed(self, space):
        record = add_oven(space, ANN, oven=oven())
        unlikely = {**brief().model_dump(exclude_unset=True), "tasters": 1}
        with pytest.raises(NeedsConfirmation, match="tasters 1") as asked:
            start_development(space, ANN, brief=brief(tasters=1), oven_id=record.id)
        codes = [question.code for question in asked.value.questions]
        view = start_development(space, ANN, brief=brief(tasters=1, confirmed=codes), oven_id=record.id)
        assert view.brief.confirmed == tuple(codes)
        assert view.brief.model_dump(exclude_unset=True) == {**unlikely, "confirmed": tuple(codes)}

    def test_an_unknown_oven_is_not_found(self, space):
        with pytest.raises(NotFound, match="No oven has the id 'nowhere'"):
            start_development(space, ANN, brief=brief(), oven_id="nowhere")

    @pytest.mark.parametrize("client_id", ["", "x" * 101, "a\x00b"])
    def test_an_id_that_can_not_be_kept_is_refused(self, space, client_id):
        record = add_oven(space, ANN, oven=oven())
        with pytest.raises(InvalidDocument, match="client_id"):
            start_development(space, ANN, brief=brief(), oven_id=record.id, client_id=client_id)


LESS = {
    "colder": {**LIMIT, "core_temperature_c": 70},
    "nothing to kill": {"none": True, "rule": "r", "approved_by": "Quinn"},
    "a smaller guard": {**LIMIT, "guard_c": 1},
}


class TestCriticalLimit:
    @pytest.mark.parametrize("limit", LESS.values(), ids=LESS)
    def test_less_than_the_default_is_not_taken_from_the_developer(self, space, limit):
        record = add_oven(space, ANN, oven=oven())
        for who in (ANN, QUINN):  # who starts a development is its developer, whatever the role
            own = {**limit, "approved_by": "Somebody else"}
            with pytest.raises(NotAllowed, match=r"not taken from the recipe's developer.*Leave critical_limit out"):
                start_development(space, who, brief=brief(critical_limit=own), oven_id=record.id)
        view = started(space)
        with pytest.raises(NotAllowed, match="not taken from the recipe's developer"):
            edit_brief(space, ANN, development_id=view.id, brief=brief(critical_limit=limit))
        assert list_developments(space, ANN)[0].id == view.id

    @pytest.mark.parametrize("limit", LESS.values(), ids=LESS)
    def test_another_person_who_approves_may_enter_it_and_the_developer_may_keep_it(self, space, limit):
        view = started(space)
        entered = edit_brief(space, QUINN, development_id=view.id, brief=brief(critical_limit=limit))
        assert entered.brief.critical_limit == brief(critical_limit=limit).critical_limit
        kept = edit_brief(space, ANN, development_id=view.id, brief=brief(critical_limit=limit, dish="Renamed"))
        assert kept.brief_version == 3

    def test_another_food_class_under_the_same_limit_is_asked_anew(self, space):
        view = started(space, food_class="bakery", critical_limit={**LIMIT, "core_temperature_c": 60})
        with pytest.raises(NotAllowed, match="not taken from the recipe's developer"):
            edit_brief(
                space,
                ANN,
                development_id=view.id,
                brief=brief(critical_limit={**LIMIT, "core_temperature_c": 60}),
            )

    @pytest.mark.parametrize("missing", ["rule", "approved_by"])
    def test_even_the_approver_needs_rule_and_name(self, space, missing):
        view = started(space)
        limit = {name: value for name, value in LESS["colder"].items() if name != missing}
        with pytest.raises(NotAllowed, match=f"{missing} is missing"):
            edit_brief(space, QUINN, development_id=view.id, brief=brief(critical_limit=limit))

    @pytest.mark.parametrize("name", ["Ann", " ann ", "ANN"])
    def test_nobody_approves_the_own_recipe(self, space, name):
        record = add_oven(space, ANN, oven=oven())
        with pytest.raises(NotAllowed, match="approved by another person"):
            start_development(space, ANN, brief=brief(critical_limit={**LIMIT, "approved_by": name}), oven_id=record.id)

    def test_a_limit_above_the_default_is_anybodys_to_set(self, space):
        assert started(space, critical_limit={**LIMIT, "core_temperature_c": 80}).limit.core_temperature_c == 80

    def test_the_developer_is_who_started_it_not_who_edits(self, space):
        view = started(space)
        with pytest.raises(NotAllowed, match="approved by another person"):
            edit_brief(
                space, BEN, development_id=view.id, brief=brief(critical_limit={**LIMIT, "rest_s": 130, "approved_by": "Ann"})
            )


class TestBriefVersions:
    def test_an_edit_is_a_new_version_and_the_old_one_stays(self, space, clock: Clock):
        view = started(space)
        clock.forward(minutes=5)
        after = edit_brief(space, BEN, development_id=view.id, brief=brief(rest_s=150), expected_version=1)
        assert after.brief_version == 2
        assert [(one.version, one.brief.rest_s, one.written_by) for one in after.brief_versions] == [
            (1, 120, "Ann"),
            (2, 150, "Ben"),
        ]
        assert after.token > view.token
        assert after.moved_at == clock.now

    def test_the_same_brief_again_changes_nothing(self, space):
        view = started(space)
        assert edit_brief(space, ANN, development_id=view.id, brief=brief()) == view

    def test_somebody_was_faster(self, space):
        view = started(space)
        edit_brief(space, BEN, development_id=view.id, brief=brief(rest_s=150), expected_version=1)
        with pytest.raises(Conflict, match="version 2 now, and version 1 was edited"):
            edit_brief(space, ANN, development_id=view.id, brief=brief(rest_s=180), expected_version=1)

    def test_sent_twice_it_is_one_version(self, space):
        view = started(space)
        for _ in range(2):
            after = edit_brief(space, BEN, development_id=view.id, brief=brief(rest_s=150), expected_version=1, client_id="e1")
        assert after.brief_version == 2

    def test_unlikely_values_are_asked_about(self, space):
        view = started(space)
        with pytest.raises(NeedsConfirmation):
            edit_brief(space, ANN, development_id=view.id, brief=brief(tasters=1))


class TestCopying:
    def test_brief_and_oven_are_copied_and_cooks_stay(self, space):
        view = started(space)
        log_cook(space, ANN, development_id=view.id, cook=cook(scores=None))
        copied = copy_development(space, BEN, development_id=view.id, dish="Lemon chicken strip", client_id="copy")
        assert (copied.dish, copied.copied_from, copied.oven_id) == ("Lemon chicken strip", view.id, view.oven_id)
        assert copied.cooks == ()
        assert copied.brief.portion == view.brief.portion
        assert (
            copy_development(space, BEN, development_id=view.id, dish="Lemon chicken strip", client_id="copy").id == copied.id
        )

    def test_a_limit_below_the_default_is_not_copied(self, space):
        view = started(space)
        edit_brief(space, QUINN, development_id=view.id, brief=brief(critical_limit=LESS["colder"]))
        copied = copy_development(space, ANN, development_id=view.id)
        assert copied.brief.critical_limit is None
        assert copied.limit.core_temperature_c == 74

    def test_whoever_approved_the_limit_can_not_copy_it_for_an_own_recipe(self, space):
        view = started(space)
        with pytest.raises(NotAllowed, match="approved by another person"):
            copy_development(space, QUINN, development_id=view.id)

    def test_an_illegal_name_is_refused(self, space):
        view = started(space)
        with pytest.raises(InvalidDocument, match="dish"):
            copy_development(space, ANN, development_id=view.id, dish="")


class TestClosing:
    def test_closed_archived_and_opened_again(self, space):
        view = started(space)
        assert close_development(space, ANN, development_id=view.id, reason="proven").state == "closed"
        assert [line.status for line in list_developments(space, ANN)] == ["closed"]
        assert archive_development(space, ANN, development_id=view.id, reason="old").state == "archived"
        assert list_developments(space, ANN) == ()
        assert [line.status for line in list_developments(space, ANN, include_archived=True)] == ["archived"]
        again = reopen_development(space, BEN, development_id=view.id, reason="new supplier")
        assert (again.state, again.state_reason) == ("open", "new supplier")

    def test_nothing_is_done_on_a_closed_one(self, space):
        view = started(space)
        close_development(space, ANN, development_id=view.id, reason="dropped")
        actions = (
            lambda: log_cook(space, ANN, development_id=view.id, cook=cook(scores=None)),
            lambda: edit_brief(space, ANN, development_id=view.id, brief=brief(rest_s=150)),
            lambda: next_proposals(space, ANN, development_id=view.id),
        )
        for action in actions:
            with pytest.raises(NotAllowed, match=r"closed \(dropped\).*Reopen it"):
                action()

    def test_an_action_that_does_not_fit_is_refused(self, space):
        view = started(space)
        with pytest.raises(NotAllowed, match="is open and can't be marked open"):
            reopen_development(space, ANN, development_id=view.id, reason="x")
        close_development(space, ANN, development_id=view.id, reason="x", client_id="close")
        with pytest.raises(NotAllowed, match="is closed and can't be marked closed"):
            close_development(space, ANN, development_id=view.id, reason="x")
        assert close_development(space, ANN, development_id=view.id, reason="x", client_id="close").state == "closed"

    @pytest.mark.parametrize("reason", ["", "  ", "x" * 2001])
    def test_a_reason_is_needed(self, space, reason):
        view = started(space)
        with pytest.raises(InvalidDocument, match="reason"):
            close_development(space, ANN, development_id=view.id, reason=reason)


class TestCustomers:
    def test_the_house_starts_for_a_customer_and_the_customer_sees_it(self, space):
        view = started(space, customer="Vale")
        assert view.customer == "Vale"
        assert view_development(space, VALE, development_id=view.id).id == view.id
        assert [line.id for line in list_developments(space, VALE)] == [view.id]

    def test_what_belongs_to_another_is_not_found_by_any_use_case(self, space):
        view = started(space, customer="Vale")
        record = log_cook(space, ANN, development_id=view.id, cook=cook(scores=None))
        assert list_developments(space, NORTH) == ()
        from tuner import services

        actions = (
            lambda: services.view_development(space, NORTH, development_id=view.id),
            lambda: services.assess_development(space, NORTH, development_id=view.id),
            lambda: services.copy_development(space, NORTH, development_id=view.id),
            lambda: services.edit_brief(space, NORTH, development_id=view.id, brief=brief()),
            lambda: services.close_development(space, NORTH, development_id=view.id, reason="x"),
            lambda: services.archive_development(space, NORTH, development_id=view.id, reason="x"),
            lambda: services.reopen_development(space, NORTH, development_id=view.id, reason="x"),
            lambda: services.preview_cook(space, NORTH, development_id=view.id, cook=cook()),
            lambda: services.log_cook(space, NORTH, development_id=view.id, cook=cook(scores=None)),
            lambda: services.correct_cook(
                space, NORTH, development_id=view.id, cook_id=record.id, cook=cook(scores=None), reason="x"
            ),
            lambda: services.add_scores(
                space, NORTH, development_id=view.id, cook_id=record.id, scores=(), may_taste={"A": True}
            ),
            lambda: services.next_proposals(space, NORTH, development_id=view.id),
            lambda: services.first_day_plan(space, NORTH, development_id=view.id),
            lambda: services.what_if(space, NORTH, development_id=view.id, program=cook().program),
            lambda: services.preview_import(space, NORTH, development_id=view.id, data=b"a,b\n1,2\n", filename="a.csv"),
            lambda: services.export_json(space, NORTH, development_id=view.id),
            lambda: services.export_csv(space, NORTH, development_id=view.id),
            lambda: services.start_development(space, NORTH, brief=brief(), oven_id=view.oven_id),
        )
        for action in actions:
            with pytest.raises(NotFound):
                action()
        assert b"chicken" not in export_json(space, NORTH)

    def test_a_customer_starts_for_itself_only(self, space):
        record = add_oven(space, VALE, oven=oven())
        assert start_development(space, VALE, brief=brief(), oven_id=record.id).customer == "Vale"
        with pytest.raises(NotAllowed, match="customer is 'North', and you work for 'Vale'"):
            start_development(space, VALE, brief=brief(customer="North"), oven_id=record.id)

    def test_a_development_stays_with_whom_it_was_started_for(self, space):
        view = started(space, customer="Vale")
        with pytest.raises(NotAllowed, match="belongs to Vale"):
            edit_brief(space, ANN, development_id=view.id, brief=brief(customer="North"))
