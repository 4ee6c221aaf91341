"""Cook logs: shown, asked about, taken in once; old tastings come in as history; the mapping is remembered."""

from __future__ import annotations

import pytest

from tests.services.invented import ANN, NORTH, VALE, Clock, brief, cook, oven, program, started
from tuner.domain import InvalidDocument, NeedsConfirmation, NotAllowed
from tuner.exchange import LEAVE_OUT
from tuner.services import (
    ImportPreview,
    ImportReport,
    Workspace,
    add_scores,
    close_development,
    correct_cook,
    decide_proposal,
    import_cooks,
    next_proposals,
    preview_import,
    start_development,
    view_development,
)

HEAD = (
    "No;Air temp (°C);Time (s);Stage 1 share %;Stage 1 air %;Stage 1 MW %;Stage 2 share %;Stage 2 air %;Stage 2 MW %;"
    "Mass in (g);Start temp (°C);Core 1 (°C);Core 2 (°C);Core 3 (°C);Mass out (g);"
    "Taster A browning;Taster A texture;Taster A moisture"
)
COLD = "1;250;210;40;30;80;60;90;20;181,5;4,2;71,2;73,0;74,1;160,1;2,5;3;3"
HOT = "2;250;220;40;30;80;60;90;20;180,1;4,0;78,2;79,0;80,1;158,3;3;3,5;2,5"
MEAN = "Mean;;;;;;;;;180,8;;74,7;;;;;;"


def log(*rows: str, head: str = HEAD) -> bytes:
    return "\n".join([head, *rows, ""]).encode()


def preview(space: Workspace, development_id: str, data: bytes, who=ANN, **more) -> ImportPreview:
    return preview_import(space, who, development_id=development_id, data=data, filename="spring.csv", **more)


def taken_in(space: Workspace, development_id: str, data: bytes, filename: str = "spring.csv") -> ImportReport:
    mapping = preview(space, development_id, data).mapping
    return import_cooks(space, ANN, development_id=development_id, data=data, filename=filename, mapping=mapping)


def test_a_preview_keeps_nothing(space):
    view = started(space)
    found = preview(space, view.id, log(COLD, HOT, MEAN))
    assert (len(found.result.cooks), found.questions, found.remembered) == (2, (), False)
    assert view_development(space, ANN, development_id=view.id).cooks == ()


def test_cooks_go_in_and_what_is_left_out_is_listed(space):
    view = started(space)
    report = taken_in(space, view.id, log(COLD, "", HOT, MEAN, "3;250;banana;40;30;80;60;90;20;181;4;77;78;79;160;3;3;3"))
    assert (report.added, report.known) == (2, 0)
    assert [row.line for row in report.refused] == [6]
    assert "banana" in report.refused[0].reason
    assert {row.line for row in report.skipped} >= {5}
    rows = view_development(space, ANN, development_id=view.id).cooks
    assert [(row.number, row.source, row.delay_s) for row in rows] == [(1, "spring.csv", None), (2, "spring.csv", None)]


def test_what_was_tasted_below_the_limit_long_ago_is_kept_as_history_and_learned_from(space):
    from tuner.services.loading import load

    view = started(space)
    taken_in(space, view.id, log(COLD, HOT))
    cold, hot = view_development(space, ANN, development_id=view.id).cooks
    assert cold.verdict.status == "not_safe"
    assert cold.cook.history == hot.cook.history == "imported from spring.csv"
    assert cold.cook.panel_mean("texture") == 3
    assert len(load(space, ANN, view.id).cooks) == 2
    assert next_proposals(space, ANN, development_id=view.id)[0].proposal.reasons


def test_history_can_be_corrected_but_gains_no_tasting(space):
    view = started(space)
    taken_in(space, view.id, log(COLD))
    [old] = view_development(space, ANN, development_id=view.id).cooks
    fixed = type(old.cook).model_validate({**old.cook.model_dump(exclude_unset=True), "mass_g": 182.5, "history": None})
    record = correct_cook(space, ANN, development_id=view.id, cook_id=old.id, cook=fixed, reason="typed wrongly")
    assert (record.cook.history, record.source) == ("imported from spring.csv", "spring.csv")
    with pytest.raises(NotAllowed):
        add_scores(
            space,
            ANN,
            development_id=view.id,
            cook_id=old.id,
            scores=[type(cook().scores[0]).model_validate({"taster": "Z", "texture": 3})],  # type: ignore[index]
            may_taste={"Z": True},
        )


def test_nothing_goes_in_twice_whatever_the_file_is_called(space):
    view = started(space)
    taken_in(space, view.id, log(COLD, HOT))
    again = taken_in(space, view.id, log(HOT, COLD, "3;255;200;40;30;80;60;90;20;181;4;77;78;79;160;3;3;3"), "renamed.csv")
    assert (again.added, again.known) == (1, 2)
    assert len(view_development(space, ANN, development_id=view.id).cooks) == 3


def test_the_same_log_may_go_into_two_developments(space):
    view, other = started(space), started(space, dish="Other")
    assert taken_in(space, view.id, log(COLD)).added == taken_in(space, other.id, log(COLD)).added == 1


def test_open_questions_are_asked_and_nothing_goes_in_before_they_are_answered(space):
    view = started(space)
    dated = log(f"2026-02-20 10:15;{HOT}", head=f"When;{HEAD}")
    found = preview(space, view.id, dated)
    assert found.questions
    with pytest.raises(NeedsConfirmation, match="time zone") as asked:
        taken_in(space, view.id, dated)
    assert [question.code for question in asked.value.questions] == [question.code for question in found.questions]
    assert view_development(space, ANN, development_id=view.id).cooks == ()
    answered = found.mapping.answered(found.questions[0].code, "UTC")
    report = import_cooks(space, ANN, development_id=view.id, data=dated, filename="a.csv", mapping=answered)
    assert report.added == 1


def test_what_was_said_of_a_layout_is_remembered_for_its_next_file_but_not_for_other_customers(space):
    view = started(space)
    dated = f"When;{HEAD}"
    first = log(f"2026-02-20 10:15;{HOT}", head=dated)
    mapping = preview(space, view.id, first).mapping.answered("time_zone", "UTC")
    import_cooks(space, ANN, development_id=view.id, data=first, filename="a.csv", mapping=mapping)
    second = log(f"2026-02-21 09:00;{COLD}", head=dated)
    found = preview(space, view.id, second)
    assert (found.remembered, found.questions) == (True, ())
    theirs = start_development(space, VALE, brief=brief(), oven_id=_oven_of(space))
    assert not preview(space, theirs.id, second, who=VALE).remembered


def _oven_of(space: Workspace) -> str:
    from tuner.services import add_oven

    return add_oven(space, VALE, oven=oven()).id


def test_the_newest_answer_holds(space, clock: Clock):
    view = started(space)
    data = log(f"2026-02-20 10:15;{HOT}", head=f"When;{HEAD}")
    asked = preview(space, view.id, data).mapping
    for zone in ("UTC", "Europe/Berlin", "UTC"):
        import_cooks(space, ANN, development_id=view.id, data=data, filename="a.csv", mapping=asked.answered("time_zone", zone))
        clock.forward(minutes=1)
    assert preview(space, view.id, data).mapping.answers["time_zone"] == "UTC"


def test_a_closed_development_takes_nothing_in(space):
    view = started(space)
    mapping = preview(space, view.id, log(COLD)).mapping
    close_development(space, ANN, development_id=view.id, reason="x")
    with pytest.raises(NotAllowed, match="closed"):
        import_cooks(space, ANN, development_id=view.id, data=log(COLD), filename="a.csv", mapping=mapping)


@pytest.mark.parametrize("data", [b"", b"\x00\x01\x02", b"<html></html>"], ids=["empty", "bytes", "page"])
def test_what_is_no_table_is_refused(space, data: bytes):
    view = started(space)
    with pytest.raises(InvalidDocument):
        preview(space, view.id, data)


def test_another_customers_development_takes_nothing_in(space):
    view = started(space, customer="Vale")
    from tuner.domain import NotFound

    with pytest.raises(NotFound):
        preview(space, view.id, log(COLD), who=NORTH)


def test_an_imported_cook_of_another_day_uses_up_no_proposal(space):
    view = started(space)
    [record] = next_proposals(space, ANN, development_id=view.id)
    two_stages = program(duration_s=220)  # what the log calls cook 2
    decide_proposal(space, ANN, proposal_id=record.id, decision="change", program=two_stages, reason="as last spring")
    taken_in(space, view.id, log(HOT))
    after = view_development(space, ANN, development_id=view.id)
    assert after.cooks[0].cook.program == two_stages
    assert after.proposals[0].state == "changed"


def answered(space: Workspace, development_id: str, data: bytes, answer: str) -> ImportReport:
    """Import with every question answered alike, or left out where the answer is none of its choices."""
    mapping = preview(space, development_id, data).mapping
    for _ in range(20):
        if not mapping.questions:
            break
        question = next((one for one in mapping.questions if mapping.answers.get(one.code) != _choice(one, answer)), None)
        if question is None:
            break
        again = mapping.answered(question.code, _choice(question, answer))
        mapping = preview(space, development_id, data, mapping=again).mapping
    return import_cooks(space, ANN, development_id=development_id, data=data, filename="spring.csv", mapping=mapping)


def _choice(question, answer: str) -> str:
    return answer if answer in question.choices else LEAVE_OUT


FRIDGE = HEAD.replace("Start temp (°C)", "Fridge temp (°C)")
DATED = HEAD + ";Date"


@pytest.mark.parametrize(
    ("head", "rows", "answers"),
    [
        (FRIDGE, (COLD, HOT), (LEAVE_OUT, "start temperature")),
        (DATED, (COLD + ";14.03.2026", HOT + ";15.03.2026"), (LEAVE_OUT, "UTC", "Europe/Berlin")),
        (DATED, (COLD + ";14.03.2026", HOT + ";15.03.2026"), ("Europe/Berlin", LEAVE_OUT, "UTC")),
    ],
)
def test_another_answer_adds_no_cook_twice(space, head: str, rows: tuple[str, ...], answers: tuple[str, ...]):
    view = started(space)
    reports = [answered(space, view.id, log(*rows, head=head), answer) for answer in answers]
    assert [(report.added, report.known) for report in reports] == [(2, 0)] + [(0, 2)] * (len(answers) - 1)
    for report in reports[1:]:
        assert [row.line for row in report.skipped] == [2, 3]
        assert "went in before" in report.skipped[0].reason
    assert len(view_development(space, ANN, development_id=view.id).cooks) == 2


def test_a_row_that_was_added_to_since_is_no_new_cook_but_a_contradiction_is(space):
    view = started(space)
    bare = HOT.rsplit(";", 4)[0] + ";;;;"
    assert taken_in(space, view.id, log(COLD, bare)).added == 2
    grown = taken_in(space, view.id, log(COLD, HOT))
    assert (grown.added, grown.known) == (0, 2)
    assert [row.line for row in grown.skipped] == [3]
    other = taken_in(space, view.id, log(COLD, HOT.replace("78,2", "81,9")))
    assert (other.added, other.known) == (1, 1)


def test_rows_taken_in_one_development_can_go_into_another(space):
    first, second = started(space), started(space, dish="Another strip")
    assert taken_in(space, first.id, log(COLD, HOT)).added == 2
    assert taken_in(space, second.id, log(COLD, HOT)).added == 2


def test_values_left_out_of_cooks_that_went_in_are_reported(space):
    view = started(space)
    report = taken_in(space, view.id, log(COLD, HOT.replace("180,1", ">180")))
    assert report.added == 2
    assert [(row.line, ">180" in row.reason) for row in report.left_out] == [(3, True)]
