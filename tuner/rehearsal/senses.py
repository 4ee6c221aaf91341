"""From what happened in a portion to what thermometers, eyes and mouths find, before any error of theirs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.rehearsal.nature import Nature
from tuner.rehearsal.simulation import Result
from tuner.rehearsal.table import Array

_PARTS = np.array([0.25, 0.35, 0.40])
"""What rim, heart and mantle count for in a bite."""
_LEAST_COLOUR = 0.02
_CRISP_MM, _PARCHED_FROM, _DARK = 0.25, 0.8, -1.8
"""Dried depth of half the crispness; loss (in 10 % of the mass) from which dryness grows faster; colour that begins to look
dry."""
_EDGE_SPOILT, _EDGE_SEEN = 0.12, 0.2
"""Share of the rim's mass boiled off at which it is half spoilt, and what the rim counts for in the colour."""


@dataclass(frozen=True, slots=True)
class Impression:
    """True properties of n portions.

    Attributes
    ----------
    places_c
        Temperature at each place, shape (places, n).
    colour
        Logarithm of the colour that can be seen.
    firmness, juiciness
        On open scales of this dish.
    loss_pct
        Cook loss [%].
    """

    places_c: Array
    colour: Array
    firmness: Array
    juiciness: Array
    loss_pct: Array

    def take(self, index: NDArray[np.intp]) -> Impression:
        """Impressions at `index`, in that order."""
        return Impression(**{name: getattr(self, name)[..., index] for name in self.__slots__})

    @property
    def lowest_c(self) -> Array:
        """Temperature of the coldest place, shape (n,)."""
        return np.asarray(self.places_c.min(axis=0))

    @property
    def mean_c(self) -> Array:
        """Mean over the places, shape (n,)."""
        return np.asarray(self.places_c.mean(axis=0))

    @property
    def latent(self) -> Array:
        """Colour, firmness and juiciness, shape (3, n)."""
        return np.stack([self.colour, self.firmness, self.juiciness])


def together(parts: Sequence[Impression]) -> Impression:
    """Several impressions as one."""
    names = Impression.__slots__
    return Impression(**{name: np.concatenate([getattr(part, name) for part in parts], axis=-1) for name in names})


def impression_of(result: Result, nature: Nature, weights: Array) -> Impression:
    """What is there to be found.

    Parameters
    ----------
    result
        Outcome of the simulation.
    nature
        Hidden nature of the dish.
    weights
        How each place mixes the compartments, shape (places, 6), rows add up to 1.
    """
    senses = nature.senses
    dry, wet = np.maximum(result.dry_mm, 0.0), np.maximum(-result.dry_mm, 0.0)
    soaked = 1.0 / (1.0 + (dry / 0.08) ** 2)
    # rim that has boiled dry is dark, hard and dry: a little of it hardly shows, much of it spoils
    edge = result.edge**2 / (result.edge**2 + _EDGE_SPOILT**2)
    seen = (1 - _EDGE_SEEN) * result.pigment * (1 - senses.fade * soaked) + _EDGE_SEEN * edge
    colour = np.log(seen + _LEAST_COLOUR)
    state = np.tensordot(np.asarray(nature.states.firmness), result.states, axes=1)
    firmness = _PARTS @ state + senses.crisp * dry + senses.leather * result.skin - senses.sog * wet
    firmness = firmness + senses.toughening * result.steamed * 10 + senses.edges * edge
    left = (result.steamed + result.pressed) * 10
    # a crisp bite shows over a juicy inside only
    firmness = firmness + senses.contrast * dry / (dry + _CRISP_MM) * np.exp(-left)
    juiciness = senses.film * wet - senses.loss * left - senses.dry_crust * dry - senses.skin * result.skin
    juiciness = juiciness - 0.5 * senses.edges * edge - senses.parched * np.maximum(left - _PARCHED_FROM, 0.0) ** 2
    # what looks dark is called dry
    juiciness = juiciness - senses.halo * np.maximum(colour - _DARK, 0.0) ** 2
    return Impression(weights @ result.temperature_c, colour, firmness, juiciness, result.loss_pct)


@dataclass(frozen=True, slots=True)
class Scale:
    """How strongly the panel's marks answer, and where they read 3.

    Attributes
    ----------
    middle
        Colour, firmness and juiciness at which the mark is 3, shape (3,).
    per_mark
        Change of each that moves a mark near 3 by one, shape (3,).
    """

    middle: tuple[float, float, float]
    per_mark: tuple[float, float, float]

    def marks(self, latent: Array) -> Array:
        """True marks 1 to 5 of browning, texture and moisture; shapes (3, n)."""
        x = (latent - np.asarray(self.middle)[:, None]) / np.asarray(self.per_mark)[:, None]
        browning = 1 + 4 / (1 + np.exp(-x[0]))
        texture = 3 + 2 * (x[1] / 2) / np.sqrt(1 + (x[1] / 2) ** 2)
        moisture = 3 + 4 / np.pi * np.arctan(x[2] * np.pi / 4)
        return np.stack([browning, texture, moisture])
