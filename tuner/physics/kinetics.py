"""Rates of what heat does to food: browning, setting and softening, dripping; and the colour a dose gives.

Doses are seconds at a reference temperature.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

GAS_CONSTANT = 8.314462618e-3
"""[kJ/(mol K)]."""

KELVIN = 273.15

BROWNING_REFERENCE_C = 180.0
"""Browning doses are seconds at this skin temperature [°C]."""

_WELL_OUT = 6.0
_HOTTEST_SKIN_C = 400.0
_LEAST_ENERGY = 5.0

HEAT_DOSE_REFERENCE_C, HEAT_DOSE_Z_K = 75.0, 14.0
"""Texture dose: seconds at 75 °C, tenfold per 14 K (assumption; 16-49 K for softening vegetables, Lee 2017, Food Eng Prog
21(4):303; smaller for proteins that set)."""

_HOTTEST_INSIDE_C = 150.0

BREAD_K0, BREAD_ENERGY = 42000.0, 64.151
"""Rate of bread crust browning [1/s] and activation energy [kJ/mol]: Zanoni, Peri & Bruno 1995, LWT 28:604-609."""

DRIP_MIDDLE_C, DRIP_WIDTH_K = 64.0, 7.0
"""Juice is set free where proteins shrink, around 64 °C (myosin 54-58, collagen 53-65, actin 80-83: Tornberg 2005, Meat Sci
70:493)."""

DRIP_PER_PROTEIN, DRIP_PER_WATER = 0.38, 0.02
"""Juice set free [kg per kg protein, per kg water] when fully cooked: 7-15 % of ground chicken at 70-85 °C (Food Sci Anim
Resour 2018, 38:417)."""


def arrhenius_ratio(temperature_c: Array, energy_kj_mol: Array | float, reference_c: float) -> Array:
    """Rate over the rate at the reference temperature."""
    ratio: Array = np.exp((1.0 / (reference_c + KELVIN) - 1.0 / (temperature_c + KELVIN)) * (energy_kj_mol / GAS_CONSTANT))
    return ratio


def browning_rate(skin_c: Array, energy_kj_mol: Array) -> Array:
    """Browning of a skin relative to one at 180 °C."""
    held = np.clip(skin_c, -40.0, _HOTTEST_SKIN_C)
    return arrhenius_ratio(held, np.maximum(energy_kj_mol, _LEAST_ENERGY), BROWNING_REFERENCE_C)


def bread_half_colour_s(skin_c: float) -> float:
    """Time to half of the final colour difference of bread crust [s] (Zanoni et al. 1995): ln 2 / k."""
    rate = BREAD_K0 * float(np.exp(-BREAD_ENERGY / (GAS_CONSTANT * (skin_c + KELVIN))))
    return float(np.log(2.0)) / rate


def heat_dose_rate(temperature_c: Array) -> Array:
    """Heat dose per second: 10^((T - 75) / 14), held at 150 °C."""
    rate: Array = np.exp(
        (np.minimum(temperature_c, _HOTTEST_INSIDE_C) - HEAT_DOSE_REFERENCE_C) * (np.log(10.0) / HEAT_DOSE_Z_K)
    )
    return rate


def drip_share(hottest_c: Array, protein: float, water: float) -> Array:
    """Juice set free by the highest temperature reached [kg/kg]."""
    capacity = DRIP_PER_PROTEIN * protein + DRIP_PER_WATER * water
    share: Array = capacity / (1.0 + np.exp((DRIP_MIDDLE_C - hottest_c) / DRIP_WIDTH_K))
    return share


def held_latent(latent: Array) -> Array:
    """A latent as it is up to 6 either way (scores 1.01 and 4.99), beyond that growing only with the logarithm."""
    size = np.abs(latent)
    held: Array = np.copysign(np.minimum(size, _WELL_OUT) + np.log1p(np.maximum(size - _WELL_OUT, 0.0)), latent)
    return held


def colour_latent(dose: Array, half_dose: Array, slope: Array) -> Array:
    """Latent of the browning score for a dose.

    First-order colour, score = 1 + 4 (1 - exp(-ln 2 dose / half_dose)), is latent ln(exp(ln 2 dose / half_dose) - 1); the
    slope multiplies it. A 1000th of the half dose is always there, so the latent of a pale skin stays finite.

    Parameters
    ----------
    dose, half_dose, slope : ndarray (n,)
        Dose, dose for score 3, and slope (1 is first order).
    """
    exponent = np.log(2.0) * (dose / half_dose + 1e-3)
    latent: Array = slope * (exponent + np.log(-np.expm1(-exponent)))
    return held_latent(latent)
