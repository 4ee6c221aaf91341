"""The main walk on every kind of database, and from one kind to the other."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.services.invented import ANN, QUINN, VALE, YES, Clock, brief, cook, started
from tests.store.databases import BACKENDS, empty_database
from tuner.domain import Conflict
from tuner.services import (
    Workspace,
    add_scores,
    close_development,
    correct_cook,
    decide_proposal,
    edit_brief,
    export_json,
    import_json,
    list_developments,
    log_cook,
    next_proposals,
    open_workspace,
    view_development,
)


@pytest.fixture(params=BACKENDS)
def place(request: pytest.FixtureRequest, tmp_path: Path, clock: Clock) -> Iterator[Workspace]:
    with empty_database(request.param, tmp_path) as url:
        opened = open_workspace(url, clock=clock)
        yield opened
        opened.close()


def test_from_brief_to_the_next_program_and_out_as_a_file_and_in_again(place, other_space, clock):
    view = started(place, customer="Vale")
    [record] = next_proposals(place, ANN, development_id=view.id)
    decide_proposal(place, ANN, proposal_id=record.id, decision="accept", reason="go")
    document = {"program": record.program.model_dump(), "scores": None}
    first = log_cook(place, VALE, development_id=view.id, cook=cook(**document), client_id="phone")
    assert log_cook(place, VALE, development_id=view.id, cook=cook(**document), client_id="phone") == first
    with pytest.raises(Conflict):
        log_cook(place, VALE, development_id=view.id, cook=cook(**document, note="x"), client_id="phone")
    scored = add_scores(place, ANN, development_id=view.id, cook_id=first.id, scores=cook().scores or (), may_taste=YES)
    correct_cook(
        place, ANN, development_id=view.id, cook_id=scored.id, cook=cook(**{**document, "scores": None}), reason="mixed up"
    )
    edit_brief(place, QUINN, development_id=view.id, brief=brief(customer="Vale", rest_s=130), expected_version=1)
    clock.forward(days=2)
    [line] = list_developments(place, VALE)
    assert (line.idle_days, line.cook_count, line.status) == (2, 1, "gathering")
    close_development(place, ANN, development_id=view.id, reason="done")
    after = view_development(place, ANN, development_id=view.id)
    assert [(row.number, row.superseded) for row in after.cooks] == [(1, True), (1, True), (1, False)]
    assert [one.state for one in after.proposals] == ["cooked"]
    data = export_json(place, ANN)
    import_json(other_space, ANN, data=data)
    assert export_json(other_space, ANN) == data
    assert view_development(other_space, ANN, development_id=view.id).cooks == after.cooks
    import_json(place, ANN, data=data)
    assert export_json(place, ANN) == data
