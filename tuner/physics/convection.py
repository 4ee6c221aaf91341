"""Heat transfer from moving air to the surface of a portion.

Calibrated form: h = h_still + h_jet (v / 8 m/s)^n with v the air speed. The centre of h_jet is what the correlation for
arrays of round nozzles gives at 8 m/s.

=====  =====================================  ========
v      jet speed                              m/s
D, H   nozzle diameter, distance to the food  m
Ar     nozzle area over heated area           -
Re     v D / nu                               -
Nu     h D / k                                -
=====  =====================================  ========

Source: Martin 1977, Heat and mass transfer between impinging gas jets and solid surfaces, Adv Heat Transfer 13:1-60;
valid for 2 000 <= Re <= 100 000, 2 <= H/D <= 12, 0.004 <= Ar <= 0.04.
"""

from __future__ import annotations

REFERENCE_SPEED_M_S = 8.0
"""Speed at which `h_jet` is stated [m/s]."""

DEFAULT_TOP_SPEED_M_S = 20.0
"""Full air speed of an oven that does not tell it [m/s] (assumption; 5-30 is usual)."""

RE_RANGE, SPACING_RANGE, AREA_RANGE = (2e3, 1e5), (2.0, 12.0), (0.004, 0.04)
"""Where the correlation holds."""

# Air at the film temperature of 180 °C between 260 °C air and a 100 °C surface, 101 kPa (reference equation of state).
AIR_CONDUCTIVITY = 0.036964
AIR_VISCOSITY = 3.24249e-5
AIR_PRANDTL = 0.69788

# A nozzle plate as such ovens are built (assumption: 10-12.5 mm nozzles, 5 diameters away, 2 % open area).
NOZZLE_M, SPACING, OPEN_AREA = 0.011, 5.0, 0.02


def jet_array_nusselt(reynolds: float, spacing: float, open_area: float, prandtl: float) -> float:
    """Mean Nusselt number under an array of round nozzles (Martin 1977).

    Nu = K G 0.5 Re^(2/3) Pr^0.42 with G = 2 s (1 - 2.2 s) / (1 + 0.2 (H/D - 6) s), s = sqrt(Ar), and
    K = (1 + (H/D s / 0.6)^6)^(-0.05).

    Parameters
    ----------
    reynolds, prandtl
        Re and Pr of the air.
    spacing
        H / D.
    open_area
        Ar.

    Raises
    ------
    ValueError
        If spacing or open area lie outside the range of the correlation. Low Re is allowed: slow air is asked for too,
        and the blend with still air covers it.
    """
    if not (SPACING_RANGE[0] <= spacing <= SPACING_RANGE[1] and AREA_RANGE[0] <= open_area <= AREA_RANGE[1]):
        raise ValueError(
            f"H/D is {spacing:g} and Ar {open_area:g}. The correlation holds for H/D 2 to 12 and Ar 0.004 to 0.04. "
            "Use a nozzle plate in that range"
        )
    root = float(open_area**0.5)
    geometry = 2 * root * (1 - 2.2 * root) / (1 + 0.2 * (spacing - 6) * root)
    correction = (1 + (spacing * root / 0.6) ** 6) ** -0.05
    return float(correction * geometry * 0.5 * reynolds ** (2 / 3) * prandtl**0.42)


def jet_array_h(speed_m_s: float, nozzle_m: float = NOZZLE_M) -> float:
    """Mean heat transfer coefficient of 260 °C jets on a 100 °C surface [W/(m2 K)]."""
    reynolds = speed_m_s * nozzle_m / AIR_VISCOSITY
    return jet_array_nusselt(reynolds, SPACING, OPEN_AREA, AIR_PRANDTL) * AIR_CONDUCTIVITY / nozzle_m
