"""Food classes, critical limits, lethality, verdict, eat gate, cautions."""

from tuner.safety.allergens import allergen_list
from tuner.safety.caution_texts import CAUTIONS, PLACES, cautions
from tuner.safety.decision import verdict
from tuner.safety.lethality import lethality_min
from tuner.safety.limit_in_force import EffectiveLimit, effective_limit, is_below_default, limit_class, usable_core_window
from tuner.safety.limit_questions import questions_about_limit
from tuner.safety.limit_row import LimitRow
from tuner.safety.limit_rows import SHIPPED_LIMITS
from tuner.safety.markets import rows_for
from tuner.safety.tasting_gate import Gate, eat_gate, tasted

__all__ = [
    "CAUTIONS",
    "PLACES",
    "SHIPPED_LIMITS",
    "EffectiveLimit",
    "Gate",
    "LimitRow",
    "allergen_list",
    "cautions",
    "eat_gate",
    "effective_limit",
    "is_below_default",
    "lethality_min",
    "limit_class",
    "questions_about_limit",
    "rows_for",
    "tasted",
    "usable_core_window",
    "verdict",
]
