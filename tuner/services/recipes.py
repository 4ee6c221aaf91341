"""The recipe of a development: kept in versions, with its photo; what is missing; its allergens; scaled."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import ValidationError

from tuner.domain import Brief, InvalidDocument
from tuner.domain.recipe import DeclaredAllergens, Recipe, allergens_of, missing_parts, scaled
from tuner.domain.wording import problems_of
from tuner.services.actor import Actor
from tuner.services.loading import refuse_unless_open
from tuner.services.texts import given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptRecord, Reading, RecordEntry, Stamp, UnitOfWork, file_hash

KIND = "recipe"


@dataclass(frozen=True, slots=True)
class RecipeView:
    """A recipe as it stands: in which version, what is missing before it is one, its allergens, who wrote it."""

    recipe: Recipe
    version: int
    record_id: str
    missing: tuple[str, ...]
    allergens: DeclaredAllergens
    stamp: Stamp


def save_recipe(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    recipe: Recipe,
    photo: bytes | None = None,
    reason: str = "next version",
    client_id: str | None = None,
) -> RecipeView:
    """Keep a recipe as the next version; the same recipe again changes nothing.

    Parameters
    ----------
    photo
        Picture of the result, JPEG, PNG or WEBP; kept without its position data.

    Raises
    ------
    Conflict
        If somebody else was faster.
    InvalidDocument
        If the photo is none, or the recipe names a photo that is not kept.
    NotAllowed
        If the development is closed.
    NotFound
        If there is no such development, or none this person may see.
    """
    cleaned = None
    if photo is not None:
        from tuner.exchange.result_photo import cleaned_photo

        cleaned = cleaned_photo(photo)
        recipe = Recipe.model_validate({**recipe.model_dump(exclude_unset=True), "photo": file_hash(cleaned)})
    content = recipe.model_dump(mode="json", exclude_unset=True)
    with space.store.unit_of_work(space.context(who)) as work:
        development = work.developments.one(development_id)
        refuse_unless_open(development)
        if cleaned is not None:
            work.files.keep(development, cleaned, media_type="image/jpeg")
        elif recipe.photo is not None:
            work.files.get(recipe.photo)
        before = work.records.newest(development_id, KIND)
        if before is None:
            work.records.add(development, RecordEntry(KIND, content, given_or_made_id(client_id)))
        elif before.content != content:
            entry = RecordEntry(KIND, content, given_or_made_id(client_id), corrects=before.id, reason=reason)
            work.records.add(development, entry)
        view = current_recipe(work, development_id, development.brief)
        work.commit()
    assert view is not None  # it was written above
    return view


def view_recipe(space: Workspace, who: Actor, *, development_id: str) -> RecipeView | None:
    """The recipe of a development, None while there is none.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        return current_recipe(reading, development_id, reading.developments.one(development_id).brief)


def scale_recipe(space: Workspace, who: Actor, *, development_id: str, portions: int) -> Recipe:
    """The recipe for another number of portions; nothing is saved.

    Raises
    ------
    InvalidDocument
        If there is no recipe, it has no yield, or the number is below 1.
    NotFound
        If there is no such development, or none this person may see.
    """
    view = view_recipe(space, who, development_id=development_id)
    if view is None:
        raise InvalidDocument(["There is no recipe yet. Write its ingredients and yield first."])
    return scaled(view.recipe, portions)


def current_recipe(reading: Reading | UnitOfWork, development_id: str, brief: Brief) -> RecipeView | None:
    """The newest recipe of a development, None while there is none."""
    rows = reading.records.of_development(development_id, KIND)
    if not rows:
        return None
    row = rows[-1]
    recipe = read_recipe(row)
    allergens = allergens_of(recipe, stated=brief.allergens)
    missing = missing_parts(recipe)
    if brief.allergens is None:
        missing = (*missing, "the allergens in the brief (an empty list where there are none)")
    return RecipeView(recipe, len(rows), row.id, missing, allergens, row.stamp)


def read_recipe(row: KeptRecord) -> Recipe:
    """The recipe of a record.

    Raises
    ------
    InvalidDocument
        If it is none any more.
    """
    try:
        return Recipe.model_validate(dict(row.content))
    except ValidationError as error:
        raise InvalidDocument(problems_of(error)) from error
