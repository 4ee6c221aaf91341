"""What the bare numbers of stages in one cell are: told by words, by sums, by the oven, else asked."""

from __future__ import annotations

from collections.abc import Sequence

from tuner.exchange.asking import Asker, listed
from tuner.exchange.mapping import Expected
from tuner.exchange.stage_text import StagesRead

AIR_FIRST = "air / microwave"
MICROWAVE_FIRST = "microwave / air"
_CHOICES = {AIR_FIRST: ("air", "microwave"), MICROWAVE_FIRST: ("microwave", "air")}


def bare_places(cells: Sequence[StagesRead]) -> tuple[int, ...]:
    """Places whose numbers no word and no unit explains, in the commonest form of the column."""
    forms: dict[tuple[str, ...], int] = {}
    for cell in cells:
        roles = tuple(slot.role for slot in cell.stages[0])
        forms[roles] = forms.get(roles, 0) + 1
    if not forms:
        return ()
    common = max(forms, key=lambda roles: (forms[roles], roles))
    return tuple(index for index, role in enumerate(common) if not role)


def choose_order(
    column: int,
    cells: Sequence[StagesRead],
    durations: Sequence[float | None],
    hinted: tuple[str, ...],
    expected: Expected,
    asker: Asker,
    shown: Sequence[str],
) -> tuple[str, ...] | None:
    """Roles of the bare numbers of a stage, in order; None while in doubt, empty where there are none.

    Parameters
    ----------
    column
        Which column, for the question.
    cells, durations
        What was read, with the duration [s] of each row where it is known.
    hinted
        Order that heading or titles name.
    expected
        Limits of the oven, which rule out an air speed below its lowest.
    shown
        Cells as written.
    """
    bare = bare_places(cells)
    if not bare:
        return ()
    known = {slot.role for cell in cells for slot in cell.stages[0] if slot.role}
    missing = [
        role for role in ("share", "air", "microwave") if role not in known and not (role == "share" and "time" in known)
    ]
    if len(bare) == 1 and len(missing) == 1:
        return (missing[0],)
    hint = tuple(role for role in hinted if role not in known and not (role == "time" and "share" in known))
    if len(hint) == len(bare):
        return hint
    shares = [place for place in bare if _adds_up(cells, durations, place)] if "share" in missing else []
    if len(bare) == 2 and ("share" not in missing or not shares):
        return _pair(column, cells, bare, hint, expected, asker, shown)
    if len(bare) == 3:
        return _triple(column, cells, bare, shares, hint, expected, asker, shown)
    return None


def _triple(
    column: int,
    cells: Sequence[StagesRead],
    bare: tuple[int, ...],
    shares: list[int],
    hint: tuple[str, ...],
    expected: Expected,
    asker: Asker,
    shown: Sequence[str],
) -> tuple[str, ...] | None:
    if len(shares) != 1:
        choices = ["share / air / microwave", "share / microwave / air", "air / microwave / share", "microwave / air / share"]
        answer = asker.ask(
            f"order:{column}",
            f"What are the three numbers of a stage in {listed(shown)!r}, in order?",
            choices,
            columns=[column],
        )
        return tuple(answer.split(" / ")) if answer in choices else None
    left = tuple(place for place in bare if place != shares[0])
    pair = _pair(column, cells, left, tuple(role for role in hint if role in ("air", "microwave")), expected, asker, shown)
    if pair is None:
        return None
    roles = dict(zip(left, pair, strict=True)) | {shares[0]: "share"}
    return tuple(roles[place] for place in bare)


def _pair(
    column: int,
    cells: Sequence[StagesRead],
    bare: tuple[int, ...],
    hint: tuple[str, ...],
    expected: Expected,
    asker: Asker,
    shown: Sequence[str],
) -> tuple[str, ...] | None:
    """Air speed and microwave of two bare numbers."""
    if set(hint) == {"air", "microwave"}:
        return hint
    possible = [choice for choice, roles in _CHOICES.items() if _within_oven(cells, bare[roles.index("air")], expected)]
    if len(possible) == 1 and expected.air_speed_low_pct:
        asker.note(f"Stages were read as {possible[0]}: the other order would hold air speeds the oven can't be set to.")
        return _CHOICES[possible[0]]
    first = cells[0].stages[0]
    example = "/".join(f"{first[place].value:g}" for place in bare)
    answer = asker.ask(
        f"order:{column}",
        f"In {listed(shown)!r}, which number is the air speed and which the microwave? In {example}, the order is:",
        list(_CHOICES),
        columns=[column],
    )
    return _CHOICES.get(answer) if answer else None


def _within_oven(cells: Sequence[StagesRead], place: int, expected: Expected) -> bool:
    low = expected.air_speed_low_pct or 0.0
    return all(stage[place].value >= low for cell in cells for stage in cell.stages if place < len(stage))


def _adds_up(cells: Sequence[StagesRead], durations: Sequence[float | None], place: int) -> bool:
    """Whether the numbers at a place add up to a whole in nearly all cells with several stages."""
    sums = [
        (sum(stage[place].value for stage in cell.stages), duration)
        for cell, duration in zip(cells, durations, strict=True)
        if all(place < len(stage) for stage in cell.stages)
    ]
    whole = [
        any(abs(total - target) <= 0.011 * target for target in (100.0, 1.0, duration) if target) for total, duration in sums
    ]
    return bool(whole) and sum(whole) >= 0.9 * len(whole)
