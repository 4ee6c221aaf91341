"""The brief's second half: windows, rest and proof, critical limit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import streamlit as st

from tuner.domain import Brief
from tuner.domain.quantities import Kind
from tuner.screens.fields import Form
from tuner.screens.marks.words import NAME, POLES

if TYPE_CHECKING:
    from tuner.services import BriefCheck

_KIND: dict[str, Kind] = {"core_temperature_c": "temperature", "cook_loss_pct": "share", "duration_s": "duration"}
_SCORE_WINDOW = (2.5, 3.5)
"""What a score window begins with (common practice, no source)."""
_LIMITS = {"default": "Default of the food class", "stated": "A stated limit", "none": "Nothing to kill"}
_HEAT = {"firmer": "firmer", "softer": "softer"}


def _edges(form: Form, name: str, brief: Brief | None) -> dict[str, float] | None:
    window = brief.targets.of(name) if brief else None
    begin = _SCORE_WINDOW if brief is None and name in POLES else (None, None)
    low, high = (window.low, window.high) if window else begin
    label = f"{NAME[name]} ({' … '.join(POLES[name])})" if name in POLES else NAME[name]
    left, right = st.columns(2)
    with left:
        lowest = form.quantity(f"{name}.low", f"{label}, lowest", _KIND.get(name, "plain"), value=low)
    with right:
        highest = form.quantity(f"{name}.high", f"{label}, highest", _KIND.get(name, "plain"), value=high)
    edges = {side: value for side, value in (("low", lowest), ("high", highest)) if value is not None}
    return edges or None


def window_fields(form: Form, brief: Brief | None) -> dict[str, Any]:
    """Lowest and highest acceptable value of each attribute; both empty means no window."""
    found = {name: _edges(form, name, brief) for name in NAME}
    return {name: edges for name, edges in found.items() if edges is not None}


def proof_fields(form: Form, brief: Brief | None) -> dict[str, Any]:
    """Rest, readings, panel, confirmations, budget."""
    left, middle, right = st.columns(3)
    with left:
        rest = form.quantity("rest_s", "Rest before measuring", "duration", value=brief.rest_s if brief else 60)
        places = form.whole("places", "Places read", value=brief.places if brief else 3)
    with middle:
        tasters = form.whole("tasters", "Tasters", value=brief.tasters if brief else 4)
        confirmations = form.whole("confirmation_cooks", "Confirmation cooks", value=brief.confirmation_cooks if brief else 3)
    with right:
        budget = form.whole("budget_cooks", "Cooks to spend at most", value=brief.budget_cooks if brief else None)
        heat = form.choice(
            "texture_with_heat", "More cooking makes it", _HEAT, value=brief.texture_with_heat if brief else None
        )
    found = {
        "rest_s": rest,
        "places": places,
        "tasters": tasters,
        "confirmation_cooks": confirmations,
        "budget_cooks": budget,
        "texture_with_heat": heat,
    }
    return {name: value for name, value in found.items() if value is not None}


def _approval(form: Form, before: dict[str, Any], *, market: str | None) -> dict[str, Any]:
    left, right = st.columns(2)
    with left:
        rule = form.text("rule", "Which rule", value=before.get("rule"))
        edition = form.text("edition", "Edition", value=before.get("edition"))
    with right:
        of_market = form.text("limit_market", "Market of the rule", value=before.get("market") or market)
        approver = form.text("approved_by", "Approved by (role or initials)", value=before.get("approved_by"))
    return {"rule": rule, "edition": edition, "market": of_market, "approved_by": approver}


def _stated(form: Form, before: dict[str, Any]) -> dict[str, Any]:
    columns = st.columns(4)
    with columns[0]:
        core = form.quantity(
            "limit_c", "Core temperature", "temperature", value=before.get("core_temperature_c"), required=True
        )
    with columns[1]:
        hold = form.quantity("limit_hold", "Held for", "duration", value=before.get("hold_s", 0))
    with columns[2]:
        rest = form.quantity("limit_rest", "Rest of the rule", "duration", value=before.get("rest_s", 0))
    with columns[3]:
        guard = form.quantity("guard_c", "Guard, in K", "plain", value=before.get("guard_c", 2))
    covered = st.checkbox("The rule asks for a covered rest", value=bool(before.get("covered")), key=form.key("limit_covered"))
    return {"core_temperature_c": core, "hold_s": hold, "rest_s": rest, "guard_c": guard, "covered": covered}


def _default_row(check: BriefCheck | None) -> dict[str, Any]:
    """The default of the class as the beginning of a stated limit, so that an approver only has to sign it."""
    if check is None or check.limit.none:
        return {}
    names = ("core_temperature_c", "hold_s", "rest_s", "covered", "guard_c", "rule", "market", "edition")
    return {name: getattr(check.limit, name) for name in names}


def limit_fields(form: Form, brief: Brief | None, unlimited: BriefCheck | None) -> dict[str, Any] | None:
    """The critical limit of the brief; None leaves it to the default of the food class.

    Parameters
    ----------
    form, brief
        The form, and the brief being edited.
    unlimited
        What is known of the brief without a limit of its own: its default begins a stated limit.
    """
    own = brief.critical_limit if brief else None
    kind = form.choice("limit", "Critical limit", _LIMITS, value="default" if own is None else "none" if own.none else "stated")
    if kind in (None, "default"):
        st.caption("Nobody has approved the default: every verdict stays unknown until a stated limit names its approver.")
        return None
    before = own.model_dump(exclude_unset=True) if own else _default_row(unlimited)
    market = brief.market if brief else None
    body = {"none": True} if kind == "none" else _stated(form, before)
    table = {name: before[name] for name in ("z_c", "reference_c", "required_min") if kind == "stated" and name in before}
    found = body | table | _approval(form, before, market=market)
    return {name: value for name, value in found.items() if value is not None}
