"""Everything out as a file, and back to the same state."""

from __future__ import annotations

import csv
import io
import json

import pytest

from tests.services.invented import (
    ANN,
    BEN,
    LIMIT,
    NORTH,
    QUINN,
    VALE,
    YES,
    Clock,
    brief,
    cook,
    oven,
    program,
    started,
)
from tuner.domain import Conflict, InvalidDocument, NotAllowed
from tuner.services import (
    Actor,
    Workspace,
    add_oven,
    close_development,
    copy_development,
    correct_cook,
    decide_proposal,
    edit_brief,
    edit_oven,
    export_csv,
    export_json,
    first_day_plan,
    import_json,
    list_developments,
    list_ovens,
    log_cook,
    next_proposals,
    reopen_development,
    view_development,
)

ORG = Actor("Org")


def filled(space: Workspace, clock: Clock) -> str:
    """A development with something of everything, and a second one."""
    view = started(space, customer="Vale")
    clock.forward(minutes=10)
    [record] = next_proposals(space, ANN, development_id=view.id)
    decide_proposal(space, ANN, proposal_id=record.id, decision="change", reason="less", program=program())
    first = log_cook(space, VALE, development_id=view.id, cook=cook(), may_taste=YES, client_id="phone-1")
    clock.forward(minutes=-30)  # a clock set back must not change the order of anything
    correct_cook(space, BEN, development_id=view.id, cook_id=first.id, cook=cook(mass_g=184.0), reason="scale")
    edit_oven(space, ANN, oven_id=view.oven_id, oven=oven(microwave_rated_w=1400))
    edit_brief(space, QUINN, development_id=view.id, brief=brief(customer="Vale", critical_limit={**LIMIT, "guard_c": 1}))
    [second] = next_proposals(space, ANN, development_id=view.id)
    decide_proposal(space, ANN, proposal_id=second.id, decision="accept", reason="go")
    copied = copy_development(space, ANN, development_id=view.id, dish="Copy")
    first_day_plan(space, ANN, development_id=copied.id)
    close_development(space, ANN, development_id=view.id, reason="pause")
    reopen_development(space, ANN, development_id=view.id, reason="on")
    with space.store.unit_of_work(space.context(ANN)) as work:
        work.mappings.remember("layout", {"columns": [1, 2.5, None]}, client_id="m", customer=None)
        work.commit()
    return view.id


def test_an_export_comes_back_to_the_same_state_in_another_place(space, other_space, clock):
    filled(space, clock)
    data = export_json(space, ANN)
    report = import_json(other_space, ORG, data=data)
    assert (report.added, report.known, report.developments, report.ovens) == (2, 0, 2, 1)
    assert export_json(other_space, ORG) == data
    for line in list_developments(space, ANN):
        here = view_development(space, ANN, development_id=line.id)
        there = view_development(other_space, ANN, development_id=line.id)
        assert there.cooks == here.cooks
        assert there.proposals == here.proposals
        assert there.brief_versions == here.brief_versions
        assert (there.state, there.state_reason, there.moved_at) == (here.state, here.state_reason, here.moved_at)
        assert there.assessment == here.assessment
    assert list_ovens(other_space, ANN) == list_ovens(space, ANN)
    with other_space.store.read(None) as reading:
        assert reading.audit.first_broken() is None
        assert {entry.by for entry in reading.audit.entries()} == {"Org"}


def test_the_same_export_again_adds_nothing(space, other_space, clock):
    filled(space, clock)
    data = export_json(space, ANN)
    for place in (space, other_space):
        import_json(place, ANN, data=data)
        again = import_json(place, ANN, data=data)
        assert (again.added, again.known, again.developments, again.ovens) == (0, 2, 0, 0)
        assert export_json(place, ANN) == data


def test_a_phone_that_sends_a_cook_again_after_a_move_is_known(space, other_space, clock):
    view_id = filled(space, clock)
    import_json(other_space, ORG, data=export_json(space, ANN))
    log_cook(other_space, VALE, development_id=view_id, cook=cook(), may_taste=YES, client_id="phone-1")
    assert len(view_development(other_space, ANN, development_id=view_id).cooks) == 2
    with pytest.raises(Conflict):
        log_cook(other_space, VALE, development_id=view_id, cook=cook(note="x"), may_taste=YES, client_id="phone-1")


def test_copies_that_went_on_apart_are_joined_with_numbers_of_their_own(space, other_space, clock):
    view_id = filled(space, clock)
    import_json(other_space, ORG, data=export_json(space, ANN))
    log_cook(space, ANN, development_id=view_id, cook=cook(note="here"), may_taste=YES)
    log_cook(other_space, ANN, development_id=view_id, cook=cook(note="there"), may_taste=YES)
    report = import_json(space, ORG, data=export_json(other_space, ANN))
    assert report.added == 1
    rows = view_development(space, ANN, development_id=view_id).current_cooks
    assert [(row.number, row.cook.note) for row in rows] == [(1, None), (2, "here"), (3, "there")]


def test_one_development_can_be_exported_alone_with_its_oven(space, other_space, clock):
    view_id = filled(space, clock)
    add_oven(space, ANN, oven=oven(name="Unused"))
    data = export_json(space, ANN, development_id=view_id)
    content = json.loads(data)
    assert [development["id"] for development in content["developments"]] == [view_id]
    assert len(content["ovens"]) == 1
    import_json(other_space, ORG, data=data)
    assert export_json(other_space, ORG, development_id=view_id) == data


def test_all_cooks_come_out_as_one_table(space, clock):
    view_id = filled(space, clock)
    table = list(csv.DictReader(io.StringIO(export_csv(space, ANN).decode("utf-8"), newline="")))
    assert [(row["cook_number"], row["superseded"], row["mass_g"]) for row in table] == [
        ("1", "yes", "183"),
        ("1", "no", "184"),
    ]
    assert {row["development_id"] for row in table} == {view_id}
    assert export_csv(space, NORTH).count(b"\r\n") == 1  # the headings alone


def test_a_customer_exports_and_takes_back_its_own(space, other_space, clock):
    filled(space, clock)
    content = json.loads(export_json(space, VALE))
    assert {development["customer"] for development in content["developments"]} == {"Vale"}
    assert json.loads(export_json(space, NORTH))["developments"] == []
    with pytest.raises(NotAllowed, match="others than 'North'"):
        import_json(other_space, NORTH, data=export_json(space, ANN))


def test_a_customer_can_not_reach_for_another_ones_oven(space, clock):
    mine = started(space, customer="Vale")
    edit_oven(space, ANN, oven_id=mine.oven_id, oven=oven(microwave_rated_w=1400))
    assert import_json(space, VALE, data=export_json(space, VALE)).added == 0  # the house's oven, which its development uses
    theirs = add_oven(space, NORTH, oven=oven(name="North's"))

    def use_theirs(content) -> None:
        content["ovens"][0]["id"] = theirs.id
        content["developments"][0] |= {"id": "new", "oven_id": theirs.id}

    with pytest.raises(NotAllowed, match="none of 'Vale'"):
        import_json(space, VALE, data=changed(export_json(space, VALE), use_theirs))


def changed(data: bytes, change) -> bytes:
    content = json.loads(data)
    change(content)
    return json.dumps(content).encode()


def test_a_document_is_no_way_past_the_eat_gate(space, other_space, clock):
    filled(space, clock)
    data = export_json(space, ANN)

    def undercook(content) -> None:
        for entry in content["developments"][0]["cooks"]:
            entry["cook"]["core_temperature_c"] = [60.0, 61.0, 62.0]

    with pytest.raises(NotAllowed, match=r"Cook 1 of 'Herb chicken strip': The scores say that somebody tasted"):
        import_json(other_space, ORG, data=changed(data, undercook))

    def of_old(content) -> None:
        undercook(content)
        for entry in content["developments"][0]["cooks"]:
            entry["cook"]["history"] = "from an old log"

    assert import_json(other_space, ORG, data=changed(data, of_old)).added == 2


def test_a_document_is_no_way_past_the_approver(space, other_space, clock):
    filled(space, clock)

    def approve_oneself(content) -> None:
        content["developments"][0]["brief_versions"][1]["brief"]["critical_limit"]["approved_by"] = "Ann"

    def approve_nothing(content) -> None:
        del content["developments"][0]["brief_versions"][1]["brief"]["critical_limit"]["rule"]

    def let_the_developer_enter_it(content) -> None:
        content["developments"][0]["brief_versions"][1]["by"] = "Ann"

    for change in (approve_oneself, approve_nothing, let_the_developer_enter_it):
        with pytest.raises(NotAllowed, match="may not set"):
            import_json(other_space, ORG, data=changed(export_json(space, ANN), change))
    assert list_developments(other_space, ANN) == ()


def test_a_document_written_by_hand_needs_no_order_and_no_ids(other_space):
    document = {
        "format": "test-cook-tuner/1",
        "ovens": [
            {"id": "o", "versions": [{"number": 1, "oven": oven().model_dump(mode="json", exclude_unset=True), "by": "A", "at": "2026-01-02T00:00:00Z"}]}
        ],
        "developments": [
            {
                "id": "d",
                "oven_id": "o",
                "brief_versions": [
                    {"number": 1, "brief": brief().model_dump(mode="json", exclude_unset=True), "by": "A", "at": "2026-01-03T00:00:00Z"}
                ],
                "cooks": [
                    {
                        "id": f"c{hour}",
                        "number": hour,
                        "cook": cook(scores=None).model_dump(mode="json", exclude_unset=True),
                        "by": "A",
                        "at": f"2026-01-01T0{hour}:00:00Z",
                    }
                    for hour in (1, 2)
                ],
            }
        ],
    }  # fmt: skip
    data = json.dumps(document).encode()
    assert import_json(other_space, ORG, data=data).added == 2
    assert import_json(other_space, ORG, data=data).known == 2
    view = view_development(other_space, ORG, development_id="d")
    assert [record.number for record in view.cooks] == [1, 2]


def test_what_is_no_export_is_refused_and_nothing_is_kept(other_space):
    for data in (b"", b"{}", b"[1]", b"\xff\xfe", b'{"format": "test-cook-tuner/1", "ovens": 3}'):
        with pytest.raises(InvalidDocument):
            import_json(other_space, ORG, data=data)
    assert list_ovens(other_space, ORG) == ()


def test_half_a_document_is_not_kept(space, other_space, clock):
    filled(space, clock)
    add_oven(other_space, ANN, oven=oven(name="Taken"), client_id="oven")
    taken = list_ovens(other_space, ANN)[0].id

    def same_id(content) -> None:
        content["ovens"][0]["id"] = taken
        for development in content["developments"]:
            development["oven_id"] = taken

    with pytest.raises(Conflict):
        import_json(other_space, ORG, data=changed(export_json(space, ANN), same_id))
    assert list_developments(other_space, ANN) == ()
    assert [record.oven.name for record in list_ovens(other_space, ANN)] == ["Taken"]
