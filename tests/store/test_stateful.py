"""The store against a dictionary: whatever is sent in whatever order, both hold the same, also after opening again."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule, run_state_machine_as_test

from tests.store.databases import copied_database
from tests.store.invented import OVEN, brief, context, cook, cook_entry
from tuner.domain import Conflict
from tuner.store import Store

CUSTOMERS = (None, "Vale", "North")
IDS = st.sampled_from(["a", "b", "c", "d"])
MASSES = st.floats(1, 20000).map(lambda mass: round(mass, 3))
NOTES = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=8)


class StoreAgainstDictionary(RuleBasedStateMachine):
    """One development for each customer; cooks, corrections and new briefs sent, sent again and sent wrong."""

    template = ""
    backend = ""

    @initialize()
    def opened(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.database = copied_database(self.backend, self.template, self.folder)
        self.url = self.database.__enter__()
        self.store = Store.open(self.url)
        self.cooks: dict[str, dict[str, tuple[int, float, str, str | None]]] = {}
        self.dishes: dict[str, list[str]] = {}
        self.of_customer: dict[str | None, str] = {}
        for customer in CUSTOMERS:
            with self.store.unit_of_work(context()) as work:
                oven = work.ovens.add(OVEN, client_id="o", customer=customer)
                added = work.developments.start(brief(), client_id="d", customer=customer, oven_id=oven.id)
                work.commit()
            self.cooks[added.id], self.dishes[added.id] = {}, ["Herb chicken strip"]
            self.of_customer[customer] = added.id

    @rule(customer=st.sampled_from(CUSTOMERS), client_id=IDS, mass=MASSES, note=NOTES)
    def log(self, customer: str | None, client_id: str, mass: float, note: str) -> None:
        development_id = self.of_customer[customer]
        model = self.cooks[development_id]
        known = model.get(client_id)
        sent = cook_entry(client_id, cook=cook(mass_g=mass, note=note))
        if known is not None and (known[1:3] != (mass, note) or known[3] is not None):
            with pytest.raises(Conflict):
                self._write(development_id, sent)
            return
        self._write(development_id, sent)
        numbers = [number for number, *_ in model.values()]
        model.setdefault(client_id, (max(numbers, default=0) + 1, mass, note, None))

    @rule(customer=st.sampled_from(CUSTOMERS), corrected=IDS, client_id=IDS, mass=MASSES)
    def correct(self, customer: str | None, corrected: str, client_id: str, mass: float) -> None:
        development_id = self.of_customer[customer]
        model = self.cooks[development_id]
        if corrected not in model or client_id in model:
            return
        sent = cook_entry(client_id, cook=cook(mass_g=mass, note="c"), corrects=self._id(development_id, corrected), reason="r")
        if any(entry[3] == corrected for entry in model.values()):
            with pytest.raises(Conflict):
                self._write(development_id, sent)
            return
        self._write(development_id, sent)
        model[client_id] = (model[corrected][0], mass, "c", corrected)

    @rule(customer=st.sampled_from(CUSTOMERS), dish=st.sampled_from(["One", "Two"]), behind=st.booleans())
    def new_brief(self, customer: str | None, dish: str, behind: bool) -> None:
        development_id = self.of_customer[customer]
        dishes = self.dishes[development_id]
        number = len(dishes) + (0 if behind else 1)
        client_id = f"brief-{len(dishes)}-{behind}"
        try:
            with self.store.unit_of_work(context(customer=customer)) as work:
                work.developments.add_brief(development_id, brief(dish=dish), number=number, client_id=client_id)
                work.commit()
        except Conflict:
            assert behind
        else:
            assert not behind
            dishes.append(dish)

    @rule()
    def open_again(self) -> None:
        self.store.close()
        self.store = Store.open(self.url)

    @rule(customer=st.sampled_from(CUSTOMERS), client_id=IDS)
    def begin_and_think_again(self, customer: str | None, client_id: str) -> None:
        with self.store.unit_of_work(context(customer=customer)) as work:
            development = work.developments.one(self.of_customer[customer])
            if client_id not in self.cooks[development.id]:
                work.cooks.add(development, cook_entry(client_id))

    @invariant()
    def both_hold_the_same(self) -> None:
        if not hasattr(self, "store"):
            return
        for customer, development_id in self.of_customer.items():
            with self.store.read(customer) as reading:
                kept = reading.cooks.of_development(development_id)
                dishes = [version.brief.dish for version in reading.developments.briefs(development_id)]
                assert len(reading.developments.all()) == (3 if customer is None else 1)
            by_id = {row.id: row.stamp.client_id for row in kept}
            found = {
                row.stamp.client_id: (row.number, row.cook.mass_g, row.cook.note, by_id.get(row.corrects or "")) for row in kept
            }
            assert found == self.cooks[development_id]
            corrected = {entry[3] for entry in self.cooks[development_id].values()}
            assert {row.stamp.client_id for row in kept if row.superseded} == corrected - {None}
            assert dishes == self.dishes[development_id]

    def teardown(self) -> None:
        if not hasattr(self, "store"):
            return
        with self.store.read(None) as reading:
            assert reading.audit.first_broken() is None
        self.store.close()
        self.database.__exit__(None, None, None)
        shutil.rmtree(self.folder)

    def _write(self, development_id: str, entry) -> None:
        with self.store.unit_of_work(context()) as work:
            work.cooks.add(work.developments.one(development_id), entry)
            work.commit()

    def _id(self, development_id: str, client_id: str) -> str:
        with self.store.read(None) as reading:
            rows = reading.cooks.of_development(development_id)
        return next(row.id for row in rows if row.stamp.client_id == client_id)


@pytest.mark.slow
def test_the_store_holds_what_a_dictionary_would(backend: str, template: str):
    machine = type("Machine", (StoreAgainstDictionary,), {"template": template, "backend": backend})
    run_state_machine_as_test(
        machine,
        settings=settings(
            max_examples=15 if backend == "sqlite" else 5,
            stateful_step_count=12,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
