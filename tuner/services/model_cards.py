"""What the model of a development learned, for a person who asks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tuner.services.actor import Actor
from tuner.services.knowing import answer_of, earlier_for
from tuner.services.loading import load
from tuner.services.workspace import Workspace

if TYPE_CHECKING:  # named here for those who may not import what lies behind
    from tuner.learning import ModelCard as ModelCard  # noqa: PLC0414


def view_model_card(space: Workspace, who: Actor, *, development_id: str) -> ModelCard:
    """The model card of a development, made once for the same brief, oven and cooks.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    from tuner.learning import ModelCard, model_card

    loaded = load(space, who, development_id)
    return answer_of(
        space,
        who,
        loaded,
        "model_card",
        ModelCard,
        lambda: model_card(loaded.brief, loaded.oven, loaded.cooks, earlier=earlier_for(loaded)),
    )
