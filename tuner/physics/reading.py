"""From temperatures inside to what thermometers read, and from water and juice lost to what the scale shows."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tuner.physics.parameters import INDEX
from tuner.physics.simulation import Body, Outcome

Array = NDArray[np.float64]

_MOST_CONDENSED_PCT = 10.0

_CAP_SOFTNESS_K = 2.5
"""How softly readings bend below the cap [K] (assumption)."""


def core_reading(outcome: Outcome, values: Array, boiling_c: float) -> Array:
    """Mean reading of the places near the middle [°C] (n,).

    Places lie between the coldest point and the whole: centre + share (mean - centre). Steam and heat lost while probing
    hold readings below the boiling point: a soft cap.

    Parameters
    ----------
    outcome
        What happened.
    values : ndarray (P, n)
        Natural values of the parameters.
    boiling_c
        Boiling point [°C]; the cap is stated for 100.
    """
    share = values[INDEX["reading_share"]]
    inside = outcome.centre_c + share * (outcome.mean_c - outcome.centre_c)
    cap = values[INDEX["reading_cap"]] + (boiling_c - 100.0)
    below = (cap - inside) / _CAP_SOFTNESS_K
    reading: Array = cap - _CAP_SOFTNESS_K * np.logaddexp(0.0, below)
    return reading


def loss_pct(body: Body, outcome: Outcome) -> Array:
    """Water and juice lost [% of mass] (n,).

    Bends below all the water there is, and above -10 %: moisture that condenses on a cold portion is a few percent at most.
    """
    most = 100.0 * max(body.food.water, 0.02)
    lost = 100.0 * (outcome.evaporated + outcome.boiled + outcome.dripped)
    bound = np.where(lost > 0.0, most, _MOST_CONDENSED_PCT)
    bent: Array = bound * np.tanh(lost / bound)
    return bent
