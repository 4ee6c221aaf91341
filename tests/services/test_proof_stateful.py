"""Whatever people do in whatever order: no plan passes without all its cooks, no search cook counts, no failure disappears."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import ClassVar

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule, run_state_machine_as_test

from tests.services.invented import ANN, BEN, QUINN, Clock, program
from tests.services.proof_kitchen import OVENS, cook_all, cook_slot, developed, slot_cook
from tests.store.databases import copied_database
from tuner.domain import Conflict, InvalidDocument, NotAllowed, NotFound, PlanSetting
from tuner.safety import verdict
from tuner.services import (
    Workspace,
    agree_to_correction,
    agree_to_leave_out,
    ask_to_leave_out,
    cook_plan_slot,
    correct_cook,
    fix_plan,
    give_cook,
    list_proofs,
    log_cook,
    open_workspace,
    record_proof_result,
)
from tuner.services.loading import load

PEOPLE = st.sampled_from([ANN, BEN, QUINN])
MARGINS = st.sampled_from([4.0, 4.0, 4.0, 0.5, -0.5, -20.0])
REFUSED = (NotAllowed, NotFound, Conflict, InvalidDocument)


class ProofKitchen(RuleBasedStateMachine):
    """People who fix plans, cook, correct, leave out and agree as they like."""

    kitchens: ClassVar[list[tuple[str, str, Clock]]] = []

    @initialize(kitchen=st.integers(0, 3))
    def opened(self, kitchen) -> None:
        url, self.id, clock = self.kitchens[kitchen]
        self.folder = Path(tempfile.mkdtemp())
        self.database = copied_database("sqlite", url, self.folder)
        self.clock = Clock()
        self.clock.now = clock.now
        self.space: Workspace = open_workspace(self.database.__enter__(), clock=self.clock)
        self.below: set[int] = set()
        self.agreed: set[int] = set()
        self.searched: set[int] = set()

    @property
    def proofs(self):
        return list_proofs(self.space, ANN, development_id=self.id)

    def rows(self):
        return load(self.space, ANN, self.id).rows

    @rule(who=PEOPLE, cause=st.sampled_from([None, "seal replaced"]))
    def fix(self, who, cause) -> None:
        setting = PlanSetting(ovens=OVENS, people=("Ann", "Ben"), lots=("L1", "L2"))
        self.clock.forward(days=6)
        with contextlib.suppress(*REFUSED):
            fix_plan(self.space, who, development_id=self.id, program=program(), setting=setting, cause=cause)

    @precondition(lambda self: hasattr(self, "space"))
    @rule(leave=st.sampled_from([0, 0, 1, 20]))
    def cook_on(self, leave) -> None:
        for proof in self.proofs[-1:]:
            with contextlib.suppress(*REFUSED):
                cook_all(self.space, proof, self.clock, leave=leave)

    @rule(
        place=st.integers(0, 40), y=MARGINS, change=st.sampled_from([{}, {"load": 1}, {"completed": False}, {"mass_g": None}])
    )
    def cook_one(self, place, y, change) -> None:
        for proof in self.proofs[-1:]:
            slots = proof.next_slots or proof.plan.slots
            slot = slots[place % len(slots)]
            with contextlib.suppress(*REFUSED):
                found = cook_slot(self.space, proof, slot, self.clock, y=y, scores=None, **change)
                number = max(cook.entry.number for cook in found.state.cooks)
                if y < 0 and change.get("completed") is not False:
                    self.below.add(number)

    @rule(place=st.integers(0, 40), purpose=st.sampled_from(["search", "confirm", "proof"]), y=MARGINS)
    def log_beside_the_plan(self, place, purpose, y) -> None:
        for proof in self.proofs[-1:]:
            slot = proof.plan.slots[place % len(proof.plan.slots)]
            sent = slot_cook(slot, self.clock, y, purpose=purpose, scores=None)
            record = log_cook(self.space, ANN, development_id=self.id, cook=sent)
            if purpose != "proof":
                self.searched.add(record.number)

    @rule(who=PEOPLE, place=st.integers(0, 60), slot=st.integers(1, 40))
    def give(self, who, place, slot) -> None:
        rows = self.rows()
        for proof in self.proofs[-1:]:
            with contextlib.suppress(*REFUSED):
                row = rows[place % len(rows)]
                give_cook(self.space, who, plan_id=proof.id, slot=slot, cook_id=row.id)
                rows_of = [one for one in rows if one.number == row.number]
                if any(self.is_below(one) for one in rows_of):
                    self.below.add(row.number)

    def is_below(self, row) -> bool:
        return row.cook.completed is not False and verdict(load(self.space, ANN, self.id).brief, row.cook).status == "not_safe"

    @rule(
        who=PEOPLE,
        place=st.integers(0, 60),
        slot=st.integers(0, 30),
        y=st.sampled_from([4.0, -1.0]),
        purpose=st.sampled_from(["proof", "search"]),
    )
    def correct(self, who, place, slot, y, purpose) -> None:
        rows = [row for row in self.rows() if not row.superseded]
        for proof in self.proofs[-1:]:
            row = rows[place % len(rows)]
            sent = slot_cook(proof.plan.slots[slot % len(proof.plan.slots)], self.clock, y, purpose=purpose, scores=None)
            with contextlib.suppress(*REFUSED):
                correct_cook(self.space, who, development_id=self.id, cook_id=row.id, cook=sent, reason="read again")
                if purpose != "proof":
                    self.searched.add(row.number)
                mine = {cook.entry.number for one in self.proofs for cook in one.state.cooks}
                if y < 0 and row.number in mine:
                    self.below.add(row.number)
                self.agreed.discard(row.number)

    @rule(who=PEOPLE, place=st.integers(0, 60))
    def ask(self, who, place) -> None:
        for proof in self.proofs[-1:]:
            if proof.state.cooks:
                entry = proof.state.cooks[place % len(proof.state.cooks)].entry
                with contextlib.suppress(*REFUSED):
                    ask_to_leave_out(self.space, who, plan_id=proof.id, cook_id=entry.cook_id, cause="unlucky")

    @rule(who=PEOPLE, place=st.integers(0, 60))
    def agree(self, who, place) -> None:
        for proof in self.proofs[-1:]:
            if proof.leave_outs:
                asked = proof.leave_outs[place % len(proof.leave_outs)]
                with contextlib.suppress(*REFUSED):
                    agree_to_leave_out(self.space, who, plan_id=proof.id, asked_id=asked.id, reason="seen")

    @rule(who=PEOPLE, place=st.integers(0, 60))
    def agree_to_a_correction(self, who, place) -> None:
        for proof in self.proofs[-1:]:
            if proof.state.cooks:
                entry = proof.state.cooks[place % len(proof.state.cooks)].entry
                with contextlib.suppress(*REFUSED):
                    agree_to_correction(self.space, who, plan_id=proof.id, cook_id=entry.cook_id, reason="seen")
                    newest = [row for row in self.rows() if row.number == entry.number][-1]
                    if not self.is_below(newest):
                        self.agreed.add(entry.number)

    @precondition(lambda self: any(proof.state.state != "to cook" for proof in self.proofs[-1:]))
    @rule()
    def record(self) -> None:
        for proof in self.proofs[-1:]:
            with contextlib.suppress(*REFUSED):
                record_proof_result(self.space, ANN, plan_id=proof.id)

    @rule(place=st.integers(0, 30))
    def cook_a_slot_with_a_search_cook(self, place) -> None:
        for proof in self.proofs[-1:]:
            slot = proof.plan.slots[place % len(proof.plan.slots)]
            with contextlib.suppress(*REFUSED):
                sent = slot_cook(slot, self.clock, purpose="search", scores=None)
                cook_plan_slot(self.space, ANN, plan_id=proof.id, slot=slot.number, cook=sent)
                raise AssertionError("a search cook was taken")

    @invariant()
    def the_record_holds(self) -> None:
        if not hasattr(self, "space"):
            return
        failures = set()
        for proof in self.proofs:
            failures |= set(proof.state.failures)
            certain = {slot.number for slot in proof.plan.slots if not slot.contingent}
            filled = {cook.slot.number for cook in proof.state.cooks if cook.standing == "in"}
            if proof.state.state == "passed":
                assert certain <= filled
                assert not proof.state.failures
                assert proof.state.claim.startswith("proven")
            else:
                assert "proven" not in proof.state.claim
                assert "checked" not in proof.state.claim
            counted = {cook.entry.number for cook in proof.state.cooks if cook.standing in {"in", "outside"}}
            assert not counted & self.searched
            if proof.result is not None and proof.result.passed and not proof.result.stale:
                assert proof.state.state == "passed"
        assert self.below - self.agreed <= failures

    def teardown(self) -> None:
        if hasattr(self, "space"):
            self.space.close()
            self.database.__exit__(None, None, None)
            shutil.rmtree(self.folder)


@pytest.fixture(scope="module")
def kitchens(template: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[tuple[str, str, Clock]]]:
    """Databases to start from: a plan just fixed, one cook short of its end, three short, and cooked to its end."""
    with contextlib.ExitStack() as stack:
        made = []
        for leave in (None, 3, 1, 0):
            url = stack.enter_context(copied_database("sqlite", template, tmp_path_factory.mktemp("kitchen")))
            clock = Clock()
            space = open_workspace(url, clock=clock)
            view = developed(space, clock)
            setting = PlanSetting(ovens=OVENS, people=("Ann", "Ben"), lots=("L1", "L2"), greatest_load=2)
            proof = fix_plan(space, ANN, development_id=view.id, program=program(), setting=setting)
            if leave is not None:
                cook_all(space, proof, clock, leave=leave)
            space.close()
            made.append((url, view.id, clock))
        yield made


@pytest.mark.slow
def test_no_sequence_of_actions_passes_a_plan_that_was_not_cooked(kitchens) -> None:
    machine = type("Machine", (ProofKitchen,), {"kitchens": kitchens})
    run_state_machine_as_test(
        machine,
        settings=settings(max_examples=30, stateful_step_count=12, deadline=None, suppress_health_check=list(HealthCheck)),
    )
