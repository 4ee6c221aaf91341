"""The simple rule, proof plans, tolerance limits."""

from tuner.proof.acceptance import NoneBelowRule, ToleranceRule, tolerance_factor
from tuner.proof.counting import Tally, counts, tally
from tuner.proof.plans import plan
from tuner.proof.simple_rule import Outcome, judge
from tuner.proof.window_margins import margins
from tuner.proof.winnable import cooks_until_run, perfect_pass_chance

__all__ = [
    "NoneBelowRule",
    "Outcome",
    "Tally",
    "ToleranceRule",
    "cooks_until_run",
    "counts",
    "judge",
    "margins",
    "perfect_pass_chance",
    "plan",
    "tally",
    "tolerance_factor",
]
