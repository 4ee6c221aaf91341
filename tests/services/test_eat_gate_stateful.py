"""Whatever people do in whatever order, no row claims a tasting of a cook that was not known to be safe."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Any, ClassVar

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule, run_state_machine_as_test

from tests.services.invented import ANN, BEN, LIMIT, QUINN, VALE, Clock, brief, cook, oven
from tests.store.databases import copied_database
from tuner.domain import Conflict, NotAllowed, Score, TestCook
from tuner.safety import eat_gate, tasted, verdict
from tuner.services import (
    Workspace,
    add_oven,
    add_scores,
    correct_cook,
    edit_brief,
    export_json,
    import_json,
    log_cook,
    open_workspace,
    start_development,
)
from tuner.services.loading import Loaded, load

PEOPLE = st.sampled_from([ANN, BEN, QUINN, VALE])
ANSWERS = st.sampled_from([None, {"A": True}, {"A": True, "B": True}, {"A": True, "B": False}])
MARKS = st.sampled_from(
    [
        None,
        [{"taster": "A", "browning": 3}],
        [{"taster": "A", "texture": 3}],
        [{"taster": "A", "browning": 3, "moisture": 3}, {"taster": "B", "other": {"liking": 4}}],
    ]
)
STATES = st.fixed_dictionaries(
    {
        "core_temperature_c": st.sampled_from([None, [76.4, 77, 79], [75.9, 77, 79], [79, 80, 82], [90, 91, 92], [60, 61, 62]]),
        "rest_covered": st.sampled_from([True, None]),
        "thermometer_checked_at": st.sampled_from(["2026-03-02T07:40:00Z", "2026-03-01T07:40:00Z", None]),
        "history": st.sampled_from([None, None, None, "from an old log"]),
        "scores": MARKS,
    }
)
LIMITS = st.sampled_from([LIMIT, {**LIMIT, "core_temperature_c": 80}, {**LIMIT, "core_temperature_c": 70}, None])


def made(state: dict[str, Any]) -> TestCook:
    found = cook(**state)
    codes = ["core_temperature_c.1=60"]
    return TestCook.model_validate({**found.model_dump(exclude_unset=True), "confirmed": codes})


class Kitchen(RuleBasedStateMachine):
    """People who log, correct, score, move the limit and take exports back, as they like."""

    template = ""
    memories: ClassVar[dict[str, Any]] = {}

    @initialize(allergens=st.sampled_from([["milk"], []]))
    def opened(self, allergens: list[str]) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.database = copied_database("sqlite", self.template, self.folder)
        self.space: Workspace = replace(open_workspace(self.database.__enter__(), clock=Clock()), **self.memories)
        self.allergens = allergens
        record = add_oven(self.space, ANN, oven=oven())
        self.id = start_development(self.space, ANN, brief=brief(allergens=allergens, customer="Vale"), oven_id=record.id).id
        self.old = 0

    @property
    def loaded(self) -> Loaded:
        return load(self.space, ANN, self.id)

    def row(self, place: int) -> str | None:
        rows = self.loaded.rows
        return rows[place % len(rows)].id if rows else None

    @rule(who=PEOPLE, state=STATES, may=ANSWERS)
    def log(self, who, state, may) -> None:
        sent = made(state)
        try:
            log_cook(self.space, who, development_id=self.id, cook=sent, may_taste=may)
        except NotAllowed:
            ate = any(tasted(score) for score in sent.scores or ())
            assert sent.history or (ate and not eat_gate(self.loaded.brief, sent, may).allowed)

    @rule(who=PEOPLE, place=st.integers(0, 9), state=STATES, may=ANSWERS)
    def correct(self, who, place, state, may) -> None:
        row = self.row(place)
        if row is not None:
            with contextlib.suppress(NotAllowed, Conflict):
                correct_cook(self.space, who, development_id=self.id, cook_id=row, cook=made(state), reason="r", may_taste=may)

    @rule(who=PEOPLE, place=st.integers(0, 9), marks=MARKS, may=ANSWERS)
    def score(self, who, place, marks, may) -> None:
        row = self.row(place)
        if row is not None and marks:
            scores = [Score.model_validate(mark) for mark in marks]
            with contextlib.suppress(NotAllowed, Conflict):
                add_scores(self.space, who, development_id=self.id, cook_id=row, scores=scores, may_taste=may or {})

    @rule(who=PEOPLE, limit=LIMITS)
    def move_the_limit(self, who, limit) -> None:
        wanted = brief(allergens=self.allergens, customer="Vale", critical_limit=limit)
        try:
            edit_brief(self.space, who, development_id=self.id, brief=wanted)
        except NotAllowed:
            assert limit is not None

    @rule(state=STATES)
    def take_in_an_old_cook(self, state) -> None:
        """As the import of a log does it."""
        from tuner.exchange.import_result import ImportedCook
        from tuner.services.importing import _add
        from tuner.services.taken_rows import taken_rows

        self.old += 1
        old = made({**state, "history": None})
        named = TestCook.model_validate({**old.model_dump(exclude_unset=True), "client_id": f"old-{self.old}"})
        row = ImportedCook(line=self.old, cook=named, row_mark=f"row {self.old}")
        with self.space.store.unit_of_work(self.space.context(ANN)) as work:
            added, _ = _add(work, self.loaded, [row], taken_rows(work, self.loaded), "old.csv")
            work.commit()
        assert added == 1

    @rule(who=st.sampled_from([ANN, VALE]))
    def take_the_own_export_back(self, who) -> None:
        report = import_json(self.space, who, data=export_json(self.space, who))
        assert report.added == 0

    @invariant()
    def nobody_tasted_what_was_not_safe(self) -> None:
        if not hasattr(self, "space"):
            return
        loaded = self.loaded
        briefs = {version.number: version.brief for version in loaded.briefs}
        for row in loaded.rows:
            if row.cook.history or not any(tasted(score) for score in row.cook.scores or ()):
                continue
            assert verdict(briefs[row.brief_version], row.cook).may_taste
            assert row.may_taste is not None
            assert eat_gate(briefs[row.brief_version], row.cook, row.may_taste).allowed

    @invariant()
    def only_imported_cooks_are_history(self) -> None:
        if hasattr(self, "space"):
            assert all(row.source == "old.csv" for row in self.loaded.rows if row.cook.history)

    def teardown(self) -> None:
        if hasattr(self, "space"):
            self.space.close()
            self.database.__exit__(None, None, None)
            shutil.rmtree(self.folder)


@pytest.mark.slow
def test_no_sequence_of_actions_gets_past_the_gate(template: str, memories: dict[str, Any]):
    machine = type("Machine", (Kitchen,), {"template": template, "memories": memories})
    run_state_machine_as_test(
        machine,
        settings=settings(max_examples=12, stateful_step_count=15, deadline=None, suppress_health_check=list(HealthCheck)),
    )
