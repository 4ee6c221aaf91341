"""Serving orders balanced for position and for what was tasted just before (Williams squares).

References
----------
Williams 1949, Australian Journal of Scientific Research A 2:149.
"""

from __future__ import annotations

from tuner.domain import InvalidDocument


def williams_square(treatments: int) -> tuple[tuple[int, ...], ...]:
    """Orders of `treatments` samples 0, 1, ...: as many as samples where their number is even, twice as many where odd.

    Every sample stands at every position equally often, and follows every other one equally often.

    Raises
    ------
    InvalidDocument
        If there are fewer than 2 samples.
    """
    if treatments < 2:
        raise InvalidDocument([f"{treatments} samples. An order needs at least 2. Add samples."])
    first = [0]
    low, high = 1, treatments - 1
    while low <= high:
        first.append(low)
        if low < high:
            first.append(high)
        low, high = low + 1, high - 1
    orders = [tuple((step + shift) % treatments for step in first) for shift in range(treatments)]
    if treatments % 2:
        orders += [order[::-1] for order in orders]
    return tuple(orders)
