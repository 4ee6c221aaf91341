"""The calibrated physics of one dish on one oven, as one vectorised function of programs and parameters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tuner.domain import Brief, Oven, Program
from tuner.physics.anchor import ALLOWED_LOSS_SHARE, Anchor, anchor_for
from tuner.physics.cooking import Cavity, Rest, body_of, cook
from tuner.physics.kinetics import colour_latent, held_latent
from tuner.physics.microwave import coupling
from tuner.physics.parameters import INDEX, PARAMETERS, natural
from tuner.physics.priors import sharpened
from tuner.physics.programs import ProgramArrays
from tuner.physics.reading import core_reading, loss_pct
from tuner.physics.simulation import Body, Outcome

Array = NDArray[np.float64]

COLUMNS = ("core_temperature_c", "browning", "texture", "moisture", "cook_loss_pct")
"""Columns of `PortionModel.predict`; the scores as latents."""

_CHUNK = 1536
"""Runs simulated together: their arrays stay in the cache of a core."""

_LOSS_WIDTH = 0.35
"""Scaled loss is 1 at this share of the largest allowed loss above the conventional one."""

_RAW_CLASSES = frozenset({"poultry", "ground_meat", "whole_muscle", "fish", "egg", "stuffed", "reheated"})
"""Classes rested under a cover unless the brief's limit says otherwise, as rules for microwave cooking ask (US FDA Food
Code 3-401.12, 3-403.11)."""


@dataclass(frozen=True, eq=False)
class PortionModel:
    """The physics of one dish on one oven.

    Attributes
    ----------
    prior_mean, prior_sd : ndarray (P,)
        Prior of theta, in the order of `PARAMETERS`: make-up, the chef's word on texture, and the oven's checks.
    anchor
        What the conventional recipe did.
    body, cavity
        Portion and oven as simulated.
    rest_s, rest_covered
        Rest after which the core is read.
    lid
        Whether the portion is covered while it cooks.
    """

    prior_mean: Array
    prior_sd: Array
    anchor: Anchor
    body: Body
    cavity: Cavity
    rest_s: float
    rest_covered: bool
    lid: bool

    def predict(
        self,
        programs: Sequence[Program] | ProgramArrays,
        *,
        mass_g: ArrayLike,
        start_temperature_c: ArrayLike,
        theta: ArrayLike,
        rest_s: ArrayLike | None = None,
    ) -> Array:
        """What n programs do to n portions.

        Parameters
        ----------
        programs
            n programs, or their arrays.
        mass_g, start_temperature_c : array_like (n,) or scalar
            Mass [g] and temperature [°C] at the start.
        theta : array_like (P,) or (n, P)
            Parameters, in standard normal units.
        rest_s : array_like (n,) or scalar, optional
            Rest after the end [s]; by default the brief's.

        Returns
        -------
        ndarray (n, 5)
            Mean core reading after the rest [°C], latents of browning, texture and moisture (`score_from_latent`), cook
            loss [%].
        """
        arrays = ProgramArrays.of(programs)
        runs = len(arrays)
        mass = np.broadcast_to(np.asarray(mass_g, dtype=float), (runs,))
        start = np.broadcast_to(np.asarray(start_temperature_c, dtype=float), (runs,))
        rest = np.broadcast_to(np.asarray(self.rest_s if rest_s is None else rest_s, dtype=float), (runs,))
        thetas = np.broadcast_to(np.asarray(theta, dtype=float), (runs, len(PARAMETERS)))
        result = np.empty((runs, len(COLUMNS)))
        icy = start < self.body.food.freezing_point_c
        for group in (np.flatnonzero(~icy), np.flatnonzero(icy)):
            for begin in range(0, group.size, _CHUNK):
                which = group[begin : begin + _CHUNK]
                result[which] = self._predict(arrays[which], mass[which], start[which], thetas[which], rest[which])
        return result

    def coupled_watts(self, mass_g: float) -> float:
        """Watts a cold portion of this mass takes at full microwave, at the prior mean."""
        share = natural(self.prior_mean)[INDEX["coupled_share"]] * coupling(np.array(mass_g))
        return float(share) * self.cavity.rated_w

    def _predict(self, programs: ProgramArrays, mass_g: Array, start_c: Array, theta: Array, rest_s: Array) -> Array:
        values = np.ascontiguousarray(natural(theta).T)
        outcome, _ = cook(
            self.body,
            self.cavity,
            programs,
            values,
            mass_g=mass_g,
            start_c=start_c,
            rest=Rest(rest_s, self.rest_covered),
            lid=self.lid,
        )
        return self.attributes(outcome, values, theta)

    def attributes(self, outcome: Outcome, values: Array, theta: Array) -> Array:
        """Reading, latents and loss (n, 5) of what happened."""

        def value(name: str) -> Array:
            row: Array = values[INDEX[name]]
            return row

        browned, cooked, dried = self.anchor.at(theta)
        half_dose = np.exp(np.clip(browned + value("browning_shift"), -5.0, 15.0))
        loss = loss_pct(self.body, outcome)
        largest = self.anchor.largest_loss_pct
        scaled = (loss - ALLOWED_LOSS_SHARE * largest) / (_LOSS_WIDTH * largest)
        crust = np.sqrt(outcome.crust) - dried
        texture = value("texture_shift") + value("texture_per_dose") * (np.log1p(outcome.heat_dose) - cooked)
        texture += value("texture_per_crust") * crust + value("texture_per_loss") * scaled
        moisture = value("moisture_shift") - value("moisture_per_loss") * scaled + value("moisture_per_crust") * crust
        return np.stack(
            [
                core_reading(outcome, values, self.body.boiling_c),
                colour_latent(outcome.browning_dose, half_dose, value("browning_slope")),
                held_latent(texture),
                held_latent(moisture),
                loss + value("loss_shift"),
            ],
            axis=1,
        )


def _rest_covered(brief: Brief) -> bool:
    """Whether the rest is covered: as the limit says, else as the rules for the class ask."""
    limit = brief.critical_limit
    if limit is not None and not limit.none:
        return limit.covered
    return limit is None and brief.food_class in _RAW_CLASSES


@lru_cache(maxsize=64)
def portion_model(brief: Brief, oven: Oven) -> PortionModel:
    """The physics of a brief's dish on an oven, with priors and anchor.

    Works for every legal brief and oven; the same arguments give the same model (a bounded memo keeps the last ones).

    Parameters
    ----------
    brief
        Dish, portion, conventional method, windows.
    oven
        The oven, with its rating, speed and checks where known.
    """
    prior = sharpened(brief, oven)
    body = body_of(brief, oven)
    covered = _rest_covered(brief)
    rest_s = max(brief.rest_s, brief.critical_limit.rest_s if brief.critical_limit else 0.0)
    return PortionModel(
        prior_mean=prior.mean,
        prior_sd=prior.sd,
        anchor=anchor_for(brief, body, prior.mean, rest_s, covered=covered),
        body=body,
        cavity=Cavity.of(oven),
        rest_s=rest_s,
        rest_covered=covered,
        lid=bool(brief.portion.covered),
    )
