"""Tasters' marks on other scales than ours, and in words: asked wherever 1 to 5 in halves with 3 just right is not plain."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from tuner.exchange.asking import Asker, listed
from tuner.exchange.heading_words import plain
from tuner.exchange.mapping import LEAVE_OUT

HALVES = "nearest half mark"
_WORDS = (
    (r"(?:just|about|exactly|perfectly)\s*right|^right$|^ok(?:ay)?$|^perfect$|genau richtig|parfait|perfecto|justo|^jar$", 3.0),
    (r"(?:much|far|way|viel|beaucoup|demasiado) (?:too |zu |trop )?(?:pale|light|soft|dry|hell|weich|trocken|clair|mou|sec|claro|blando|seco)", 1.0),
    (r"(?:much|far|way|viel|beaucoup|demasiado) (?:too |zu |trop )?(?:dark|brown|firm|hard|wet|moist|dunkel|fest|nass|fonce|ferme|humide|oscuro|duro)", 5.0),
    (r"(?:too|slightly|bit|little|etwas|zu|trop|un peu|muy|algo) (?:too |zu |trop )?(?:pale|light|soft|dry|hell|weich|trocken|clair|mou|sec|claro|blando|seco)", 2.0),
    (r"(?:too|slightly|bit|little|etwas|zu|trop|un peu|muy|algo) (?:too |zu |trop )?(?:dark|brown|firm|hard|wet|moist|dunkel|fest|nass|fonce|ferme|humide|oscuro|duro)", 4.0),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Marks:
    """Score columns that share a scale.

    Attributes
    ----------
    fields
        What they score, for the question.
    columns
        Where they stand.
    told
        Scale that headings or titles tell, None where they do not.
    values
        All numbers in them.
    """

    fields: tuple[str, ...]
    columns: tuple[int, ...]
    told: tuple[int, int] | None
    values: tuple[float, ...]


def mark_in_words(text: str) -> float | None:
    """Mark that words give in the trade's wording of just-about-right scales, None where they give none."""
    key = re.sub(r"\s+", " ", plain(text)).strip(" .!")
    return next((mark for pattern, mark in _WORDS if re.search(pattern, key)), None)


def choose_scale(marks: Marks, asker: Asker) -> str | None:
    """Scale of a group of columns as "low-high", None while in doubt; `leave it out` where so answered.

    "1-5" is taken without a question where all marks lie on it in halves and no other scale is told.
    """
    values = marks.values
    if not values:
        return "1-5"
    low, high = min(values), max(values)
    plain_scale = (marks.told is None or marks.told == (1, 5)) and low >= 1 and high <= 5
    if plain_scale and not _looks_like_quality(marks):
        return "1-5"
    code = "scale:" + "+".join(marks.fields)
    shown = listed([f"{value:g}" for value in values])
    if plain_scale:
        text = f"The {', '.join(marks.fields)} marks ({shown}) crowd at the top. Is 3 just right on their scale, or is 5 best?"
        return asker.ask(code, f"{text} Leave them out if 5 is best.", ["1-5"], columns=marks.columns)
    text = (
        f"The {', '.join(marks.fields)} marks ({shown}) are not on the scale of 1 to 5 with 3 just right. How are they meant? "
        "On the scales offered the middle is just right; if the top is best instead, leave them out."
    )
    return asker.ask(code, text, _choices(marks.told, low, high), columns=marks.columns)


def _looks_like_quality(marks: Marks) -> bool:
    """Whether marks crowd at the top, as where 5 is best, instead of around 3."""
    return (
        len(marks.values) >= 6
        and sum(marks.values) / len(marks.values) > 4.0
        and min(marks.values) >= 3
        and marks.fields != ("other",)
    )


def _choices(told: tuple[int, int] | None, low: float, high: float) -> list[str]:
    known = [
        (1, 5),
        (0, 4),
        (-2, 2),
        (0, 5),
        (1, 7),
        (-3, 3),
        (1, 9),
        (-4, 4),
        (1, 10),
        (0, 10),
        (-5, 5),
        (0, 100),
        (1, 100),
        (-50, 50),
    ]
    fitting = [scale for scale in known if scale[0] <= low and high <= scale[1]]
    tight = sorted(fitting, key=lambda scale: scale[1] - scale[0])
    first = [told] if told else []
    return list(
        dict.fromkeys(
            f"{scale[0]}-{scale[1]}" if scale[0] >= 0 else f"{scale[0]} to {scale[1]}" for scale in [*first, *tight[:4]]
        )
    )


def scale_edges(scale: str) -> tuple[float, float] | None:
    """Lowest and highest mark of a scale's name."""
    found = re.fullmatch(r"(-?\d+)(?:-| to )(\d+)", scale)
    return (float(found[1]), float(found[2])) if found else None


def on_our_scale(value: float, scale: str) -> float | None:
    """A mark moved to 1..5 so that both ends and the middle fall together; None off the scale."""
    edges = scale_edges(scale)
    if edges is None or not edges[0] <= value <= edges[1]:
        return None
    return 1 + 4 * (value - edges[0]) / (edges[1] - edges[0])


def ask_halves(values: Sequence[float], columns: Sequence[int], asker: Asker) -> str | None:
    """What to do with marks between half marks; None while nobody said, empty where there are none."""
    between = [value for value in values if abs(value * 2 - round(value * 2)) > 1e-9]
    if not between:
        return ""
    shown = listed([f"{value:.4g}" for value in between])
    return asker.ask("halves", f"Marks go in halves, but there are {shown}. Round them?", [HALVES, LEAVE_OUT], columns=columns)
