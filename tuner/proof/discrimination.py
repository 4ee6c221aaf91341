"""Telling a sample from the benchmark: triangle and duo-trio tests, their sizes, and their answers.

======  =================================================================================  ====
symbol  meaning                                                                            unit
======  =================================================================================  ====
n       independent tasters                                                                -
p0      chance of a right answer by guessing: 1/3 triangle, 1/2 duo-trio                   -
pd      share of tasters who can tell; a right answer has chance p0 + pd (1 - p0)          -
d'      distance of the two samples on the taster's scale, in standard deviations          -
======  =================================================================================  ====

References
----------
ISO 4120 (triangle), ISO 10399 (duo-trio); Ennis 1993, J. Sensory Stud. 8:353 (psychometric functions); Bi and Ennis 1999,
J. Sensory Stud. 14:289 (replicates are clusters).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from tuner.domain import InvalidDocument

Method = Literal["triangle", "duo-trio"]
Answer = Literal["similar within the stated limit", "different", "not shown"]

GUESSING: dict[Method, float] = {"triangle": 1.0 / 3.0, "duo-trio": 0.5}
MOST_TASTERS = 2000

_NODES = 5.0 * (np.polynomial.legendre.leggauss(200)[0] + 1.0)
_WEIGHTS = 10.0 * np.polynomial.legendre.leggauss(200)[1] * np.exp(-0.5 * _NODES**2) / math.sqrt(2.0 * math.pi)
"""Nodes on 0 to 10 and weights of 2 phi(z) dz: the integral of the triangle's psychometric function, to 1e-12."""


def right_chance(method: Method, share_telling: float) -> float:
    """Chance of a right answer where the share pd of tasters can tell."""
    return GUESSING[method] + share_telling * (1.0 - GUESSING[method])


def fewest_right_for_different(method: Method, tasters: int, alpha: float) -> int | None:
    """Smallest number of right answers that guessing reaches with at most `alpha`; None where no number does."""
    from scipy.stats import binom

    count = int(binom.isf(alpha, tasters, GUESSING[method])) + 1
    return count if count <= tasters else None


def most_right_for_similar(method: Method, tasters: int, share_telling: float, beta: float) -> int | None:
    """Largest number of right answers that a dish which the share pd can tell stays at or below with at most `beta`.

    None where even no right answer at all would not show it.
    """
    from scipy.stats import binom

    count = int(binom.ppf(beta, tasters, right_chance(method, share_telling)))
    while count >= 0 and binom.cdf(count, tasters, right_chance(method, share_telling)) > beta:
        count -= 1
    return count if count >= 0 else None


@dataclass(frozen=True, slots=True)
class SimilaritySize:
    """How many tasters a claim "not told apart" takes.

    Attributes
    ----------
    tasters, most_right
        Independent tasters, and the most right answers with which the claim still holds.
    chance_identical, chance_at_limit
        Chance that the claim is made of an identical dish, and of one that the stated share can tell.
    """

    tasters: int
    most_right: int
    chance_identical: float
    chance_at_limit: float


def similarity_outlook(method: Method, tasters: int, share_telling: float, beta: float) -> SimilaritySize | None:
    """What a test with so many tasters can claim; None where they are too few for any claim of similarity."""
    from scipy.stats import binom

    most = most_right_for_similar(method, tasters, share_telling, beta)
    if most is None:
        return None
    return SimilaritySize(
        tasters,
        most,
        float(binom.cdf(most, tasters, GUESSING[method])),
        float(binom.cdf(most, tasters, right_chance(method, share_telling))),
    )


def similarity_size(method: Method, *, share_telling: float = 0.3, beta: float = 0.05, power: float = 0.9) -> SimilaritySize:
    """Fewest independent tasters with which an identical dish is shown to be similar with chance `power`.

    Raises
    ------
    InvalidDocument
        If a share is out of range, or more than 2000 tasters would be needed.
    """
    if not 0 < share_telling < 1 or not 0 < beta < 0.5 or not 0 < power < 1:
        raise InvalidDocument(
            [
                f"share {share_telling:g}, risk {beta:g}, power {power:g}. Shares lie between 0 and 1, the risk below 0.5. "
                "Correct them."
            ]
        )
    for tasters in range(3, MOST_TASTERS + 1):
        found = similarity_outlook(method, tasters, share_telling, beta)
        if found is not None and found.chance_identical >= power:
            return found
    raise InvalidDocument(
        [
            f"More than {MOST_TASTERS} tasters would be needed for a share of {share_telling:g}. State a wider limit or less "
            "power."
        ]
    )


@dataclass(frozen=True, slots=True)
class Protocol:
    """What is fixed before the first sample is tasted: method, the limit pd, and both risks."""

    method: Method
    share_telling: float = 0.3
    alpha: float = 0.05
    beta: float = 0.05


@dataclass(frozen=True, slots=True)
class TellingApart:
    """What a triangle or duo-trio test showed.

    Attributes
    ----------
    answer
        One of three; nothing significant is never "similar".
    tasters, answers, right
        Independent tasters, answers given (replicates included), right ones.
    share_telling, share_telling_high
        Estimate of pd and its one-sided upper limit (confidence 1 - beta), 0 to 1.
    d_prime
        Estimate of d'; None where right answers are no more than guessing gives.
    p_different
        p-value of the test for a difference.
    method, remark
        In words, for the record; what else must be said.
    """

    answer: Answer
    tasters: int
    answers: int
    right: int
    share_telling: float
    share_telling_high: float
    d_prime: float | None
    p_different: float
    method: str
    remark: str


def telling_apart(protocol: Protocol, answers_by_taster: Sequence[Sequence[bool]]) -> TellingApart:
    """Judge the answers of a test.

    Parameters
    ----------
    protocol
        As fixed before.
    answers_by_taster
        Right or wrong, for each taster as often as they were asked. Tasters are independent, their own answers are not:
        with replicates the share is judged between tasters, and never more surely than by the single answers.

    Raises
    ------
    InvalidDocument
        If nobody answered, or replicates come from one taster only.
    """
    asked = [list(answers) for answers in answers_by_taster if len(answers)]
    if not asked:
        raise InvalidDocument(["Nobody answered. A test needs answers. Enter them first."])
    p_different, high = _single(protocol, asked)
    clustered = any(len(answers) > 1 for answers in asked)
    if clustered:
        if len(asked) < 2:
            raise InvalidDocument(["All answers are from one taster. Tasters are the sample. Ask at least two."])
        cluster_p, cluster_high = _between_tasters(protocol, asked)
        p_different, high = max(p_different, cluster_p), max(high, cluster_high)
    right, answers = sum(map(sum, asked)), sum(map(len, asked))
    answer, remark = _answer(protocol, p_different, high)
    guess = GUESSING[protocol.method]
    how = "exact binomial" if not clustered else "the less sure of exact binomial and t between tasters"
    return TellingApart(
        answer,
        len(asked),
        answers,
        right,
        max(0.0, (right / answers - guess) / (1 - guess)),
        max(0.0, (high - guess) / (1 - guess)),
        d_prime(protocol.method, right / answers),
        p_different,
        f"{protocol.method} test, {how}",
        remark,
    )


def _single(protocol: Protocol, asked: list[list[bool]]) -> tuple[float, float]:
    """(p-value against guessing, upper limit of the chance of a right answer), all answers as independent."""
    from scipy.stats import binomtest

    right, answers = sum(map(sum, asked)), sum(map(len, asked))
    p_value = float(binomtest(right, answers, GUESSING[protocol.method], alternative="greater").pvalue)
    upper = binomtest(right, answers, alternative="less").proportion_ci(confidence_level=1 - protocol.beta, method="exact")
    return p_value, float(upper.high)


def _between_tasters(protocol: Protocol, asked: list[list[bool]]) -> tuple[float, float]:
    """The same between tasters: each taster's share of right answers is one value."""
    from scipy.stats import t

    shares = np.array([np.mean(answers) for answers in asked])
    free = shares.size - 1
    error = float(shares.std(ddof=1)) / math.sqrt(shares.size)
    above = float(shares.mean()) - GUESSING[protocol.method]
    p_value = float(t.sf(above / error, free)) if error > 0 else float(above <= 0)
    return p_value, float(shares.mean()) + float(t.isf(protocol.beta, free)) * error


def _answer(protocol: Protocol, p_different: float, high: float) -> tuple[Answer, str]:
    different = p_different <= protocol.alpha
    # Edge: exactly the stated risk belongs to the claim, as in the table of critical numbers.
    if high <= right_chance(protocol.method, protocol.share_telling) + 1e-12:
        remark = "A difference was noticed as well, but by fewer tasters than the stated limit." if different else ""
        return "similar within the stated limit", remark
    if different:
        return "different", ""
    return "not shown", "Nothing significant is not the same as similar: more tasters would be needed for either claim."


def psychometric(method: Method, distance: float) -> float:
    """Chance of a right answer at a distance d' of the two samples."""
    from scipy.special import ndtr

    if method == "duo-trio":
        half, sixth = ndtr(distance / math.sqrt(2.0)), ndtr(distance / math.sqrt(6.0))
        return float(1.0 - half - sixth + 2.0 * half * sixth)
    reach, shift = _NODES * math.sqrt(3.0), distance * math.sqrt(2.0 / 3.0)
    return float((ndtr(-reach + shift) + ndtr(-reach - shift)) @ _WEIGHTS)


def d_prime(method: Method, share_right: float) -> float | None:
    """Distance d' at which the share of right answers is expected; None at or below guessing, and where all are right."""
    from scipy.optimize import brentq

    if not GUESSING[method] < share_right < 1:
        return None
    return float(brentq(lambda distance: psychometric(method, distance) - share_right, 0.0, 20.0, xtol=1e-10))
