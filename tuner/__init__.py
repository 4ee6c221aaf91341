"""The test-cook tuner: from a conventional recipe to a proven program of a rapid-cook oven, with few test cooks.

The names here load their rooms when first used, so that `import tuner` stays fast.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"

if TYPE_CHECKING:
    from tuner import learning, physics, proof, rehearsal, safety
    from tuner.domain import (
        Assessment,
        Brief,
        Feasibility,
        Forecast,
        InvalidDocument,
        NoLegalProgram,
        Oven,
        Program,
        ProofPlan,
        Proposal,
        TestCook,
        Translation,
        TunerError,
        Verdict,
    )
    from tuner.learning import Learned, assess, feasibility, first_guess, forecast, learn, propose, translate
else:
    _ROOMS = ("domain", "physics", "safety", "proof", "learning", "rehearsal")
    _CALLS = ("Learned", "assess", "feasibility", "first_guess", "forecast", "learn", "propose", "translate")

    def __getattr__(name: str) -> Any:
        from importlib import import_module

        if name in _ROOMS:
            return import_module(f"tuner.{name}")
        if name in __all__:
            room = "learning" if name in _CALLS else "domain"
            return getattr(import_module(f"tuner.{room}"), name)
        raise AttributeError(f"module 'tuner' has no attribute {name!r}")

    def __dir__() -> list[str]:
        return sorted({*globals(), *__all__})


__all__ = [
    "Assessment",
    "Brief",
    "Feasibility",
    "Forecast",
    "InvalidDocument",
    "Learned",
    "NoLegalProgram",
    "Oven",
    "Program",
    "ProofPlan",
    "Proposal",
    "TestCook",
    "Translation",
    "TunerError",
    "Verdict",
    "assess",
    "feasibility",
    "first_guess",
    "forecast",
    "learn",
    "learning",
    "physics",
    "proof",
    "propose",
    "rehearsal",
    "safety",
    "translate",
]
