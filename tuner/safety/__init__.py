"""Food classes, critical limits, lethality, verdict, eat gate, cautions."""

from tuner.safety.decision import verdict
from tuner.safety.lethality import lethality_min
from tuner.safety.limit_in_force import EffectiveLimit, effective_limit, is_below_default, limit_class, usable_core_window
from tuner.safety.limit_rows import SHIPPED_LIMITS, LimitRow, rows_for

__all__ = [
    "SHIPPED_LIMITS",
    "EffectiveLimit",
    "LimitRow",
    "effective_limit",
    "is_below_default",
    "lethality_min",
    "limit_class",
    "rows_for",
    "usable_core_window",
    "verdict",
]
