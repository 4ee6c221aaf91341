from __future__ import annotations

import pytest

from tests.oven_page.orders import sheets, taken
from tests.services.invented import ANN, NORTH, Clock
from tuner import services
from tuner.domain import Conflict, InvalidDocument, NotAllowed, NotFound
from tuner.services import Workspace


def signature(sheet: services.CookSheetRecord) -> str:
    return sheet.fragment.split("&s=")[1]


@pytest.fixture
def development(space: Workspace) -> str:
    return taken(space, 2)


def test_a_sheet_is_issued_for_a_taken_program_once_per_client_id(space: Workspace, development: str) -> None:
    record = services.view_development(space, ANN, development_id=development).pending_proposals[0]
    made = [
        services.issue_cook_sheet(space, ANN, proposal_id=record.id, for_cook=" R. Osei ", client_id="c1") for _ in range(2)
    ]
    assert made[0] == made[1]
    assert (made[0].number, made[0].state, made[0].for_cook) == (1, "sent", "R. Osei")
    second = services.issue_cook_sheet(space, ANN, proposal_id=record.id, client_id="c2")
    assert second.number == 2
    assert signature(second) != signature(made[0])
    assert services.list_cook_sheets(space, ANN, development_id=development) == (made[0], second)
    other = services.view_development(space, ANN, development_id=development).pending_proposals[1]
    with pytest.raises(Conflict):
        services.issue_cook_sheet(space, ANN, proposal_id=other.id, client_id="c1")


def test_no_sheet_for_what_was_not_taken(space: Workspace, development: str) -> None:
    open_one = services.view_development(space, ANN, development_id=development).open_proposals[0]
    with pytest.raises(NotAllowed, match="for a program that was taken"):
        services.issue_cook_sheet(space, ANN, proposal_id=open_one.id)
    with pytest.raises(NotFound):
        services.issue_cook_sheet(space, ANN, proposal_id="none")


@pytest.mark.parametrize("how", [{"language": "xx"}, {"holds_days": 0}, {"holds_days": 61}, {"for_cook": "x" * 201}])
def test_what_is_not_offered_is_refused(space: Workspace, development: str, how: dict[str, object]) -> None:
    with pytest.raises(InvalidDocument):
        sheets(space, development, 1, **how)


def test_withdrawn_once_with_its_reason(space: Workspace, development: str) -> None:
    sheet = sheets(space, development)[0]
    with pytest.raises(InvalidDocument):
        services.withdraw_cook_sheet(space, ANN, sheet_id=sheet.id, reason=" ")
    for _ in range(2):
        withdrawn = services.withdraw_cook_sheet(space, ANN, sheet_id=sheet.id, reason="other plan")
    assert (withdrawn.state, withdrawn.withdrawn_because) == ("withdrawn", "other plan")
    with pytest.raises(NotAllowed, match="other plan"):
        services.open_cook_sheet(space, sheet_id=sheet.id, signature=signature(sheet))


def test_the_link_ends_by_itself(space: Workspace, development: str, clock: Clock) -> None:
    sheet = sheets(space, development, 1, holds_days=2)[0]
    clock.forward(days=1, hours=23)
    assert services.open_cook_sheet(space, sheet_id=sheet.id, signature=signature(sheet))["number"] == 1
    clock.forward(hours=2)
    with pytest.raises(NotAllowed, match="held until"):
        services.open_cook_sheet(space, sheet_id=sheet.id, signature=signature(sheet))
    assert services.list_cook_sheets(space, ANN, development_id=development)[0].state == "expired"


def test_customers_see_only_their_own_sheets(space: Workspace, development: str) -> None:
    sheet = sheets(space, development)[0]
    with pytest.raises(NotFound):
        services.list_cook_sheets(space, NORTH, development_id=development)
    with pytest.raises(NotFound):
        services.withdraw_cook_sheet(space, NORTH, sheet_id=sheet.id, reason="not mine")


def test_a_record_of_another_kind_is_no_sheet(space: Workspace, development: str) -> None:
    sheet = sheets(space, development)[0]
    services.open_cook_sheet(space, sheet_id=sheet.id, signature=signature(sheet))
    with space.store.read(None) as reading:
        opened = reading.records.of_kind("cook_sheet_opened")[0]
    with pytest.raises(NotFound, match="opens no cook sheet"):
        services.open_cook_sheet(space, sheet_id=opened.id, signature=signature(sheet))
