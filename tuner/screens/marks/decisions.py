"""What was decided about proposals, with the reasons."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import tzinfo
from html import escape

from tuner.screens.marks.strip import strip
from tuner.screens.marks.words import GLYPH, PURPOSE, State, moment, percent
from tuner.services import ProposalRecord

_WORD: dict[str, tuple[State, str]] = {
    "accept": ("inside", "taken"),
    "change": ("close", "changed"),
    "refuse": ("outside", "refused"),
}


def _one(record: ProposalRecord, zone: tzinfo | None) -> str:
    decision = record.decision
    if decision is None:
        return ""
    state, word = _WORD[decision.decision]
    forecast = record.proposal.forecast
    about = f"{PURPOSE[record.proposal.purpose]} · {moment(decision.decided_at, zone)} · {decision.decided_by}"
    then = f"forecast then: {percent(forecast.chance_all_inside)} inside, {percent(forecast.chance_safe)} safe"
    return (
        f'<div class="tk-decision"><div><b>Proposal {record.number}</b> <span class="tk-{state}">{GLYPH[state]} {word}</span> '
        f"<small>{escape(about)}</small><div>{escape(decision.reason)}</div><small>{escape(then)}</small></div>"
        f"{strip(record.program, height_px=28)}</div>"
    )


def decisions_list(records: Sequence[ProposalRecord], zone: tzinfo | None = None) -> str:
    """All decisions, newest first; times are told in `zone`."""
    newest = sorted((one for one in records if one.decision), key=lambda one: one.number, reverse=True)
    return f'<div class="tk">{"".join(_one(record, zone) for record in newest)}</div>'
