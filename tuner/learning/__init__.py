"""First guess, feasibility, calibration, proposals, forecasts, stopping, reasons, diagnosis, translation, sampler."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tuner.learning.acquisition import RELIABLE_AT
from tuner.learning.calls import assess, first_guess, forecast, learn, propose
from tuner.learning.diagnosis import diagnose
from tuner.learning.diagnosis_results import Diagnosis
from tuner.learning.learned import Learned
from tuner.learning.model_card import ModelCard, model_card
from tuner.learning.possibility import feasibility
from tuner.learning.priors import Prior, prior
from tuner.learning.translation import translate

if TYPE_CHECKING:
    from tuner.learning.sampler import CookSampler
else:

    def __getattr__(name: str) -> Any:
        # Optuna loads only where its sampler is asked for.
        if name == "CookSampler":
            from tuner.learning.sampler import CookSampler

            return CookSampler
        raise AttributeError(f"module 'tuner.learning' has no attribute {name!r}")


__all__ = [
    "RELIABLE_AT",
    "CookSampler",
    "Diagnosis",
    "Learned",
    "ModelCard",
    "Prior",
    "assess",
    "diagnose",
    "feasibility",
    "first_guess",
    "forecast",
    "learn",
    "model_card",
    "prior",
    "propose",
    "translate",
]
