"""Random sequences of actions by everybody: none reaches a release without its proof and signatures, none changes one.

A little model beside the tool notes what was truly done: which proof results were written, which passwords were right. The
tool's answers are held against it after every step.
"""

from __future__ import annotations

import contextlib
import shutil
import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule, run_state_machine_as_test

from tests.services.invented import ANN, Clock, brief, cook, started
from tests.services.releases import (
    CARL,
    PROVED,
    QUINN,
    ROOT,
    cheap,
    confirmed,
    password,
    picture,
    proof_result,
    recipe,
    record,
    top_up,
    window,
    with_people,
)
from tests.store.databases import copied_database
from tuner.domain import Program, TunerError
from tuner.domain.results import Assessment, Confirmations
from tuner.services import Actor, Workspace, edit_brief, knowing, log_cook, open_workspace
from tuner.services.portions import list_portions, log_portion, measure_portion, top_up_portion
from tuner.services.recipes import save_recipe
from tuner.services.release_files import check_file, export_release
from tuner.services.release_reading import ReleaseView
from tuner.services.release_signing import sign_release
from tuner.services.releasing import (
    begin_proving,
    draft_release,
    list_releases,
    mark_proven,
    propose_candidate,
    return_release,
    seal_release,
    withdraw_release,
)

PEOPLE = st.sampled_from([ANN, QUINN, CARL, ROOT, Actor("Nobody")])
ROLES = st.sampled_from(["developer", "food-safety approver", "customer approver"])
OTHER = Program.model_validate({**PROVED.model_dump(), "duration_s": 215})
PROGRAMS = st.sampled_from([PROVED, PROVED, OTHER])
REACHED: set[Any] = set()
WHOLE_PROOF: dict[str, Any] = {"complete": True, "passed": True, "corner": True, "strength": "full"}
PROOF_FLAWS: dict[str, dict[str, Any]] = {
    "incomplete": {"complete": False},
    "failed": {"passed": False},
    "no worst corner": {"corner": False},
    "too weak": {"strength": "light"},
}
FLAWS = [
    *("none", "none", "none", *PROOF_FLAWS, "evaluated again, failed", "recipe changed", "a cold cook"),
    *("wrong password", "one signature", "own approval"),
]
TRULY_BELOW = [70.0, 78.0, 79.0]


def reliable(*_: object) -> Assessment:
    """What the model says of reliability is tested elsewhere; here it always agrees, so that the rest is what holds."""
    return Assessment(
        status="proven",
        best_program=PROVED,
        confirmations=Confirmations(passed=3, needed=3),
        chance_reliable=0.9,
        cooks_left_estimate=0,
        cooks_left_range=(0, 0),
        advice=(),
    )


class Releasing(RuleBasedStateMachine):
    template = ""
    memories: dict[str, Any] = {}  # noqa: RUF012  # set once for the class, only read

    @initialize()
    def open(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.database = copied_database("sqlite", self.template, self.folder)
        self.clock = Clock()
        self.space: Workspace = cheap(replace(open_workspace(self.database.__enter__(), clock=self.clock), **self.memories))
        with_people(self.space)
        self.dev = started(self.space).id
        self.count = 0
        self.results: list[dict[str, Any]] = []
        self.last_result: str | None = None
        self.right_signatures: set[tuple[str, str, str]] = set()
        self.texts: dict[str, tuple[str, tuple[Any, ...]]] = {}
        self.served: set[str] = set()
        self.topped_up: dict[str, int] = {}

    def attempt(self, action: Any, *args: Any, **given: Any) -> Any:
        """Whatever is refused in words is refused; anything else is a fault."""
        self.count += 1
        try:
            return action(self.space, *args, **given)
        except TunerError:
            return None

    @property
    def versions(self) -> tuple[ReleaseView, ...]:
        return list_releases(self.space, ANN, development_id=self.dev)

    def version(self, which: int) -> str:
        versions = self.versions
        return versions[which % len(versions)].id if versions else "none"

    # what people do -------------------------------------------------------------------------------------------------

    @rule(who=PEOPLE, program=PROGRAMS, revision=st.sampled_from([None, "text", "minor", "major"]))
    def draft(self, who: Actor, program: Program, revision: Any) -> None:
        self.attempt(draft_release, who, development_id=self.dev, program=program, reason="better", revision=revision)

    @rule(who=PEOPLE, which=st.integers(-2, 2), step=st.sampled_from([propose_candidate, begin_proving, mark_proven]))
    def step(self, who: Actor, which: int, step: Any) -> None:
        self.attempt(step, who, release_id=self.version(which))

    @rule(who=PEOPLE)
    def every_step(self, who: Actor) -> None:
        for step in (propose_candidate, begin_proving, mark_proven):
            self.attempt(step, who, release_id=self.version(-1))

    @rule(who=PEOPLE, which=st.integers(-2, 2), restricted=st.booleans())
    def seal(self, who: Actor, which: int, restricted: bool) -> None:
        given: dict[str, Any] = {"standing": "restricted", "sites": ("North",)} if restricted else {}
        self.attempt(seal_release, who, release_id=self.version(which), **given)

    @rule(who=PEOPLE, role=ROLES, which=st.integers(-2, 2), right=st.booleans())
    def sign(self, who: Actor, role: Any, which: int, right: bool) -> None:
        release_id = self.version(which)
        secret = password(who.name) if right else "wrong password"
        done = self.attempt(sign_release, who, release_id=release_id, role=role, password=secret)
        self.clock.forward(minutes=6)
        if done is not None:
            assert right
            self.right_signatures.add((release_id, role, who.name))

    @rule()
    def both_sign(self) -> None:
        self.sign(ANN, "developer", -1, True)
        self.sign(QUINN, "food-safety approver", -1, True)

    @rule(who=PEOPLE, which=st.integers(-2, 2))
    def send_back(self, who: Actor, which: int) -> None:
        self.attempt(return_release, who, release_id=self.version(which), reason="look again")

    @rule(who=PEOPLE, which=st.integers(-2, 2), right=st.booleans())
    def withdraw(self, who: Actor, which: int, right: bool) -> None:
        secret = password(who.name) if right else "wrong password"
        self.attempt(withdraw_release, who, release_id=self.version(which), reason="complaint", password=secret)
        self.clock.forward(minutes=6)

    @rule(who=st.sampled_from([ANN, ANN, QUINN]), hold=st.sampled_from([0, 600]), crumb=st.sampled_from([120, 150]))
    def write_recipe(self, who: Actor, hold: float, crumb: float) -> None:
        parts = [
            {"name": "chicken", "amount_g": 1800, "allergens": []},
            {"name": "crumb", "amount_g": crumb, "allergens": ["gluten"]},
        ]
        self.attempt(save_recipe, who, development_id=self.dev, recipe=recipe(hold_s=hold, ingredients=parts), photo=picture())

    @rule(thickness=st.sampled_from([28, 35]))
    def change_brief(self, thickness: float) -> None:
        document = brief().model_dump(exclude_unset=True)
        document["portion"]["thickness_mm"] = thickness
        self.attempt(edit_brief, ANN, development_id=self.dev, brief=type(brief()).model_validate(document))

    @rule(program=PROGRAMS)
    def cook_four(self, program: Program) -> None:
        confirmed_view = type("View", (), {"id": self.dev})()
        with contextlib.suppress(TunerError):
            confirmed(self.space, confirmed_view, program=program, start=4 * self.count)  # type: ignore[arg-type]
        self.count += 1

    @rule()
    def cook_cold(self) -> None:
        self.count += 1
        cold = cook(core_temperature_c=TRULY_BELOW, scores=None)
        self.attempt(log_cook, ANN, development_id=self.dev, cook=cold, client_id=f"cold-{self.count}")

    @rule(
        complete=st.booleans(), passed=st.booleans(), corner=st.booleans(), strength=st.sampled_from(["full", "full", "light"])
    )
    def evaluate(self, complete: bool, passed: bool, corner: bool, strength: str) -> None:
        """The proof room writes what it found."""
        self.count += 1
        content = proof_result([], complete=complete, passed=passed, map_and_worst_corner=corner, strength=strength)
        with self.space.store.read(None) as reading:
            content["brief_version"] = reading.developments.one(self.dev).brief_version
        given = {} if self.last_result is None else {"corrects": self.last_result, "reason": "evaluated again"}
        self.last_result = record(self.space, self.dev, "proof_result", content, f"result-{self.count}", **given)
        self.results.append(content)

    @rule()
    def prepare(self) -> None:
        """Everything a good kitchen does, so that releases are reached often enough to be tested."""
        self.write_recipe(ANN, 0, 120)
        self.cook_four(PROVED)
        self.count += 1
        record(self.space, self.dev, "proof_plan", {}, f"plan-{self.count}")
        record(self.space, self.dev, "operating_window", window(), f"window-{self.count}")
        self.evaluate(True, True, True, "full")

    @rule(restricted=st.booleans(), flaw=st.sampled_from(FLAWS))
    def nearly_the_whole_way(self, restricted: bool, flaw: str) -> None:
        """Everything a release needs but, mostly, for one thing."""
        self.send_back(ANN, -1)
        self.change_brief(28)
        self.prepare()
        if flaw in PROOF_FLAWS:
            self.evaluate(**{**WHOLE_PROOF, **PROOF_FLAWS[flaw]})
        if restricted:
            self.count += 1
            with contextlib.suppress(TunerError):
                top_up(self.space, self.dev)
        self.draft(ANN, PROVED, None)
        self.every_step(ANN)
        self.seal(ANN, -1, restricted)
        if flaw == "evaluated again, failed":
            self.evaluate(**{**WHOLE_PROOF, "passed": False, "corner": False})
        if flaw == "recipe changed":
            self.write_recipe(ANN, 600, 150)
        if flaw == "a cold cook":
            self.cook_cold()
        self.sign(ANN, "developer", -1, flaw != "wrong password")
        if flaw != "one signature":
            self.sign(ANN if flaw == "own approval" else QUINN, "food-safety approver", -1, True)

    @rule(restricted=st.booleans())
    def the_whole_way(self, restricted: bool) -> None:
        self.nearly_the_whole_way(restricted, "none")
        self.cook_of_the_version_in_force(TRULY_BELOW, 2)

    @rule(readings=st.sampled_from([[78.0, 78.5, 79.0], [78.0], None, TRULY_BELOW]), times=st.integers(1, 2))
    def cook_of_the_version_in_force(self, readings: Any, times: int) -> None:
        """A portion where portions are cooked, and what may follow it."""
        live = next((place for place, view in enumerate(self.versions) if view.in_force), None)
        if live is None:
            return
        self.count += 1
        self.portion(live, readings, "North")
        for _ in range(times):
            self.more_of_a_portion(-1, [78.0, 78.5, 79.0], again=readings != TRULY_BELOW)

    # portions --------------------------------------------------------------------------------------------------------

    @rule(
        which=st.integers(-2, 2),
        readings=st.sampled_from([None, [78.0], [78.0, 78.5, 79.0], TRULY_BELOW]),
        site=st.sampled_from(["North", "South"]),
    )
    def portion(self, which: int, readings: Any, site: str) -> None:
        sent = cook(core_temperature_c=readings, scores=None, purpose="site_check")
        done = self.attempt(log_portion, ANN, release_id=self.version(which), site=site, cook=sent, client_id=f"p{self.count}")
        if done is not None and done.decision == "serve":
            assert readings is not None
            assert min(readings) >= 76
            assert len(readings) >= 3
            REACHED.add("served")

    @precondition(lambda self: any(view.in_force for view in self.versions))
    @rule(which=st.integers(-1, 5), readings=st.sampled_from([None, [78.0, 78.5, 79.0], TRULY_BELOW]), again=st.booleans())
    def more_of_a_portion(self, which: int, readings: Any, again: bool) -> None:
        for view in self.versions:
            known = list_portions(self.space, ANN, release_id=view.id)
            if not known:
                continue
            portion = known[which % len(known)]
            program = {**PROVED.model_dump(), "duration_s": PROVED.duration_s if again else 40}
            sent = cook(core_temperature_c=readings, scores=None, program=program)
            action = measure_portion if again else top_up_portion
            done = self.attempt(action, ANN, portion_id=portion.id, cook=sent)
            if done is not None and not again:
                self.topped_up[portion.id] = self.topped_up.get(portion.id, 0) + 1
                assert portion.decision == "top up"
                REACHED.add("topped up")
            if done is not None and done.decision == "serve":
                assert readings == [78.0, 78.5, 79.0]

    # what must always hold ---------------------------------------------------------------------------------------------

    @invariant()
    def nothing_is_released_without_proof_and_signatures(self) -> None:
        if not hasattr(self, "space"):
            return
        in_force = [view for view in self.versions if view.in_force]
        assert len(in_force) <= 1
        for view in self.versions:
            if not any(change.state in ("released", "restricted") for change in view.changes):
                continue
            REACHED.add(view.document and view.document.standing)
            document = view.document
            assert document is not None
            content = document.proof.content
            assert content in self.results
            if document.standing == "released":
                assert content["complete"] is True
                assert content["passed"] is True
            else:
                assert content["map_and_worst_corner"] is True
            assert content["strength"] == "full"
            signed = {(view.id, one.role, one.name) for one in view.signed}
            assert signed <= self.right_signatures
            assert {role for _, role, _ in signed} >= {"developer", "food-safety approver"}
            approvers = {name for _, role, name in signed if role != "developer"}
            assert not approvers & set(document.developers)

    @invariant()
    def what_was_sealed_stays_as_it_is(self) -> None:
        if not hasattr(self, "space"):
            return
        for view in self.versions:
            if view.text is not None:
                text, signatures = self.texts.setdefault(view.id, (view.text, view.signatures))
                assert view.text == text
                assert view.signatures[: len(signatures)] == signatures
                self.texts[view.id] = (text, view.signatures)

    @invariant()
    def no_portion_was_served_unmeasured_or_topped_up_twice(self) -> None:
        if not hasattr(self, "space"):
            return
        assert all(count == 1 for count in self.topped_up.values())
        for view in self.versions:
            for portion in list_portions(self.space, ANN, release_id=view.id):
                if portion.decision == "serve":
                    assert portion.cook.readings_c
                    assert min(portion.cook.readings_c) >= 76
                    assert len(portion.cook.readings_c) >= 3

    def teardown(self) -> None:
        if not hasattr(self, "space"):
            return
        for view in self.versions:
            if view.signed and not view.waits_for:
                assert check_file(self.space, ANN, data=export_release(self.space, ANN, release_id=view.id)).check.whole
        with self.space.store.read(None) as reading:
            assert reading.audit.first_broken() is None
        self.space.close()
        self.database.__exit__(None, None, None)
        shutil.rmtree(self.folder)


@pytest.mark.slow
def test_no_sequence_of_actions_gets_round_proof_and_signatures(
    template: str, memories: dict[str, Any], monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(knowing, "assessment_of", reliable)
    machine = type("Machine", (Releasing,), {"template": template, "memories": memories})
    run_state_machine_as_test(
        machine,
        settings=settings(
            max_examples=15, stateful_step_count=10, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
        ),
    )
    assert {"released", "restricted", "served", "topped up"} <= REACHED  # else nothing was tested
