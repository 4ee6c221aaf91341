"""Priors of the physics' parameters, from published ranges and from earlier developments.

An earlier development leaves behind what its own cooks taught: for each parameter, the centre and precision of that
evidence apart from the prior it started with. Evidence of several developments is pooled with a spread between developments;
like dishes and like ovens weigh more, and the cooks of the present development decide how far the pooled prior is trusted.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from tuner.domain import Brief, Oven, TestCook
from tuner.domain.model import Model, Number, Text, Whole
from tuner.learning.calibration import Calibration, ParameterPrior, residual_covariance
from tuner.learning.program_table import Array
from tuner.learning.simulator import Simulator
from tuner.physics import PARAMETERS

_ROOM = 1.25
"""Factor on the published spreads: they are of single numbers, the reduced physics needs room for what it leaves out."""
_BETWEEN = 0.65
_BETWEEN_SAME_OVEN = 0.3
_LEAST_PRECISION = 0.05
_NARROWEST, _WIDEST = 0.55, 1.2
_NARROWEST_SAME_OVEN = 0.35
_TRUST = (0.0, 0.25, 0.5, 0.75, 1.0)
_TRUST_BELIEF = (0.10, 0.15, 0.25, 0.25, 0.25)


class Evidence(Model):
    """What one earlier development taught about the parameters, with what it was about."""

    dish: Text
    oven: Text
    food_class: Text
    shape: Text
    start_state: Text
    log_thickness_mm: Number
    log_mass_g: Number
    water: Number
    fat: Number
    protein: Number
    cooks: Whole
    shift: tuple[Number, ...]
    precision: tuple[Number, ...]


class Prior(Model):
    """What earlier developments taught, as services keep it. `parameters` names the entries of every evidence."""

    parameters: tuple[Text, ...] = ()
    developments: tuple[Evidence, ...] = ()


Development = tuple[Brief, Oven, Sequence[TestCook]]
Earlier = Prior | Sequence[Development]


def prior(earlier: Sequence[Development] | Prior = ()) -> Prior:
    """What earlier developments taught, for any dishes on any ovens.

    Parameters
    ----------
    earlier
        (brief, oven, cooks) of each development; one without usable cooks teaches nothing.

    Returns
    -------
    Prior
        JSON-able; pass it as `earlier` to the calls of this room.
    """
    if isinstance(earlier, Prior):
        return earlier
    if not earlier:
        return Prior()
    from tuner.learning.learned import learned_from

    found = []
    for brief, oven, cooks in earlier:
        calibration = learned_from(brief, oven, cooks).view.calibration
        if len(calibration.alpha):
            found.append(_evidence(brief, oven, calibration))
    return Prior(parameters=parameter_names(), developments=tuple(found))


def parameter_names() -> tuple[str, ...]:
    """Names of the physics' parameters, in the order of theta."""
    return tuple(parameter.name for parameter in PARAMETERS)


def oven_key(oven: Oven) -> str:
    """What tells one physical oven from another: its serial number, else its name."""
    return oven.serial or oven.name


def _evidence(brief: Brief, oven: Oven, calibration: Calibration) -> Evidence:
    base = calibration.prior
    variance = np.clip(np.diag(calibration.u_cov), 1e-3, 1.0)
    gained = np.clip(1.0 / variance - 1.0, 0.0, None)
    shift = np.where(gained > 1e-3, calibration.u_mean / variance / np.maximum(gained, 1e-3), 0.0)
    portion = brief.portion
    return Evidence(
        dish=brief.dish,
        oven=oven_key(oven),
        food_class=brief.food_class,
        shape=portion.shape,
        start_state=portion.start_state,
        log_thickness_mm=float(np.log(portion.thickness_mm)),
        log_mass_g=float(np.log(portion.mass_g)),
        water=portion.water,
        fat=portion.fat,
        protein=portion.protein,
        cooks=len(calibration.observations),
        shift=tuple(float(value) for value in np.clip(base.sd * shift, -6.0, 6.0)),
        precision=tuple(float(value) for value in gained / base.sd**2),
    )


def likeness(evidence: Evidence, brief: Brief) -> float:
    """How like the dish of an earlier development is to a brief's, 0 to 1 (physics, not names)."""
    portion = brief.portion
    gaps = np.array(
        [
            (evidence.log_thickness_mm - np.log(portion.thickness_mm)) / 0.5,
            (evidence.log_mass_g - np.log(portion.mass_g)) / 1.0,
            (evidence.water - portion.water) / 0.2,
            (evidence.fat - portion.fat) / 0.15,
            (evidence.protein - portion.protein) / 0.12,
            1.0 if _cold(evidence.start_state) != _cold(portion.start_state) else 0.0,
            0.5 if evidence.shape != portion.shape else 0.0,
        ]
    )
    return float(np.exp(-0.25 * (gaps**2).sum()))


def _cold(start_state: str) -> bool:
    return start_state in {"frozen", "tempered"}


@dataclass(frozen=True, eq=False)
class Pooled:
    """Prior pooled from earlier developments: shift of the centres and standard deviations in theta, (P,)."""

    shift: Array
    sd: Array


def pooled(known: Prior, brief: Brief, oven: Oven, base_sd: Array) -> Pooled | None:
    """Pool earlier evidence for a brief and an oven; None where there is none for today's parameters."""
    names = parameter_names()
    if not known.developments or set(known.parameters) != set(names):
        return None
    columns = [known.parameters.index(name) for name in names]
    shift = np.array([evidence.shift for evidence in known.developments])[:, columns]
    precision = np.array([evidence.precision for evidence in known.developments])[:, columns]
    of_oven = np.array([parameter.group == "oven" for parameter in PARAMETERS])
    same = np.array([evidence.oven == oven_key(oven) for evidence in known.developments])
    like = np.array([likeness(evidence, brief) for evidence in known.developments])
    between = np.where(same[:, None] & of_oven[None, :], _BETWEEN_SAME_OVEN, _BETWEEN)
    weight = np.where(of_oven[None, :], 1.0, 0.35 + 0.65 * like[:, None])
    known_var = 1.0 / np.maximum(precision, 1e-9) + (between * base_sd) ** 2
    pull = np.where(precision * base_sd**2 > _LEAST_PRECISION, weight / known_var, 0.0)
    total = pull.sum(axis=0) + 1.0 / base_sd**2
    closest = np.where(of_oven & same.any(), _BETWEEN_SAME_OVEN, _BETWEEN) * base_sd
    informed = pull.sum(axis=0) > 0
    sd = np.where(informed, np.sqrt(1.0 / total + closest**2), base_sd)
    least = np.where(of_oven & same.any(), _NARROWEST_SAME_OVEN, _NARROWEST)
    return Pooled((pull * shift).sum(axis=0) / total, np.clip(sd, least * base_sd, _WIDEST * base_sd))


def blended(base: ParameterPrior, learned: Pooled, trust: float) -> ParameterPrior:
    """Prior that trusts the pooled one by `trust`: moments of the mixture of both."""
    centre = base.centre + trust * learned.shift
    variance = (1 - trust) * base.sd**2 + trust * learned.sd**2 + trust * (1 - trust) * learned.shift**2
    return ParameterPrior(centre, np.sqrt(variance))


def evidence_for(calibration: Calibration, other: ParameterPrior) -> float:
    """Log evidence of the cooks under another prior, on the same linearisation."""
    seen, rows = calibration.observations, calibration.rows
    if not len(rows):
        return 0.0
    by_theta = calibration.jacobian / calibration.prior.sd
    cook, column = rows[:, 0], rows[:, 1]
    gap = seen.y[cook, column] - calibration.expansion.states[cook, column] + by_theta @ (calibration.theta - other.centre)
    scaled = by_theta * other.sd
    matrix = scaled @ scaled.T + residual_covariance(calibration.residual, rows, calibration.points)
    factor = cho_factor(matrix + np.diag(calibration.noise_var), lower=True)
    return -0.5 * float(gap @ cho_solve(factor, gap)) - float(np.log(np.diag(factor[0])).sum())


def parameter_prior(
    simulator: Simulator, brief: Brief, oven: Oven, known: Prior, fit: Callable[..., Calibration]
) -> Calibration:
    """Calibrate under the base prior, or under the pooled prior trusted as far as the present cooks bear it out."""
    base = ParameterPrior(simulator.prior_mean, _ROOM * simulator.prior_sd)
    learned = pooled(known, brief, oven, base.sd)
    if learned is None:
        return fit(base)
    believed = blended(base, learned, float(np.dot(_TRUST, _TRUST_BELIEF)))
    calibration = fit(believed)
    if not len(calibration.alpha):
        return calibration
    scores = np.array([evidence_for(calibration, blended(base, learned, trust)) for trust in _TRUST])
    weights = np.exp(scores - scores.max()) * np.array(_TRUST_BELIEF)
    trust = float(weights @ np.array(_TRUST) / weights.sum())
    final = blended(base, learned, trust)
    return fit(final, calibration)
