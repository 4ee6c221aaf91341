"""Portions of a restricted release: none served unmeasured, none topped up twice."""

from __future__ import annotations

from typing import Any

import pytest

from tests.services.invented import ANN, Clock, cook
from tests.services.releases import QUINN, at_proven, cheap, password, record, released, signed, top_up, with_people
from tuner.domain import Conflict, NotAllowed, TestCook
from tuner.domain.results import Assessment, Confirmations
from tuner.services import Workspace, knowing
from tuner.services.portions import list_portions, log_portion, measure_portion, top_up_portion
from tuner.services.release_reading import ReleaseView
from tuner.services.releasing import seal_release, withdraw_release


@pytest.fixture
def people(space: Workspace, monkeypatch: pytest.MonkeyPatch) -> Workspace:
    quick = cheap(space)
    with_people(quick)

    def proven(*_: object) -> Assessment:
        """The four cooks of these tests are too few for the model to call the program reliable; restricted release asks it."""
        from tests.services.releases import PROVED

        return Assessment(
            status="proven",
            best_program=PROVED,
            confirmations=Confirmations(passed=3, needed=3),
            chance_reliable=0.9,
            cooks_left_estimate=0,
            cooks_left_range=(0, 0),
            advice=(),
        )

    monkeypatch.setattr(knowing, "assessment_of", proven)
    return quick


def restricted(space: Workspace, *, with_top_up: bool = True) -> ReleaseView:
    version = at_proven(space)
    if with_top_up:
        top_up(space, version.development_id)
    sealed = seal_release(space, ANN, release_id=version.id, standing="restricted", sites=("North kitchen", "Harbour"))
    return signed(space, sealed)


def portion(**changes: Any) -> TestCook:
    return cook(**{"scores": None, "mass_out_g": None, "core_temperature_c": [78, 78, 79], "purpose": "site_check", **changes})


TOP_UP = {"program": {"air_temperature_c": 250, "duration_s": 40, "stages": portion().program.model_dump()["stages"]}}  # type: ignore[union-attr]
COLD = {"core_temperature_c": [71, 78, 79]}


def log(space: Workspace, release: ReleaseView, client_id: str = "p1", site: str = "North kitchen", **changes: Any) -> Any:
    return log_portion(space, ANN, release_id=release.id, site=site, cook=portion(**changes), client_id=client_id)


def test_it_names_sites_and_expires_after_ninety_days(people: Workspace, clock: Clock):
    release = restricted(people)
    assert release.state == "restricted"
    assert release.document is not None
    assert release.document.sites == ("North kitchen", "Harbour")
    assert log(people, release).decision == "serve"
    with pytest.raises(NotAllowed, match="not among the sites"):
        log(people, release, "p2", "South")
    clock.forward(days=90)
    with pytest.raises(NotAllowed, match="expired"):
        log(people, release, "p3")


UNMEASURED = {
    "no reading": {"core_temperature_c": None},
    "two of three places": {"core_temperature_c": [78, 79]},
    "no rest": {"rest_s": None},
    "open rest": {"rest_covered": False},
    "unchecked thermometer": {"thermometer_checked_at": None},
    "interrupted": {"completed": False, "interrupted_by": "door"},
}


@pytest.mark.parametrize("change", UNMEASURED.values(), ids=UNMEASURED)
def test_an_unmeasured_portion_is_never_served(people: Workspace, change: dict[str, Any]):
    release = restricted(people)
    kept = log(people, release, **change)
    assert (kept.decision, kept.verdict) == ("measure", "unknown")
    assert kept.reasons


def test_measured_to_the_end_it_is_judged_once(people: Workspace):
    release = restricted(people)
    kept = log(people, release, core_temperature_c=[78])
    done = measure_portion(people, ANN, portion_id=kept.id, cook=portion())
    assert done.decision == "serve"
    for again in (kept.id, done.id):
        with pytest.raises(NotAllowed, match="not judged twice"):
            measure_portion(people, ANN, portion_id=again, cook=portion())
    assert [one.decision for one in list_portions(people, ANN, release_id=release.id)] == ["serve"]


def test_a_cold_portion_is_topped_up_once_with_the_proven_program(people: Workspace):
    release = restricted(people)
    kept = log(people, release, **COLD)
    assert kept.decision == "top up"
    with pytest.raises(NotAllowed, match="Another program"):
        top_up_portion(people, ANN, portion_id=kept.id, cook=portion())
    done = top_up_portion(people, ANN, portion_id=kept.id, cook=portion(**TOP_UP))
    assert (done.decision, done.topped_up) == ("serve", True)
    with pytest.raises(Conflict, match="topped up once"):
        top_up_portion(people, ANN, portion_id=kept.id, cook=portion(**TOP_UP))


@pytest.mark.parametrize("change", [COLD, {"core_temperature_c": None}, {"rest_s": None}])
def test_still_cold_or_not_known_after_the_top_up_it_is_discarded(people: Workspace, change: dict[str, Any]):
    release = restricted(people)
    kept = log(people, release, **COLD)
    done = top_up_portion(people, ANN, portion_id=kept.id, cook=portion(**TOP_UP, **change))
    assert done.decision == "discard"


def test_without_a_proven_top_up_a_cold_portion_is_discarded(people: Workspace):
    release = restricted(people, with_top_up=False)
    kept = log(people, release, **COLD)
    assert kept.decision == "discard"
    with pytest.raises(NotAllowed, match="not to be topped up"):
        top_up_portion(people, ANN, portion_id=kept.id, cook=portion(**TOP_UP))


def test_a_served_portion_is_not_topped_up(people: Workspace):
    release = restricted(people)
    kept = log(people, release)
    with pytest.raises(NotAllowed, match="not to be topped up"):
        top_up_portion(people, ANN, portion_id=kept.id, cook=portion(**TOP_UP))


def test_another_keyed_program_is_refused(people: Workspace):
    release = restricted(people)
    with pytest.raises(NotAllowed, match="Another program was keyed in"):
        log(people, release, program_set={**TOP_UP["program"]})


def test_nothing_is_cooked_from_a_withdrawn_release(people: Workspace):
    release = restricted(people)
    withdraw_release(people, QUINN, release_id=release.id, reason="complaint", password=password("Quinn"))
    with pytest.raises(NotAllowed, match="withdrawn"):
        log(people, release)


def test_restricted_release_needs_map_and_worst_corner_but_not_the_fleet(people: Workspace):
    version = at_proven(people)
    with people.store.read(None) as reading:
        kept = reading.records.newest(version.development_id, "proof_result")
    assert kept is not None
    open_fleet = {**kept.content, "complete": False, "passed": False}
    without = {**open_fleet, "map_and_worst_corner": False}
    given = {"release_id": version.id, "standing": "restricted", "sites": ("North kitchen",)}
    newer = record(people, version.development_id, "proof_result", without, "b", corrects=kept.id, reason="open")
    with pytest.raises(NotAllowed, match="Map and worst corner"):
        seal_release(people, ANN, **given)  # type: ignore[arg-type]
    record(people, version.development_id, "proof_result", open_fleet, "c", corrects=newer, reason="done")
    with pytest.raises(NotAllowed, match="not complete"):
        seal_release(people, ANN, release_id=version.id)
    assert seal_release(people, ANN, **given).document is not None  # type: ignore[arg-type]


def test_a_full_release_names_no_sites(people: Workspace):
    release = released(people)
    assert log(people, release, site="Anywhere").decision == "serve"


def test_without_the_chance_of_being_reliable_there_is_no_restricted_release(space: Workspace):
    quick = cheap(space)
    with_people(quick)
    version = at_proven(quick)
    from tuner.domain import NotAllowed as Refused
    from tuner.services import assess_development

    if assess_development(quick, ANN, development_id=version.development_id).status == "proven":
        pytest.skip("the model calls these four cooks reliable")
    with pytest.raises(Refused, match="reliable enough"):
        seal_release(quick, ANN, release_id=version.id, standing="restricted", sites=("North kitchen",))
