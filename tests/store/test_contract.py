"""What every database must do for the store: the same tests on each of them."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.store.invented import (
    OVEN,
    PROGRAM,
    PROPOSAL,
    START,
    brief,
    context,
    cook,
    cook_entry,
    proposal_entry,
)
from tuner.domain import Conflict, NotFound, Oven
from tuner.store import Origin, Store


def add_oven(store: Store, *, client_id: str = "oven-1", customer: str | None = None, oven: Oven = OVEN) -> str:
    with store.unit_of_work(context()) as work:
        added = work.ovens.add(oven, client_id=client_id, customer=customer)
        work.commit()
    return added.id


def start(store: Store, *, client_id: str = "dev-1", customer: str | None = None) -> str:
    oven_id = add_oven(store, customer=customer)
    with store.unit_of_work(context()) as work:
        added = work.developments.start(brief(), client_id=client_id, customer=customer, oven_id=oven_id)
        work.commit()
    return added.id


def log(store: Store, development_id: str, client_id: str, **changes: object) -> str:
    with store.unit_of_work(context(minutes=20)) as work:
        added = work.cooks.add(work.developments.one(development_id), cook_entry(client_id, **changes))
        work.commit()
    return added.id


class TestOvens:
    def test_what_went_in_comes_out(self, store: Store):
        oven_id = add_oven(store)
        with store.read(None) as reading:
            kept = reading.ovens.current(oven_id)
        assert kept.oven == OVEN
        assert kept.oven.model_fields_set == OVEN.model_fields_set
        assert (kept.version, kept.stamp.by, kept.stamp.at) == (1, "Ann", START)

    def test_an_edit_is_a_new_version_and_the_old_one_stays(self, store: Store):
        oven_id = add_oven(store)
        changed = Oven.model_validate({**OVEN.model_dump(exclude_unset=True), "name": "Test kitchen right"})
        with store.unit_of_work(context("Ben", minutes=5)) as work:
            work.ovens.add_version(oven_id, changed, client_id="edit-1", number=2)
            work.commit()
        with store.read(None) as reading:
            versions = reading.ovens.versions(oven_id)
            listed = reading.ovens.all()
        assert [(kept.version, kept.oven.name, kept.stamp.by) for kept in versions] == [
            (1, "Test kitchen left", "Ann"),
            (2, "Test kitchen right", "Ben"),
        ]
        assert [kept.oven.name for kept in listed] == ["Test kitchen right"]

    def test_two_edits_of_the_same_version_are_a_conflict_for_the_second(self, store: Store):
        oven_id = add_oven(store)
        with store.unit_of_work(context()) as work:
            work.ovens.add_version(oven_id, OVEN, client_id="edit-1", number=2)
            work.commit()
        other = Oven.model_validate({**OVEN.model_dump(exclude_unset=True), "name": "Other"})
        with pytest.raises(Conflict, match="version 2 is there already"), store.unit_of_work(context("Ben")) as work:
            work.ovens.add_version(oven_id, other, client_id="edit-2", number=2)

    def test_ovens_are_listed_in_the_order_they_were_added(self, store: Store):
        names = ["Zeta", "Alpha", "Mid"]
        for name in names:
            add_oven(store, client_id=name, oven=Oven.model_validate({**OVEN.model_dump(exclude_unset=True), "name": name}))
        with store.read(None) as reading:
            assert [kept.oven.name for kept in reading.ovens.all()] == names


class TestOnce:
    def test_the_same_thing_sent_twice_is_kept_once(self, store: Store):
        development_id = start(store)
        first, second = log(store, development_id, "c1"), log(store, development_id, "c1")
        assert first == second
        with store.read(None) as reading:
            assert len(reading.cooks.of_development(development_id)) == 1
            assert reading.audit.count() == 5  # oven, its version, development, brief, cook

    def test_the_same_id_with_other_content_is_a_conflict(self, store: Store):
        development_id = start(store)
        log(store, development_id, "c1")
        with pytest.raises(Conflict, match="'c1' was used before with other content"):
            log(store, development_id, "c1", cook=cook(mass_g=184.0))
        with store.read(None) as reading:
            assert [kept.cook.mass_g for kept in reading.cooks.of_development(development_id)] == [183.0]

    def test_the_same_id_in_two_developments_is_two_cooks(self, store: Store):
        one, other = start(store), start(store, client_id="dev-2")
        assert log(store, one, "c1") != log(store, other, "c1", cook=cook(mass_g=184.0))

    def test_everything_is_idempotent_by_its_client_id(self, store: Store):
        development_id = start(store)
        for _ in range(2):
            with store.unit_of_work(context()) as work:
                development = work.developments.one(development_id)
                work.developments.start(brief(), client_id="dev-1", customer=None, oven_id=development.oven_id)
                work.developments.add_brief(development_id, brief(dish="B"), number=2, client_id="b2")
                proposal = work.proposals.issue(development, proposal_entry("p1"))
                work.proposals.decide(proposal.id, "change", "less", PROGRAM, client_id="d1")
                work.developments.change_state(development_id, "closed", "done", client_id="s1")
                work.mappings.remember("layout", {"a": 1}, client_id="m1", customer=None)
                work.commit()
        with store.read(None) as reading:
            assert len(reading.developments.all()) == 1
            assert len(reading.developments.briefs(development_id)) == 2
            assert len(reading.developments.states(development_id)) == 1
            assert [len(kept.decisions) for kept in reading.proposals.of_development(development_id)] == [1]
            assert len(reading.mappings.all()) == 1


class TestDevelopments:
    def test_newest_brief_state_and_time_are_what_counts(self, store: Store):
        development_id = start(store)
        with store.unit_of_work(context(minutes=30)) as work:
            work.developments.add_brief(development_id, brief(dish="New dish"), number=2, client_id="b2")
            work.developments.change_state(development_id, "closed", "enough", client_id="s1")
            work.developments.change_state(development_id, "open", "not enough", client_id="s2")
            work.commit()
        with store.read(None) as reading:
            kept = reading.developments.one(development_id)
            states = reading.developments.states(development_id)
        assert (kept.brief.dish, kept.brief_version, kept.state, kept.state_reason) == ("New dish", 2, "open", "not enough")
        assert kept.moved_at == START + timedelta(minutes=30)
        assert [(state.state, state.reason) for state in states] == [("closed", "enough"), ("open", "not enough")]

    def test_the_token_changes_with_every_write_that_concerns_it_and_only_then(self, store: Store):
        one, other = start(store), start(store, client_id="dev-2")

        def token() -> int:
            with store.read(None) as reading:
                return reading.developments.one(one).token

        seen = [token()]
        log(store, other, "elsewhere")
        assert token() == seen[0]
        log(store, one, "c1")
        seen.append(token())
        with store.unit_of_work(context()) as work:
            oven_id = work.developments.one(one).oven_id
            work.ovens.add_version(oven_id, OVEN, client_id="edit", number=2)
            work.commit()
        seen.append(token())
        assert seen == sorted(set(seen))
        assert len(seen) == 3

    def test_somebody_was_faster_with_the_brief(self, store: Store):
        development_id = start(store)
        with store.unit_of_work(context()) as work:
            work.developments.add_brief(development_id, brief(dish="A"), number=2, client_id="b2")
            work.commit()
        with pytest.raises(Conflict, match="version 2 is there already"), store.unit_of_work(context("Ben")) as work:
            work.developments.add_brief(development_id, brief(dish="B"), number=2, client_id="b3")

    def test_all_and_one_agree(self, store: Store):
        ids = [start(store), start(store, client_id="dev-2")]
        log(store, ids[0], "c1")
        with store.read(None) as reading:
            assert [kept.id for kept in reading.developments.all()] == ids
            assert list(reading.developments.all()) == [reading.developments.one(id_) for id_ in ids]


class TestCooks:
    def test_what_went_in_comes_out_with_who_and_when(self, store: Store):
        development_id = start(store)
        sent = cook(client_id="c1", scores=[{"taster": "A", "browning": 2.5, "other": {"crisp": 4}}])
        cook_id = log(store, development_id, "c1", cook=sent, may_taste={"A": True}, source="spring.csv")
        with store.read(None) as reading:
            kept = reading.cooks.one(cook_id)
        assert kept.cook == sent
        assert kept.cook.model_dump(mode="json", exclude_unset=True) == sent.model_dump(mode="json", exclude_unset=True)
        assert (kept.may_taste, kept.source, kept.stamp.at) == ({"A": True}, "spring.csv", START + timedelta(minutes=20))

    def test_a_correction_keeps_the_number_and_the_corrected_row(self, store: Store):
        development_id = start(store)
        first = log(store, development_id, "c1")
        log(store, development_id, "c2")
        correction = log(store, development_id, "c3", cook=cook(mass_g=190.0), corrects=first, reason="scale read wrong")
        with store.read(None) as reading:
            kept = reading.cooks.of_development(development_id)
        assert [(row.number, row.cook.mass_g, row.superseded, row.corrects) for row in kept] == [
            (1, 183.0, True, None),
            (2, 183.0, False, None),
            (1, 190.0, False, first),
        ]
        assert kept[2].id == correction
        assert kept[2].reason == "scale read wrong"

    def test_a_row_is_corrected_once(self, store: Store):
        development_id = start(store)
        first = log(store, development_id, "c1")
        log(store, development_id, "c2", corrects=first, reason="one")
        with pytest.raises(Conflict, match="corrected by somebody else"):
            log(store, development_id, "c3", corrects=first, reason="two")

    def test_a_cook_of_another_development_cannot_be_corrected_here(self, store: Store):
        one, other = start(store), start(store, client_id="dev-2")
        foreign = log(store, other, "c1")
        with pytest.raises(NotFound, match="No cook of this development"):
            log(store, one, "c2", corrects=foreign, reason="wrong one")

    def test_client_ids_are_told(self, store: Store):
        development_id = start(store)
        log(store, development_id, "c1")
        with store.read(None) as reading:
            assert reading.cooks.known_client_ids(development_id) == {"c1"}


class TestProposals:
    def test_a_proposal_stays_as_issued_and_decisions_add_up(self, store: Store):
        development_id = start(store)
        with store.unit_of_work(context()) as work:
            development = work.developments.one(development_id)
            added = work.proposals.issue(development, proposal_entry("p1", seed=2**40))
            work.proposals.decide(added.id, "accept", "looks right", None, client_id="d1")
            work.proposals.decide(added.id, "refuse", "oven is down", None, client_id="d2")
            work.commit()
        with store.read(None) as reading:
            kept = reading.proposals.one(added.id)
        assert (kept.proposal, kept.seed, kept.number) == (PROPOSAL, 2**40, 1)
        assert kept.versions == {"tuner": "0.1.0", "numpy": "2.4"}
        assert [(decision.decision, decision.reason) for decision in kept.decisions] == [
            ("accept", "looks right"),
            ("refuse", "oven is down"),
        ]

    def test_numbers_count_up(self, store: Store):
        development_id = start(store)
        with store.unit_of_work(context()) as work:
            development = work.developments.one(development_id)
            for client_id in ("p1", "p2"):
                work.proposals.issue(development, proposal_entry(client_id))
            work.commit()
        with store.read(None) as reading:
            assert [kept.number for kept in reading.proposals.of_development(development_id)] == [1, 2]


class TestMappings:
    def test_the_newest_mapping_of_a_layout_holds(self, store: Store):
        with store.unit_of_work(context()) as work:
            work.mappings.remember("layout", {"columns": {"a": "mass_g"}}, client_id="m1", customer=None)
            work.mappings.remember("layout", {"columns": {"a": "core"}}, client_id="m2", customer=None)
            work.commit()
        with store.read(None) as reading:
            newest = reading.mappings.newest("layout")
            assert newest is not None
            assert newest.mapping == {"columns": {"a": "core"}}
            assert [kept.mapping for kept in reading.mappings.all()] == [newest.mapping]
            assert reading.mappings.newest("other") is None


class TestDerived:
    def test_an_answer_is_found_by_what_it_was_computed_from(self, store: Store):
        with store.unit_of_work(context()) as work:
            work.derived.put("assessment", "dev", "h1", "one")
            work.derived.put("assessment", "dev", "h2", "two")
            work.derived.put("assessment", "other", "h3", "three")
            work.commit()
        with store.read(None) as reading:
            assert reading.derived.get("assessment", "h1") is None
            assert reading.derived.get("assessment", "h2") == "two"
            assert reading.derived.get("assessment", "h3") == "three"
            assert reading.audit.count() == 0


class TestCustomers:
    @pytest.fixture
    def both(self, store: Store) -> tuple[str, str]:
        return start(store, customer="Vale"), start(store, customer="North", client_id="dev-2")

    def test_the_house_sees_all_and_a_customer_its_own(self, store: Store, both: tuple[str, str]):
        with store.read(None) as reading:
            assert [kept.id for kept in reading.developments.all()] == list(both)
            assert len(reading.ovens.all()) == 2
        with store.read("North") as reading:
            assert [kept.id for kept in reading.developments.all()] == [both[1]]
            assert [kept.customer for kept in reading.ovens.all()] == ["North"]

    def test_what_belongs_to_another_customer_is_not_found(self, store: Store, both: tuple[str, str]):
        vale = both[0]
        cook_id = log(store, vale, "c1")
        with store.unit_of_work(context()) as work:
            proposal = work.proposals.issue(work.developments.one(vale), proposal_entry("p1"))
            work.mappings.remember("layout", {"a": 1}, client_id="m1", customer="Vale")
            work.commit()
        with store.read("North") as reading:
            oven_id = reading.ovens.all()[0].id
            for read in (
                lambda: reading.developments.one(vale),
                lambda: reading.cooks.one(cook_id),
                lambda: reading.proposals.one(proposal.id),
            ):
                with pytest.raises(NotFound):
                    read()
            assert reading.developments.briefs(vale) == ()
            assert reading.cooks.of_development(vale) == ()
            assert reading.proposals.of_development(vale) == ()
            assert reading.mappings.newest("layout") is None
        with store.read("Vale") as reading, pytest.raises(NotFound):
            reading.ovens.current(oven_id)

    def test_a_customer_cannot_write_to_another_ones_things(self, store: Store, both: tuple[str, str]):
        vale = both[0]
        with store.read(None) as reading:
            oven_id = reading.developments.one(vale).oven_id
            development = reading.developments.one(vale)
        with store.unit_of_work(context()) as work:
            proposal = work.proposals.issue(development, proposal_entry("p1"))
            work.commit()
        writes = (
            lambda work: work.developments.add_brief(vale, brief(), number=2, client_id="x"),
            lambda work: work.developments.change_state(vale, "closed", "x", client_id="x"),
            lambda work: work.ovens.add_version(oven_id, OVEN, number=2, client_id="x"),
            lambda work: work.proposals.decide(proposal.id, "refuse", "x", None, client_id="x"),
        )
        for write in writes:
            with pytest.raises(NotFound), store.unit_of_work(context("Nora", "North")) as work:
                write(work)

    def test_the_same_name_at_two_customers_is_two_people(self, store: Store):
        start(store)
        for customer in ("Vale", "North"):
            with store.unit_of_work(context("Ann", customer)) as work:
                work.ovens.add(OVEN, client_id=f"oven-{customer}", customer=customer)
                work.commit()
        with store.read(None) as reading:
            assert len({entry.person_id for entry in reading.audit.entries()}) == 3
        with store.read("Vale") as reading:
            assert {entry.customer for entry in reading.audit.entries()} == {"Vale"}


class TestUnitOfWork:
    def test_nothing_is_kept_without_commit(self, store: Store):
        with store.unit_of_work(context()) as work:
            work.ovens.add(OVEN, client_id="oven-1", customer=None)
        with store.read(None) as reading:
            assert reading.ovens.all() == ()
            assert reading.audit.count() == 0

    def test_an_error_takes_everything_back(self, store: Store):
        development_id = start(store)
        with store.read(None) as reading:
            development = reading.developments.one(development_id)

        def half_way() -> None:
            with store.unit_of_work(context()) as work:
                work.cooks.add(development, cook_entry("c1"))
                work.cooks.add(development, cook_entry("c1", cook=cook(mass_g=190.0)))
                work.commit()

        with pytest.raises(Conflict):
            half_way()
        with store.read(None) as reading:
            assert reading.cooks.of_development(development_id) == ()

    def test_a_reading_sees_one_state_while_others_write(self, store: Store):
        development_id = start(store)
        with store.read(None) as reading:
            before = reading.cooks.of_development(development_id)
            log(store, development_id, "c1")
            assert reading.cooks.of_development(development_id) == before == ()
        with store.read(None) as reading:
            assert len(reading.cooks.of_development(development_id)) == 1

    def test_a_reading_has_nothing_to_write_with(self, store: Store):
        with store.read(None) as reading:
            shelves = [reading.ovens, reading.developments, reading.cooks, reading.proposals, reading.mappings]
            writing = {"add", "add_version", "start", "add_brief", "change_state", "issue", "decide", "remember"}
            assert not [name for shelf in shelves for name in writing if hasattr(shelf, name)]


class TestRestoring:
    def test_a_restored_row_keeps_its_id_writer_and_time_and_the_audit_tells_who_restored_it(self, store: Store):
        oven_id = add_oven(store)
        first = Origin("Old Hand", "Vale", START - timedelta(days=300))
        with store.unit_of_work(context("Ben")) as work:
            added = work.developments.start(
                brief(), client_id="d", customer="Vale", oven_id=oven_id, kept_id="kept-id", origin=first
            )
            development = work.developments.one(added.id)
            work.cooks.add(development, replace(cook_entry("c"), number=7, kept_id="cook-id"), origin=first)
            work.commit()
        with store.read(None) as reading:
            kept = reading.cooks.one("cook-id")
            entry = reading.audit.entries("kept-id")[-1]
            assert reading.developments.one("kept-id").moved_at == first.at
        assert (kept.number, kept.stamp.by, kept.stamp.by_customer, kept.stamp.at) == (7, "Old Hand", "Vale", first.at)
        assert (entry.by, entry.at, entry.subject_id) == ("Ben", START, "cook-id")
