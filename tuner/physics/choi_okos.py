"""Thermal properties of the components of food and of their mixtures.

Polynomials in temperature T [°C], valid from -40 to 150 °C (water from 0, ice to 0 °C):

====================  =====================================
conductivity          k    [W/(m K)]
density               rho  [kg/m3]
specific heat         c    [J/(kg K)]
====================  =====================================

Source: Choi & Okos 1986, Effects of temperature and composition on the thermal properties of foods, in Food Engineering
and Process Applications 1:93-101; the same coefficients stand in the ASHRAE Handbook Refrigeration, Thermal Properties
of Foods. The constant of the specific heat of water is 4.1762 kJ/(kg K) as in the original: the 4.1289 of some tables is
1.3 % below real water at 20 °C.
"""

from __future__ import annotations

from collections.abc import Mapping

CONDUCTIVITY = {
    "water": (0.57109, 1.7625e-3, -6.7036e-6),
    "ice": (2.2196, -6.2489e-3, 1.0154e-4),
    "protein": (0.17881, 1.1958e-3, -2.7178e-6),
    "fat": (0.18071, -2.7604e-4, -1.7749e-7),
    "carbohydrate": (0.20141, 1.3874e-3, -4.3312e-6),
    "fibre": (0.18331, 1.2497e-3, -3.1683e-6),
    "ash": (0.32962, 1.4011e-3, -2.9069e-6),
}
"""Coefficients of 1, T and T² [W/(m K)]."""

DENSITY = {
    "water": (997.18, 3.1439e-3, -3.7574e-3),
    "ice": (916.89, -0.13071, 0.0),
    "protein": (1329.9, -0.5184, 0.0),
    "fat": (925.59, -0.41757, 0.0),
    "carbohydrate": (1599.1, -0.31046, 0.0),
    "fibre": (1311.5, -0.36589, 0.0),
    "ash": (2423.8, -0.28063, 0.0),
}
"""Coefficients of 1, T and T² [kg/m3]."""

SPECIFIC_HEAT = {
    "water": (4176.2, -9.0864e-2, 5.4731e-3),
    "ice": (2062.3, 6.0769, 0.0),
    "protein": (2008.2, 1.2089, -1.3129e-3),
    "fat": (1984.2, 1.4733, -4.8008e-3),
    "carbohydrate": (1548.8, 1.9625, -5.9399e-3),
    "fibre": (1845.9, 1.8306, -4.6509e-3),
    "ash": (1092.6, 1.8896, -3.6817e-3),
}
"""Coefficients of 1, T and T² [J/(kg K)]."""

LOWEST_C, HIGHEST_C = -40.0, 150.0
"""Range of the polynomials [°C]."""


def _checked(component: str, temperature_c: float) -> float:
    low = 0.0 if component == "water" else LOWEST_C
    high = 0.0 if component == "ice" else HIGHEST_C
    if not low <= temperature_c <= high:
        raise ValueError(
            f"temperature_c of {component} is {temperature_c:g} °C. The property polynomials hold from {low:g} to {high:g} °C. "
            "Use a temperature in that range"
        )
    return temperature_c


def _polynomial(coefficients: Mapping[str, tuple[float, float, float]], component: str, temperature_c: float) -> float:
    t = _checked(component, temperature_c)
    c0, c1, c2 = coefficients[component]
    return c0 + c1 * t + c2 * t * t


def component_conductivity(component: str, temperature_c: float) -> float:
    """Thermal conductivity of one component [W/(m K)].

    Raises
    ------
    ValueError
        If the temperature is outside the range of the polynomials.
    """
    return _polynomial(CONDUCTIVITY, component, temperature_c)


def component_density(component: str, temperature_c: float) -> float:
    """Density of one component [kg/m3].

    Raises
    ------
    ValueError
        If the temperature is outside the range of the polynomials.
    """
    return _polynomial(DENSITY, component, temperature_c)


def component_specific_heat(component: str, temperature_c: float) -> float:
    """Specific heat of one component [J/(kg K)].

    Raises
    ------
    ValueError
        If the temperature is outside the range of the polynomials.
    """
    return _polynomial(SPECIFIC_HEAT, component, temperature_c)


def mixture_density(fractions: Mapping[str, float], temperature_c: float) -> float:
    """Density of a mixture without pores, 1 / sum(x / rho) [kg/m3].

    Parameters
    ----------
    fractions
        Mass fraction of each component.
    temperature_c
        Temperature [°C].
    """
    return 1.0 / sum(x / component_density(name, temperature_c) for name, x in fractions.items() if x > 0)


def mixture_specific_heat(fractions: Mapping[str, float], temperature_c: float) -> float:
    """Specific heat of a mixture, sum(x c) [J/(kg K)]."""
    return sum(x * component_specific_heat(name, temperature_c) for name, x in fractions.items() if x > 0)


def mixture_conductivity(fractions: Mapping[str, float], temperature_c: float) -> tuple[float, float]:
    """Conductivity of a mixture with its components side by side and one behind the other [W/(m K)].

    Returns
    -------
    tuple
        (parallel, series): the upper and the lower bound, both weighted by volume.
    """
    density = mixture_density(fractions, temperature_c)
    parallel = 0.0
    resistance = 0.0
    for name, x in fractions.items():
        if x > 0:
            volume = x * density / component_density(name, temperature_c)
            k = component_conductivity(name, temperature_c)
            parallel += volume * k
            resistance += volume / k
    return parallel, 1.0 / resistance
