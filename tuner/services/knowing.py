"""What learning says of a development, computed once for the same data and kept."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

from pydantic import ValidationError

from tuner import __version__
from tuner.domain import Assessment, Brief, Feasibility, Oven, StoreProblem
from tuner.domain.model import Model
from tuner.services.actor import Actor
from tuner.services.loading import Loaded
from tuner.services.workspace import Workspace
from tuner.store import content_hash, document_text

if TYPE_CHECKING:
    from tuner.learning import Learned, Prior

AnswerT = TypeVar("AnswerT", bound=Model)


def earlier_for(loaded: Loaded) -> Prior:
    """What was cooked before that a development may learn from.

    Nothing yet: each development stands alone until a person has chosen, and where needed consented to, which earlier ones
    it may learn from.
    """
    from tuner.learning import prior

    del loaded
    return prior(())


def learned_of(space: Workspace, loaded: Loaded) -> Learned:
    """The calibrated model of a development, computed once for the same brief, oven and cooks."""

    def learn_now() -> Learned:
        from tuner.learning import learn

        return learn(loaded.brief, loaded.oven, loaded.cooks, earlier=earlier_for(loaded))

    return space.learned.get(loaded.data_hash, learn_now)


def assessment_of(space: Workspace, who: Actor, loaded: Loaded) -> Assessment:
    """Where a development stands; kept, so that a list of many need not compute each again."""
    key = _answer_key("assessment", loaded.data_hash)

    def assess_now() -> Assessment:
        kept = _kept_answer(space, who, "assessment", key, Assessment)
        if kept is not None:
            return kept
        answer = learned_of(space, loaded).assess()
        _keep_answer(space, who, "assessment", loaded.development.id, key, answer)
        return answer

    return space.assessments.get(key, assess_now)


def answer_of(
    space: Workspace, who: Actor, loaded: Loaded, kind: str, model: type[AnswerT], make: Callable[[], AnswerT]
) -> AnswerT:
    """An answer about a development, kept in the database under the hash of what it was made from."""
    key = _answer_key(kind, loaded.data_hash)
    kept = _kept_answer(space, who, kind, key, model)
    if kept is not None:
        return kept
    answer = make()
    _keep_answer(space, who, kind, loaded.development.id, key, answer)
    return answer


def feasibility_of(space: Workspace, brief: Brief, oven: Oven) -> Feasibility:
    """Whether a brief can be met, computed once for the same brief and oven."""
    key = content_hash({"brief": document_text(brief), "oven": document_text(oven)})

    def judge_now() -> Feasibility:
        from tuner.learning import feasibility

        return feasibility(brief, oven)

    return space.feasibilities.get(key, judge_now)


def _answer_key(kind: str, data_hash: str) -> str:
    """An answer holds for the same data and the same version of the tool."""
    return content_hash({"kind": kind, "data": data_hash, "tool": __version__})


def _kept_answer(space: Workspace, who: Actor, kind: str, key: str, model: type[AnswerT]) -> AnswerT | None:
    with space.store.read(who.customer) as reading:
        text = reading.derived.get(kind, key)
    if text is None:
        return None
    try:
        return model.model_validate_json(text)
    except ValidationError:  # kept by another build of the same version: computed again
        return None


def _keep_answer(space: Workspace, who: Actor, kind: str, subject_id: str, key: str, answer: Model) -> None:
    # Keeping only saves time: a database that can't be written now must not stop anybody from reading.
    with contextlib.suppress(StoreProblem), space.store.unit_of_work(space.context(who)) as work:
        work.derived.put(kind, subject_id, key, document_text(answer))
        work.commit()
