"""Planning a blind tasting session: codes, serving orders, a hidden benchmark and a blind duplicate.

References
----------
Williams 1949 (orders, see `serving_order`); limits of samples and serving age are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tuner.domain import InvalidDocument, PanelSample, PanelSession
from tuner.proof.serving_order import williams_square

MOST_HOT_SAMPLES = 8
FEWEST_TASTERS = 2


@dataclass(frozen=True, slots=True)
class SessionRequest:
    """What is to be tasted.

    Attributes
    ----------
    cooks
        Ids of the cooks, each once.
    benchmark
        Id of the benchmark cook served hidden among them.
    duplicate
        Id of the cook served twice under two codes; None: the first one.
    tasters
        Pseudonyms.
    attributes
        What is marked.
    seed
        Of codes and orders.
    """

    cooks: tuple[str, ...]
    benchmark: str
    duplicate: str | None
    tasters: tuple[str, ...]
    attributes: tuple[str, ...]
    seed: int


def session(request: SessionRequest) -> PanelSession:
    """Plan a session.

    Raises
    ------
    InvalidDocument
        If there are more than eight samples with benchmark and duplicate, too few tasters, or something is named twice.
    """
    duplicate = request.duplicate or (request.cooks[0] if request.cooks else request.benchmark)
    problems = _problems(request, duplicate)
    if problems:
        raise InvalidDocument(problems)
    rng = np.random.default_rng(request.seed)
    served = [(cook, "cook") for cook in request.cooks] + [(request.benchmark, "benchmark"), (duplicate, "duplicate")]
    codes = rng.choice(np.arange(100, 1000), size=len(served), replace=False)
    samples = tuple(
        PanelSample.model_validate({"code": str(code), "cook_id": cook, "kind": kind})
        for code, (cook, kind) in zip(codes, served, strict=True)
    )
    return PanelSession(
        samples=samples,
        tasters=request.tasters,
        attributes=request.attributes,
        orders=_orders(samples, request.tasters, rng),
        seed=request.seed,
    )


def _orders(samples: Sequence[PanelSample], tasters: Sequence[str], rng: np.random.Generator) -> dict[str, tuple[str, ...]]:
    """An order for each taster: rows of Williams squares in random turn, samples put to letters at random."""
    rows = list(williams_square(len(samples)))
    letters = rng.permutation(len(samples))
    taken: list[tuple[int, ...]] = []
    while len(taken) < len(tasters):
        taken += [rows[index] for index in rng.permutation(len(rows))]
    return {taster: tuple(samples[letters[place]].code for place in row) for taster, row in zip(tasters, taken, strict=False)}


def _problems(request: SessionRequest, duplicate: str) -> list[str]:
    found = []
    count = len(request.cooks) + 2
    if not request.cooks:
        found.append("No cook is named. A session tastes at least one. Name it.")
    if count > MOST_HOT_SAMPLES:
        found.append(
            f"{count} samples with hidden benchmark and blind duplicate. Nobody judges more than {MOST_HOT_SAMPLES} hot "
            "samples well. Make two sessions."
        )
    if len(set(request.cooks)) < len(request.cooks) or request.benchmark in request.cooks:
        found.append("A cook is named twice. Each is named once; the duplicate is added by itself. Correct the list.")
    if duplicate not in request.cooks:
        found.append("The duplicate is not one of the cooks. Name one of them.")
    if len(set(request.tasters)) < len(request.tasters) or len(request.tasters) < FEWEST_TASTERS:
        found.append(f"A session takes at least {FEWEST_TASTERS} tasters, each once. Correct the list.")
    if not request.attributes:
        found.append("Nothing is to be marked. Name at least one attribute.")
    return found
