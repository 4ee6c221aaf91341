"""The uncertain numbers of the physics, each with its prior, its source and its plausible range.

Every parameter is standard normal in `theta` units after a logarithm, a logit or nothing; `natural` goes back:

========  ================================
log       centre exp(spread theta)
logit     1 / (1 + exp(-(logit(centre) + spread theta)))
linear    centre + spread theta
========  ================================

The priors of one dish on one oven shift and narrow these (`tuner.physics.priors`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tuner.physics.convection import REFERENCE_SPEED_M_S, jet_array_h

Array = NDArray[np.float64]

_EXTREME = 8.0
"""Theta is held to this many standard deviations, so that no natural value overflows."""


@dataclass(frozen=True)
class Parameter:
    """One uncertain number.

    Attributes
    ----------
    name, unit
        Name and unit of the natural value.
    centre, spread
        Natural value at theta = 0, and size of one standard deviation on the scale.
    scale
        "log", "logit" or "linear".
    group
        "oven", "food", or "mapping" from what happened to the scores.
    low, high
        Plausible range of the natural value.
    source
        Where the prior comes from; "assumption" where it is judgement.
    """

    name: str
    centre: float
    spread: float
    scale: Literal["log", "logit", "linear"]
    unit: str
    group: Literal["oven", "food", "mapping"]
    low: float
    high: float
    source: str


_ASSUMPTION = "assumption"

# fmt: off
PARAMETERS: tuple[Parameter, ...] = (
    Parameter("coupled_share", 0.42, 0.35, "log", "-", "oven", 0.15, 0.9,
              f"{_ASSUMPTION}: share of the rated watts that a portion of 200 g takes"),
    Parameter("coupling_loss", 0.20, 0.20, "linear", "per 80 K", "food", -0.2, 0.7,
              "falling loss factor of water: Kaatze 1989, J Chem Eng Data 34:371; the size is an assumption"),
    Parameter("penetration_depth", 11.0, 0.35, "log", "mm", "food", 5.0, 25.0,
              "power penetration of 7-14 mm: Datta & Ramaswamy 2001; Bengtsson & Risman 1971; To et al. 1974"),
    Parameter("frozen_attenuation", 0.25, 0.5, "log", "-", "food", 0.08, 0.8,
              "frozen beef 19-34 mm against 7-8 mm: Bengtsson & Risman 1971"),
    Parameter("focusing", 0.5, 1.0, "logit", "-", "food", 0.05, 0.95,
              f"{_ASSUMPTION}: 0 none, 1 as in a perfect cylinder or sphere"),
    Parameter("h_still", 14.0, 0.35, "log", "W/(m2 K)", "oven", 5.0, 48.0,
              "still ovens 5-15 (general texts), slow air 20-48: Baik et al. 1999, J Food Sci 64:688"),
    Parameter("h_jet", round(jet_array_h(REFERENCE_SPEED_M_S), 0), 0.30, "log", "W/(m2 K)", "oven", 25.0, 130.0,
              "array of round nozzles at 8 m/s: Martin 1977, Adv Heat Transfer 13:1-60"),
    Parameter("h_exponent", 0.65, 0.08, "linear", "-", "oven", 0.45, 0.85,
              "2/3 for arrays of nozzles: Martin 1977, Adv Heat Transfer 13:1-60"),
    Parameter("air_offset", -8.0, 10.0, "linear", "K", "oven", -40.0, 20.0,
              f"{_ASSUMPTION}: true air less setting"),
    Parameter("conductivity_factor", 1.0, 0.15, "log", "-", "food", 0.7, 1.4,
              "on the geometric mean of the bounds of Choi & Okos 1986"),
    Parameter("reading_share", 0.30, 0.8, "logit", "-", "food", 0.05, 0.75,
              f"{_ASSUMPTION}: share of (mean - centre) that places near the middle read"),
    Parameter("reading_cap", 97.0, 1.5, "linear", "degC", "food", 92.0, 100.0,
              f"{_ASSUMPTION}: steam holds readings below boiling"),
    Parameter("browning_energy", 85.0, 15.0, "linear", "kJ/mol", "food", 45.0, 130.0,
              "64 for bread crust: Zanoni et al. 1995, LWT 28:604; 80-160 for Maillard reactions (general texts)"),
    Parameter("drying_capacity", 0.25, 0.6, "log", "kg/m2", "food", 0.05, 1.2,
              f"{_ASSUMPTION}: water lost per e-fold of wetness"),
    Parameter("refill_time", 300.0, 0.7, "log", "s", "food", 50.0, 1500.0,
              f"{_ASSUMPTION}: moisture moving back to the crust"),
    Parameter("evaporation_factor", 0.22, 0.5, "log", "-", "oven", 0.05, 0.8,
              f"{_ASSUMPTION}: on the heat-mass analogy; tray side and humid cavity take most"),
    Parameter("pumped_share", 0.3, 0.8, "log", "kg/kg", "food", 0.03, 2.0,
              f"{_ASSUMPTION}: crust water pushed out per mass boiled inside"),
    Parameter("drip_factor", 1.0, 0.5, "log", "-", "food", 0.2, 2.5,
              "cooking losses of meat: Pang et al. 2020, Poultry Science; Food Sci Anim Resour 2018, 38:417"),
    Parameter("browning_shift", 0.0, 0.9, "linear", "ln dose", "mapping", -2.5, 2.5,
              f"{_ASSUMPTION}: dose for score 3 above the conventional one"),
    Parameter("browning_slope", 1.0, 0.35, "log", "-", "mapping", 0.4, 2.5,
              "1 for first-order colour: Zanoni et al. 1995, LWT 28:604"),
    Parameter("texture_shift", 0.0, 0.7, "linear", "latent", "mapping", -2.0, 2.0,
              f"{_ASSUMPTION}: anchored on the conventional dish"),
    Parameter("texture_per_dose", 0.15, 0.45, "linear", "latent per ln dose", "mapping", -1.2, 1.2,
              "plants soften, proteins set: signs from Lee 2017, Food Eng Prog 21(4):303; the size is an assumption"),
    Parameter("texture_per_crust", 0.8, 1.5, "linear", "latent per sqrt(kg/m2)", "mapping", -3.0, 4.5, _ASSUMPTION),
    Parameter("texture_per_loss", 0.0, 0.5, "linear", "latent per scaled loss", "mapping", -1.5, 1.5, _ASSUMPTION),
    Parameter("moisture_shift", 0.0, 0.7, "linear", "latent", "mapping", -2.0, 2.0,
              f"{_ASSUMPTION}: anchored on 80 % of the allowed loss"),
    Parameter("moisture_per_loss", 0.8, 0.35, "log", "latent per scaled loss", "mapping", 0.3, 2.0, _ASSUMPTION),
    Parameter("moisture_per_crust", -1.2, 1.2, "linear", "latent per sqrt(kg/m2)", "mapping", -4.5, 2.0, _ASSUMPTION),
    Parameter("loss_shift", 0.0, 1.5, "linear", "% of mass", "mapping", -4.0, 4.0,
              "weighing at other times moves loss by 4 points: Pang et al. 2020, Poultry Science"),
)
# fmt: on
"""Oven, food and mapping parameters, in the order of every `theta`."""

INDEX = {parameter.name: position for position, parameter in enumerate(PARAMETERS)}
"""Position of each parameter by name."""

_CENTRE = np.array([parameter.centre for parameter in PARAMETERS])
_SPREAD = np.array([parameter.spread for parameter in PARAMETERS])
_LOG = np.array([parameter.scale == "log" for parameter in PARAMETERS])
_LOGIT = np.array([parameter.scale == "logit" for parameter in PARAMETERS])
_OFFSET = _CENTRE.copy()
_OFFSET[_LOG] = np.log(_CENTRE[_LOG])
_OFFSET[_LOGIT] = np.log(_CENTRE[_LOGIT] / (1 - _CENTRE[_LOGIT]))


def natural(theta: ArrayLike) -> Array:
    """Natural values of the parameters.

    Parameters
    ----------
    theta : array_like (..., P)
        Standard normal coordinates; held to ±8 so that nothing overflows.

    Returns
    -------
    ndarray (..., P)
        Values in the units of `PARAMETERS`.

    Raises
    ------
    ValueError
        If the last axis has not one entry per parameter.
    """
    values = np.asarray(theta, dtype=float)
    if values.shape[-1:] != (len(PARAMETERS),):
        raise ValueError(
            f"theta has shape {values.shape}. Its last axis holds the {len(PARAMETERS)} parameters, in their order"
        )
    result: Array = _OFFSET + _SPREAD * np.clip(values, -_EXTREME, _EXTREME)
    result[..., _LOG] = np.exp(result[..., _LOG])
    result[..., _LOGIT] = 1.0 / (1.0 + np.exp(-result[..., _LOGIT]))
    return result


def to_theta(name: str, value: float) -> float:
    """Coordinate of a natural value of one parameter."""
    position = INDEX[name]
    if _LOG[position]:
        value = float(np.log(value))
    elif _LOGIT[position]:
        value = float(np.log(value / (1.0 - value)))
    return float((value - _OFFSET[position]) / _SPREAD[position])
