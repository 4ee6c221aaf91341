"""Cards of a release: in the units of a site, never from less than a release, kept as issued."""

from __future__ import annotations

from typing import Any

import pytest

from tests.exchange.cards import codes, pages, picture
from tests.services.invented import ANN, Clock, oven
from tests.services.releases import PROVED, QUINN, at_proven, cheap, password, recipe, released, with_people
from tuner.domain import NotAllowed, Program
from tuner.domain.recipe import Recipe
from tuner.domain.release import OperatingWindow, ReleaseDocument, Span
from tuner.services import Workspace
from tuner.services.cards import card_of, issue_card, keyed, read_back, view_card
from tuner.services.recipes import save_recipe, scale_recipe, view_recipe
from tuner.services.release_reading import ReleaseView
from tuner.services.releasing import seal_release, withdraw_release


@pytest.fixture
def people(space: Workspace) -> Workspace:
    quick = cheap(space)
    with_people(quick)
    return quick


def test_a_card_is_made_from_a_release_in_force_only(people: Workspace):
    version = at_proven(people)
    with pytest.raises(NotAllowed, match="no released recipe"):
        issue_card(people, ANN, release_id=version.id)
    seal_release(people, ANN, release_id=version.id)
    with pytest.raises(NotAllowed, match="no released recipe"):
        view_card(people, ANN, release_id=version.id)


def test_paper_and_phone_carry_the_release(people: Workspace):
    release = released(people)
    paper = issue_card(people, ANN, release_id=release.id, site="North", address="https://kitchen.example/")
    phone = issue_card(people, ANN, release_id=release.id, site="North", form="html")
    [text] = pages(paper.data)
    for wanted in (
        "Herb chicken strip",
        "Version 1",
        paper.word,
        "at least 76 °C",
        "Contains milk, gluten. May contain sesame.",
    ):
        assert wanted in text
        assert wanted in phone.data.decode()
    assert codes(picture(paper.data)) == [f"https://kitchen.example/check-file?release={release.id}"]
    assert (paper.media_type, phone.media_type, paper.word) == ("application/pdf", "text/html", phone.word)


def test_the_same_release_gives_the_same_bytes_and_they_are_kept(people: Workspace, clock: Clock):
    release = released(people)
    one = issue_card(people, ANN, release_id=release.id, site="North")
    clock.forward(days=3)
    again = issue_card(people, QUINN, release_id=release.id, site="North")
    assert one.data == again.data
    with people.store.read(None) as reading:
        assert reading.files.get(one.sha256).data == one.data
        [issue] = reading.records.of_kind("card_issue", about=release.id)
    assert (issue.content["site"], issue.content["word"], issue.content["release_sha256"]) == (
        "North",
        one.word,
        release.sha256,
    )


def test_in_fahrenheit_nothing_is_allowed_that_was_not_proven(people: Workspace):
    release = released(people)
    card = view_card(people, ANN, release_id=release.id, unit="F")
    assert card.program.air_temperature == 482
    assert card.must_read == "at least 169 °F everywhere"  # 76 °C are 168.8 °F
    assert card.start[0] == "chilled, 34 to 41 °F"  # 1 °C is 33.8 °F
    assert card.program.word != view_card(people, ANN, release_id=release.id).program.word


def test_a_withdrawn_release_gives_no_card(people: Workspace):
    release = released(people)
    withdraw_release(people, QUINN, release_id=release.id, reason="complaint", password=password("Quinn"))
    with pytest.raises(NotAllowed, match="is withdrawn"):
        issue_card(people, ANN, release_id=release.id)


def made(release: ReleaseView, **changes: Any) -> Any:
    document = release.document
    assert document is not None
    other = ReleaseDocument.model_validate({**document.model_dump(), **changes})
    return card_of(other, release, site=None, unit="C", link="x", photo=None)


def test_a_program_without_its_recipe_is_refused_as_a_card(people: Workspace):
    release = released(people)
    for lacking in ({}, {"ingredients": [{"name": "glaze", "amount_g": 5}]}):
        with pytest.raises(NotAllowed, match="a program, not a recipe"):
            made(release, recipe=Recipe.model_validate({**(recipe().model_dump() if lacking else {}), **lacking}))


def test_cautions_stand_where_they_belong(people: Workspace):
    release = released(people)
    document = release.document
    assert document is not None
    assert [code for code, _ in made(release).cautions] == ["C3", "C4", "C5", "C6"]
    assert made(release).limit.startswith("C8 Critical limit 74 °C + 2 °C guard (Food Code 3-401.12)")
    brief = document.brief.model_dump()
    cases: tuple[tuple[str, dict[str, Any]], ...] = (
        ("C9", {"proof": {**document.proof.model_dump(), "content": {**document.proof.content, "strength": "light"}}}),
        ("C10", {"brief": {**brief, "food_class": "egg"}}),
        ("C11", {"top_up": {"program": PROVED, "record_id": "t", "strength": "full"}}),
        ("C12", {"brief": {**brief, "food_class": "bakery"}}),
        ("C13", {"brief": {**brief, "eaters": "vulnerable"}}),
    )
    for code, change in cases:
        assert code in [found for found, _ in made(release, **change).cautions]


def test_a_light_plan_says_checked_and_never_proven(people: Workspace):
    release = released(people)
    document = release.document
    assert document is not None
    content = {**document.proof.content, "strength": "light"}
    card = made(release, proof={**document.proof.model_dump(), "content": content})
    assert card.claim == "checked on 4 cooks"


def test_numbers_of_the_window_are_rounded_towards_its_inside(people: Workspace):
    release = released(people)
    document = release.document
    assert document is not None
    narrow = OperatingWindow.model_validate({**document.operating_window.model_dump(), "mass_g": Span(low=171.2, high=188.9)})
    assert "172 to 188 g, 28 mm thick" in made(release, operating_window=narrow).start


def test_every_digit_of_the_card_is_guarded_by_its_word():
    base = keyed(PROVED, "C", 3)
    for field, value in (("air_temperature_c", 251), ("duration_s", 211)):
        assert keyed(Program.model_validate({**PROVED.model_dump(), field: value}), "C", 3).word != base.word
    for at in range(2):
        for field in ("air_speed_pct", "microwave_pct"):
            stages = [stage.model_dump() for stage in PROVED.stages]
            stages[at][field] += 1
            assert keyed(Program.model_validate({**PROVED.model_dump(), "stages": stages}), "C", 3).word != base.word
    assert keyed(PROVED, "C", 3).slots == 3


def test_what_the_oven_shows_is_read_back():
    card = keyed(PROVED, "F", 5)
    assert read_back(482, 210, [(40, 30, 80), (60, 90, 20)], slots=5) == card.word
    assert read_back(482, 210, [(40, 30, 80), (60, 90, 20), (0, 0, 0)], slots=5) == card.word  # unused stages are zeros
    assert read_back(482, 270, [(40, 30, 80), (60, 90, 20)], slots=5) != card.word


def test_a_photo_is_cleaned_and_a_recipe_grows_by_versions(people: Workspace):
    version = at_proven(people)
    first = view_recipe(people, ANN, development_id=version.development_id)
    assert first is not None
    changed = replace_recipe(first.recipe, hold_s=900)
    second = save_recipe(people, ANN, development_id=version.development_id, recipe=changed, reason="holds well")
    assert (second.version, second.recipe.hold_s, second.recipe.photo) == (2, 900, first.recipe.photo)
    same = save_recipe(people, ANN, development_id=version.development_id, recipe=changed)
    assert same.version == 2
    assert scale_recipe(people, ANN, development_id=version.development_id, portions=25).ingredients[0].amount_g == 4500


def replace_recipe(old: Recipe, **changes: Any) -> Recipe:
    return Recipe.model_validate({**old.model_dump(exclude_unset=True), **changes})


def test_the_card_has_a_line_for_every_stage_the_oven_holds(people: Workspace):
    release = released(people)
    assert view_card(people, ANN, release_id=release.id).program.slots == 3
    assert made(release, oven=oven(max_stages=6)).program.slots == 6
