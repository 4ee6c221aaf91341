"""Why a cook came out as it did, for a person who asks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tuner.domain import NotFound, TestCook
from tuner.services.actor import Actor
from tuner.services.knowing import earlier_for
from tuner.services.loading import Loaded, in_cooking_order, load
from tuner.services.workspace import Workspace

if TYPE_CHECKING:  # named here for those who may not import what lies behind
    from tuner.learning.diagnosis_results import Diagnosis as Diagnosis  # noqa: PLC0414
    from tuner.learning.diagnosis_results import Remedy as Remedy  # noqa: PLC0414


def diagnose_cook(
    space: Workspace, who: Actor, *, development_id: str, cook_id: str | None = None, seen: Sequence[str] = ()
) -> Diagnosis:
    """Causes of what is wrong with a cook, the likeliest first, and the trade's rules for it. Nothing is kept.

    Parameters
    ----------
    cook_id
        The cook asked about; cooks after it are not looked at. The last one if left out.
    seen
        Signs that people saw, of `diagnosis_signs`.

    Raises
    ------
    InvalidDocument
        If no cook had a program yet, or a sign is not known.
    NotFound
        If there is no such development or cook, or none this person may see.
    """
    from tuner.learning import diagnose

    loaded = load(space, who, development_id)
    cooks = loaded.cooks if cook_id is None else _up_to(loaded, cook_id)
    return diagnose(loaded.brief, loaded.oven, cooks, earlier=earlier_for(loaded), seen=seen)


def diagnosis_signs() -> dict[str, str]:
    """Signs that people at the oven can tick, with the words to show."""
    from tuner.learning.trade_table import SEEN_SIGNS

    return dict(SEEN_SIGNS)


def _up_to(loaded: Loaded, cook_id: str) -> tuple[TestCook, ...]:
    """Cooks that hold now in the order of cooking, up to the one asked about."""
    row = next((row for row in loaded.current_rows if row.id == cook_id), None)
    if row is None:
        raise NotFound(
            f"This development has no cook {cook_id!r} that holds now. Only such a cook can be diagnosed. Choose one."
        )
    ordered = in_cooking_order([kept.cook for kept in loaded.current_rows])
    place = next(place for place, cook in enumerate(ordered) if cook is row.cook)
    return ordered[: place + 1]
