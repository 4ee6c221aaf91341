"""The limit that counts, in words: always with its rule and who approved it."""

from __future__ import annotations

from tuner.screens.marks.words import number
from tuner.services import BriefCheck, DevelopmentView


def limit_words(source: DevelopmentView | BriefCheck) -> str:
    """One sentence: temperature, hold, rest, guard, rule, edition, approver."""
    limit = source.limit
    rule = ", ".join(text for text in (limit.rule, limit.market, limit.edition) if text)
    approver = f"approved by {limit.approved_by}" if limit.approved_by else "not approved by anybody yet"
    tail = f" ({'; '.join(text for text in (rule, approver) if text)})"
    if limit.none or limit.core_temperature_c is None:
        return f"nothing to kill{tail}"
    parts = [f"{number(limit.core_temperature_c)} °C in all places"]
    if limit.hold_s:
        parts.append(f"held {number(limit.hold_s)} s")
    if limit.rest_s:
        parts.append(f"after {number(limit.rest_s)} s of {'covered ' if limit.covered else ''}rest")
    parts.append(f"guard {number(limit.guard_c)} K: the thermometer must read {number(limit.pass_line_c or 0)} °C")
    return ", ".join(parts) + tail
