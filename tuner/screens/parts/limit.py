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


def rules_in_words(check: BriefCheck) -> list[str]:
    """One sentence for each shipped rule of the food class and market: temperature, hold, rest, source, conditions."""
    found = []
    for row in check.rules:
        heat = "nothing to kill" if row.core_temperature_c is None else f"{number(row.core_temperature_c)} °C"
        if row.table:
            heat = f"a table of holds from {number(row.core_temperature_c or 0)} °C"
        elif row.hold_s:
            heat += f" for {number(row.hold_s)} s"
        if row.rest_s:
            heat += f", then {number(row.rest_s)} s of {'covered ' if row.covered else ''}rest"
        conditions = f"; {row.conditions}" if row.conditions else ""
        seen = "" if row.seen == "verified" else f", {row.seen}"
        found.append(f"{heat}: {row.authority} {row.rule}, {row.market}, {row.edition}{seen}{conditions}")
    return found
