"""A fixed plan with everything that was kept about it: its cooks, who agreed to what, its results."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from tuner.domain import Brief, FixedPlan, InvalidDocument, NotFound, Program
from tuner.domain.brief import EDGE
from tuner.services.loading import Loaded, read_rest
from tuner.services.proof_views import LeaveOut, ProofView, ResultRecord
from tuner.store import KeptCook, KeptDevelopment, KeptRecord, Reading, UnitOfWork, content_hash

if TYPE_CHECKING:
    from tuner.proof.evaluation import PlanState
    from tuner.proof.plan_cooks import PlanEntry

PLAN = "proof_plan"
COOK = "proof_cook"
LEAVE_OUT = "proof_leave_out"
LEAVE_OUT_AGREED = "proof_leave_out_agreed"
CORRECTION_AGREED = "proof_correction_agreed"
RESULT = "proof_result"
WINDOW = "operating_window"


@dataclass(frozen=True)
class KeptProof:
    """One plan and its records, read in one state of the store."""

    loaded: Loaded
    record: KeptRecord
    plan: FixedPlan
    records: tuple[KeptRecord, ...]
    plans: tuple[KeptRecord, ...]

    def of(self, kind: str) -> tuple[KeptRecord, ...]:
        """Records of one kind about this plan, in the order of writing."""
        return tuple(record for record in self.records if record.kind == kind)

    @cached_property
    def brief(self) -> Brief:
        """The brief that the plan was fixed for."""
        found = next((kept.brief for kept in self.loaded.briefs if kept.number == self.plan.brief_version), None)
        return found if found is not None else self.loaded.brief

    def rows_of(self, number: int) -> tuple[KeptCook, ...]:
        """All rows of a cook, the first one first."""
        return tuple(row for row in self.loaded.rows if row.number == number)

    def cook(self, cook_id: str) -> KeptCook:
        """Newest row of a cook, by the id of any of its rows.

        Raises
        ------
        NotFound
            If the development has no such cook.
        """
        found = next((row for row in self.loaded.rows if row.id == cook_id), None)
        if found is None:
            raise NotFound(f"No cook of this development has the id {cook_id!r}. Check the id.")
        return self.rows_of(found.number)[-1]

    @cached_property
    def leave_outs(self) -> tuple[LeaveOut, ...]:
        """Cooks asked to be left out, with who agreed."""
        agreed = {record.content["asked"]: record.stamp.by for record in self.of(LEAVE_OUT_AGREED)}
        return tuple(
            LeaveOut(
                record.id,
                record.content["cook_id"],
                record.content["number"],
                record.content["cause"],
                record.stamp.by,
                agreed.get(record.id),
            )
            for record in self.of(LEAVE_OUT)
        )

    @cached_property
    def entries(self) -> tuple[PlanEntry, ...]:
        """Cooks given to slots, in the order of cooking."""
        return tuple(sorted(self._entries(), key=lambda entry: (str(entry.cook.cooked_at or ""), entry.number)))

    def _entries(self) -> Iterator[PlanEntry]:
        from tuner.proof.plan_cooks import PlanEntry

        left_out = {
            one.number: f"{one.cause} (asked by {one.asked_by}, agreed by {one.agreed_by})"
            for one in self.leave_outs
            if one.agreed_by
        }
        agreed = {record.content["cook_id"] for record in self.of(CORRECTION_AGREED)}
        for record in self.of(COOK):
            rows = self.rows_of(record.content["number"])
            if not rows:
                continue
            newest = rows[-1]
            yield PlanEntry(
                slot=record.content["slot"],
                cook_id=newest.id,
                number=newest.number,
                cook=newest.cook,
                earlier=tuple(row.cook for row in rows[:-1]),
                agreed=newest.id in agreed,
                left_out=left_out.get(newest.number),
                too_early=self._too_early(rows),
            )

    def _too_early(self, rows: tuple[KeptCook, ...]) -> bool:
        fixed = self.record.stamp
        return rows[0].stamp.sequence < fixed.sequence or any(
            row.cook.cooked_at is not None and row.cook.cooked_at < fixed.at for row in rows
        )

    @cached_property
    def open_questions(self) -> tuple[str, ...]:
        """What keeps the plan from passing besides its cooks."""
        return tuple(self._questions())

    def _questions(self) -> Iterator[str]:
        from tuner.proof.fixing import brief_hash

        if brief_hash(self.loaded.brief) != self.plan.brief_hash:
            yield "The brief has changed since the plan was fixed (portion, windows, limit or rest): fix a new plan for it."
        yield from self._window_questions()
        given = {record.content["number"] for record in self.records_of_all_plans()}
        for number in dict.fromkeys(row.number for row in self.loaded.rows):
            rows = self.rows_of(number)
            if number in given or rows[0].stamp.sequence < self.record.stamp.sequence:
                continue
            if any(row.cook.purpose == "proof" and self._is_of_plan(row) for row in rows):
                yield f"Cook {number} was cooked for the proof and has no slot of the plan. Give it one; none is left aside."

    def _window_questions(self) -> Iterator[str]:
        """The card must not allow what is harder than the worst corner that was cooked."""
        window = window_for(self.all_records, self.plan.program)
        worst = next((slot for slot in self.plan.slots if slot.part == "worst corner"), None)
        if window is None or worst is None:
            return
        harder = [
            words
            for words, is_harder in (
                ("colder", window["start_temperature_c"]["low"] < worst.start_temperature_c - EDGE),
                ("heavier", window["mass_g"]["high"] > worst.mass_g + EDGE),
                ("more at once", window["load"]["high"] > worst.load),
            )
            if is_harder
        ]
        if harder:
            yield (
                f"The operating window kept for this program allows portions {' and '.join(harder)} than the worst corner of "
                "this plan. Keep a narrower window, or prove the program at that corner."
            )

    def _is_of_plan(self, row: KeptCook) -> bool:
        program = row.cook.done_program
        return program is not None and program.key == self.plan.program.key

    def records_of_all_plans(self) -> tuple[KeptRecord, ...]:
        """Cooks given to any plan of this development."""
        return tuple(record for record in self.all_records if record.kind == COOK)

    all_records: tuple[KeptRecord, ...] = ()

    @cached_property
    def state(self) -> PlanState:
        """How the plan stands now."""
        from tuner.proof.counting import tally
        from tuner.proof.evaluation import evaluate

        easy = {slot.number for slot in self.plan.slots if slot.part == "over ovens"}
        aside = {entry.number for entry in self.entries if entry.slot not in easy}
        cooks = [row.cook for row in self.loaded.current_rows if row.number not in aside]
        floor = tally(self.brief, self.loaded.oven, cooks, self.plan.program)
        return evaluate(
            self.brief,
            self.loaded.oven,
            self.plan,
            self.entries,
            simple_rule_met=floor.met,
            open_questions=self.open_questions,
        )

    @property
    def data_hash(self) -> str:
        """SHA-256 of what the state rests on: the plan, its cooks row by row, what was agreed, and the brief that counts."""
        rows = [row.id for entry in self.entries for row in self.rows_of(entry.number)]
        agreed = [record.id for record in self.records if record.kind != RESULT]
        return content_hash({"plan": self.plan.hash, "rows": rows, "agreed": agreed, "open": list(self.open_questions)})

    def view(self) -> ProofView:
        """As it is shown."""
        from tuner.proof.fixing import error_rates

        state = self.state
        filled = {cook.slot.number for cook in state.cooks if cook.fills or cook.standing == "waiting"}
        corner = state.part("worst corner")
        extended = (
            corner is not None
            and corner.state == "to cook"
            and corner.needed > sum(slot.part == "worst corner" and not slot.contingent for slot in self.plan.slots)
        )
        wanted = [slot for slot in self.plan.slots if slot.number not in filled and (extended or not slot.contingent)]
        results = self.of(RESULT)
        return ProofView(
            id=self.record.id,
            development_id=self.loaded.development.id,
            plan=self.plan,
            plan_hash=self.plan.hash,
            fixed_at=self.record.stamp.at,
            fixed_by=self.record.stamp.by,
            error_rates=error_rates(self.plan),
            state=state,
            next_slots=tuple(wanted) if state.state == "to cook" else (),
            leave_outs=self.leave_outs,
            result=self._result(results[-1]) if results else None,
            other_plans=len(self.plans) - 1,
        )

    def _result(self, record: KeptRecord) -> ResultRecord:
        content = record.content
        stale = content["data_hash"] != self.data_hash
        return ResultRecord(
            record.id, content["passed"], content["complete"], content["claim"], record.stamp.at, record.stamp.by, stale
        )


def window_for(records: Sequence[KeptRecord], program: Program) -> Mapping[str, Any] | None:
    """The operating window that holds for a program, None where none was kept."""
    found = None
    for record in records:
        if record.kind != WINDOW or record.superseded:
            continue
        if Program.model_validate(record.content["program"]).key == program.key:
            found = record.content
    return found


def read_proof(reading: Reading | UnitOfWork, plan_id: str) -> KeptProof:
    """A plan and everything about it.

    Raises
    ------
    NotFound
        If there is no such plan, or none this person may see.
    """
    record = reading.records.one(plan_id)
    if record.kind != PLAN or record.development_id is None:
        raise NotFound(f"No proof plan has the id {plan_id!r}. Check the id.")
    development = reading.developments.one(record.development_id)
    return kept_proof(reading, development, record)


def kept_proof(reading: Reading | UnitOfWork, development: KeptDevelopment, record: KeptRecord) -> KeptProof:
    """The same where plan record and development are known."""
    everything = reading.records.of_development(development.id)
    return KeptProof(
        loaded=read_rest(reading, development),
        record=record,
        plan=FixedPlan.model_validate(record.content),
        records=tuple(one for one in everything if one.about == record.id),
        plans=tuple(one for one in everything if one.kind == PLAN),
        all_records=everything,
    )


def newest_plan_of(
    reading: Reading | UnitOfWork, development: KeptDevelopment, plans: tuple[KeptRecord, ...]
) -> KeptProof | None:
    """The last plan among some, None where there is none."""
    return kept_proof(reading, development, plans[-1]) if plans else None


def refuse_unknown_slot(plan: FixedPlan, slot: int) -> None:
    """Refuse a slot that the plan does not have.

    Raises
    ------
    InvalidDocument
        If there is none of that number.
    """
    if plan.slot(slot) is None:
        raise InvalidDocument([f"slot is {slot}. This plan has slots 1 to {len(plan.slots)}. Correct the number."])
