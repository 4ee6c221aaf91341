"""What a comparison with the benchmark can show, and what its answers show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tuner.domain import ComparisonAnswer, ComparisonProtocol


@dataclass(frozen=True, slots=True)
class ComparisonSize:
    """What a number of tasters can show.

    Attributes
    ----------
    tasters_needed
        Fewest independent tasters with which an identical dish is shown to be similar with chance `power`.
    tasters_planned
        As asked.
    chance_identical
        Chance that the planned tasters show an identical dish to be similar (or liked as well).
    most_right, fewest_right
        Right answers up to which "similar", and from which "different", is shown; None for liking, or where no number does.
    words
        In words.
    """

    tasters_needed: int
    tasters_planned: int
    power: float
    chance_identical: float
    most_right: int | None
    fewest_right: int | None
    words: str


@dataclass(frozen=True, slots=True)
class ComparisonResult:
    """What a comparison showed.

    Attributes
    ----------
    answer
        `similar within the stated limit`, `different` or `not shown`.
    tasters, answers
        Independent tasters, and answers with replicates.
    estimate, low, high
        Share of tasters who can tell (0 to 1; low is 0), or liking of the dish less that of the benchmark, with one-sided
        limits.
    figures
        Further numbers by name.
    method, words
        In words, for the record and for the card.
    """

    answer: str
    tasters: int
    answers: int
    estimate: float
    low: float
    high: float
    figures: Mapping[str, float]
    method: str
    words: str


def comparison_size(protocol: ComparisonProtocol) -> ComparisonSize:
    """How many tasters a protocol takes, and what those planned can show.

    Raises
    ------
    InvalidDocument
        If more than 2000 tasters would be needed.
    """
    if protocol.kind == "liking":
        from tuner.proof.liking import LikingProtocol, liking_power, liking_size

        limits, power = LikingProtocol(protocol.margin, protocol.alpha), 0.8
        needed = liking_size(protocol.expected_sd, limits, power=power)
        chance = liking_power(protocol.tasters, protocol.expected_sd, limits) if protocol.tasters > 1 else 0.0
        return ComparisonSize(
            needed, protocol.tasters, power, chance, None, None, _size_words(needed, protocol.tasters, chance)
        )
    from tuner.proof.discrimination import fewest_right_for_different, similarity_outlook, similarity_size

    power = 0.9
    method, share, beta = protocol.kind, protocol.share_telling, protocol.beta
    needed = similarity_size(method, share_telling=share, beta=beta, power=power).tasters
    outlook = similarity_outlook(method, protocol.tasters, share, beta)
    chance = outlook.chance_identical if outlook else 0.0
    return ComparisonSize(
        needed,
        protocol.tasters,
        power,
        chance,
        outlook.most_right if outlook else None,
        fewest_right_for_different(method, protocol.tasters, protocol.alpha),
        _size_words(needed, protocol.tasters, chance),
    )


def _size_words(needed: int, planned: int, chance: float) -> str:
    words = f"{planned} tasters show an identical dish to be so {100 * chance:.0f} times in 100"
    return f"{words}; {needed} are needed for a fair chance." if planned < needed else f"{words}."


def judged(protocol: ComparisonProtocol, answers: Sequence[ComparisonAnswer]) -> ComparisonResult:
    """The result of a protocol and its answers.

    Raises
    ------
    InvalidDocument
        If there are too few answers.
    """
    if protocol.kind == "liking":
        return _liked(protocol, answers)
    from tuner.proof.discrimination import Protocol, telling_apart

    by_taster: dict[str, list[bool]] = {}
    for one in answers:
        by_taster.setdefault(one.taster, []).append(one.right is True)
    limits = Protocol(protocol.kind, protocol.share_telling, protocol.alpha, protocol.beta)
    found = telling_apart(limits, list(by_taster.values()))
    limit = f"at most {100 * protocol.share_telling:g} % can tell"
    figures = {"right": float(found.right), "p for a difference": found.p_different}
    if found.d_prime is not None:
        figures["d'"] = found.d_prime
    words = f"{found.answer} ({limit}). {found.remark}".strip()
    share, high = found.share_telling, found.share_telling_high
    return ComparisonResult(found.answer, found.tasters, found.answers, share, 0.0, high, figures, found.method, words)


def _liked(protocol: ComparisonProtocol, answers: Sequence[ComparisonAnswer]) -> ComparisonResult:
    from tuner.proof.liking import LikingProtocol, liked_as_well

    by_taster: dict[str, list[float]] = {}
    for one in answers:
        if one.liking_dish is not None and one.liking_benchmark is not None:
            by_taster.setdefault(one.taster, []).append(one.liking_dish - one.liking_benchmark)
    found = liked_as_well(LikingProtocol(protocol.margin, protocol.alpha), by_taster)
    words = f"{found.answer} (margin {protocol.margin:g} of 9). {found.remark}".strip()
    return ComparisonResult(
        found.answer,
        found.tasters,
        len(answers),
        found.mean_difference,
        found.low,
        found.high,
        {"sd of differences": found.sd},
        found.method,
        words,
    )
