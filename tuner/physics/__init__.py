"""What a program, or the conventional method, does to a portion."""

from tuner.physics.energy import (
    EnergyBalance,
    Estimates,
    browning_time_s,
    crust_clock_s,
    duration_bounds_s,
    energy_balance,
    energy_by_hand,
    estimates,
)
from tuner.physics.model import COLUMNS, PortionModel, portion_model
from tuner.physics.parameters import INDEX, PARAMETERS, Parameter, natural, to_theta
from tuner.physics.programs import ProgramArrays
from tuner.physics.scores import latent_from_score, latent_slope, score_from_latent

__all__ = [
    "COLUMNS",
    "INDEX",
    "PARAMETERS",
    "EnergyBalance",
    "Estimates",
    "Parameter",
    "PortionModel",
    "ProgramArrays",
    "browning_time_s",
    "crust_clock_s",
    "duration_bounds_s",
    "energy_balance",
    "energy_by_hand",
    "estimates",
    "latent_from_score",
    "latent_slope",
    "natural",
    "portion_model",
    "score_from_latent",
    "to_theta",
]
