"""The cook sheet of a taken program: its link, its paper, what became of it, and taking it back."""

from __future__ import annotations

from urllib.parse import urlsplit

import streamlit as st

from tuner import services
from tuner.screens import state
from tuner.screens.door import error_door
from tuner.screens.loading import workspace
from tuner.screens.who import actor
from tuner.services import CookSheetRecord, DevelopmentView, ProposalRecord

_LANGUAGES = {"en": "English", "de": "Deutsch"}
_STATES = {
    "sent": "◐ made, not opened yet",
    "opened": "◐ opened at the oven",
    "cooked": "● a cook came back",
    "withdrawn": "✕ withdrawn",
    "expired": "✕ expired without a cook",
}


def _page_address() -> str:
    """Address of the page at the oven, on the host this page was asked for."""
    here = urlsplit(st.context.url or "")
    return f"{here.scheme}://{here.netloc}/oven/" if here.netloc else "/oven/"


def sheets_by_proposal(view: DevelopmentView) -> dict[str, list[CookSheetRecord]]:
    """Cook sheets of the taken programs, oldest first."""
    found: dict[str, list[CookSheetRecord]] = {}
    for sheet in services.list_cook_sheets(workspace(), actor(), development_id=view.id):
        found.setdefault(sheet.proposal_id, []).append(sheet)
    return found


def send_sheet(record: ProposalRecord, sheets: list[CookSheetRecord]) -> None:
    """Make the link of a cook sheet, and show those made before."""
    with st.expander("Send the cook sheet", key=f"sheet-{record.id}", expanded=bool(sheets)):
        for sheet in sheets:
            _made(sheet)
        name = st.text_input("Who shall cook it? (may stay empty)", key=f"sheet-cook-{record.id}", max_chars=100)
        language = st.segmented_control(
            "Language at the oven",
            list(_LANGUAGES),
            format_func=_LANGUAGES.__getitem__,
            default="en",
            key=f"sheet-words-{record.id}",
        )
        label = "Make another link" if sheets else "Make the link"
        if st.button(label, key=f"sheet-make-{record.id}"):
            draft = f"sheet-{record.id}"
            with error_door():
                services.issue_cook_sheet(
                    workspace(),
                    actor(),
                    proposal_id=record.id,
                    for_cook=name,
                    language=language or "en",
                    client_id=state.draft_id(draft),
                )
                state.draft_done(draft)
                st.rerun()


def _made(sheet: CookSheetRecord) -> None:
    whom = f" for {sheet.for_cook}" if sheet.for_cook else ""
    st.text(f"Sheet {sheet.number}{whom}: {_STATES[sheet.state]}")
    if sheet.state in ("withdrawn", "expired"):
        return
    link = f"{_page_address()}#{sheet.fragment}"
    st.code(link, language=None, wrap_lines=True)
    st.caption(f"Whoever has this link can cook from the sheet, without an account, until {sheet.expires_at:%d %B %Y}.")
    st.link_button("Print it", f"{link}&paper=1")
    with st.container(horizontal=True, vertical_alignment="bottom"):
        reason = st.text_input("Why withdraw it?", key=f"sheet-reason-{sheet.id}", max_chars=300)
        if st.button("Withdraw it", key=f"sheet-withdraw-{sheet.id}", disabled=not reason):
            with error_door():
                services.withdraw_cook_sheet(workspace(), actor(), sheet_id=sheet.id, reason=reason or "")
                st.rerun()
