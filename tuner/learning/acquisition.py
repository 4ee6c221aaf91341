"""What a cook of a program is worth: the chance that it leads through all confirmations to a reliable recipe."""

from __future__ import annotations

import numpy as np
from scipy.special import expit

from tuner.learning.chances import Chances
from tuner.learning.program_table import Array

RELIABLE_AT = 0.80
"""The `chance_reliable` that a proven program must have; a working level, see `chance_reliable`."""

_AIM, _GOOD, _SHARPNESS, _TAIL = 0.93, 0.87, 0.02, 0.2
_LONGEST_CHAIN = 4
_DEAREST_START = 14.0


def worth(a: Array) -> Array:
    """How much a true chance `a` to lie inside is worth: a sharp step a little above 0.9, and a tail to climb along."""
    return np.asarray((1.0 - _TAIL) * expit((a - _AIM) / _SHARPNESS) + _TAIL * a**2)


def chance_reliable(chances: Chances) -> Array:
    """Chance that at least about 90 % of further portions would truly lie inside all windows, (n,)."""
    return np.asarray(expit((chances.true_all - _GOOD) / _SHARPNESS).mean(axis=1))


def success(chances: Chances, passes: int) -> Array:
    """Chance-weighted worth of `passes` further passing cooks in a row, (n,)."""
    chain = min(max(passes, 0), _LONGEST_CHAIN)
    return np.asarray((chances.pass_all**chain * worth(chances.true_all)).mean(axis=1))


def acquisition(chances: Chances, confirmation_cooks: int) -> Array:
    """Worth of a program not cooked yet, (n,): larger is better."""
    return success(chances, min(confirmation_cooks, 3))


def price_of_a_fresh_start(fresh_success: float) -> float:
    """Cooks that a failed chain costs: what it takes to begin again elsewhere."""
    return min(float(4.0 / max(fresh_success, 1e-6) ** 0.7) + 1.0, _DEAREST_START)


def expected_cooks(chances: Chances, passes: int, fresh_price: float) -> Array:
    """Expected cooks to proof when a program still needs `passes` passing cooks in a row, (n,)."""
    p, chain = chances.pass_all, np.zeros_like(chances.pass_all)
    for done in range(passes):
        chain = chain + p**done
    through = p**passes * worth(chances.true_all)
    return np.asarray((chain + (1.0 - through) * fresh_price).mean(axis=1))
