"""An app with use cases that answer from memory, so that every state of a screen can be shown; what was asked of them is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from tests.example import oven
from tests.screens.records import cook_sheet, forecast, proposal, record, view
from tuner import proof, safety, services
from tuner.domain import Brief, Feasibility, NeedsConfirmation, NotFound, Oven, Program
from tuner.domain.plausibility import questions_about_brief, questions_about_cook
from tuner.services import (
    BriefCheck,
    CookPreview,
    CookRecord,
    CookSheetRecord,
    DevelopmentSummary,
    DevelopmentView,
    OvenRecord,
    ProposalRecord,
)

ROOT = Path(__file__).parents[2]


class Desk:
    """What the screens find, and what they asked to be kept."""

    def __init__(self) -> None:
        self.summaries: list[DevelopmentSummary] = []
        self.views: dict[str, DevelopmentView] = {}
        self.ovens: list[OvenRecord] = [OvenRecord("oven-1", oven())]
        self.kept: list[tuple[str, dict[str, Any]]] = []
        self.told: list[str] = []
        self.sheets: list[CookSheetRecord] = []

    def add(self, one: DevelopmentView) -> DevelopmentView:
        self.views[one.id] = one
        return one

    def keep(self, what: str, **given: Any) -> None:
        self.kept.append((what, given))

    # ---- what the screens call ----
    def open_workspace(self, url: str | None = None) -> object:
        return self

    def list_developments(self, space: Any, who: Any, *, include_archived: bool = False) -> tuple[DevelopmentSummary, ...]:
        return tuple(one for one in self.summaries if include_archived or one.status != "archived")

    def view_development(self, space: Any, who: Any, *, development_id: str) -> DevelopmentView:
        if development_id not in self.views:
            raise NotFound(f"development {development_id!r} is not kept here. Choose one from the list.")
        return self.views[development_id]

    def list_ovens(self, space: Any, who: Any) -> tuple[OvenRecord, ...]:
        return tuple(self.ovens)

    def add_oven(self, space: Any, who: Any, *, oven: Oven, client_id: str | None = None) -> OvenRecord:
        self.keep("oven", oven=oven, client_id=client_id, who=who)
        self.ovens.append(OvenRecord(f"oven-{len(self.ovens) + 1}", oven))
        return self.ovens[-1]

    def edit_oven(self, space: Any, who: Any, *, oven_id: str, oven: Oven, client_id: str | None = None) -> OvenRecord:
        self.keep("oven", oven=oven, oven_id=oven_id, client_id=client_id, who=who)
        return OvenRecord(oven_id, oven, 2)

    def next_proposals(self, space: Any, who: Any, *, development_id: str, count: int = 1) -> tuple[ProposalRecord, ...]:
        return self._issue(development_id, proposal(len(self.views[development_id].proposals) + 1))

    def first_day_plan(self, space: Any, who: Any, *, development_id: str, count: int = 6) -> tuple[ProposalRecord, ...]:
        self.keep("first day", count=count)
        return self._issue(development_id, *(proposal(number + 1, kind="first_day") for number in range(count)))

    def _issue(self, development_id: str, *issued: ProposalRecord) -> tuple[ProposalRecord, ...]:
        one = self.views[development_id]
        self.views[development_id] = replace(one, proposals=(*one.proposals, *issued))
        return issued

    def decide_proposal(self, space: Any, who: Any, **given: Any) -> ProposalRecord:
        self.keep("decision", **given, who=who)
        state = {"accept": "accepted", "change": "changed", "refuse": "refused"}[given["decision"]]
        for key, one in self.views.items():
            changed = tuple(replace(p, state=state) if p.id == given["proposal_id"] else p for p in one.proposals)
            self.views[key] = replace(one, proposals=changed)
        return proposal(state=state)

    def what_if(self, space: Any, who: Any, *, development_id: str, program: Program) -> Any:
        return forecast(program)

    def preview_cook(
        self, space: Any, who: Any, *, development_id: str, cook: Any, may_taste: Mapping[str, bool] | None = None
    ) -> CookPreview:
        brief = self.views[development_id].brief
        gate = safety.eat_gate(brief, cook, may_taste)
        return CookPreview(safety.verdict(brief, cook), questions_about_cook(cook, brief), gate, ())

    def log_cook(self, space: Any, who: Any, *, development_id: str, cook: Any, **given: Any) -> CookRecord:
        one = self.views[development_id]
        if questions := questions_about_cook(cook, one.brief, one.oven):
            raise NeedsConfirmation(questions)
        self.keep("cook", cook=cook, who=who, **given)
        logged = record(len(one.cooks) + 1, of=one.brief, tested=cook)
        self.views[development_id] = replace(one, cooks=(*one.cooks, logged))
        return logged

    def correct_cook(self, space: Any, who: Any, *, development_id: str, cook_id: str, cook: Any, **given: Any) -> CookRecord:
        self.keep("correction", cook=cook, cook_id=cook_id, who=who, **given)
        return record(1, tested=cook)

    def check_brief(self, brief: Brief, oven: Oven) -> BriefCheck:
        found = Feasibility(
            possible="doubtful",
            pass_chance=proof.perfect_pass_chance(brief),
            obstacles=("The crust takes longer than the duration allows.",),
            relaxations=("Allow 30 s more.",),
        )
        return BriefCheck(found, questions_about_brief(brief), ("who eats it",), safety.effective_limit(brief))

    def brief_differences(self, old: Brief, new: Brief) -> tuple[str, ...]:
        return tuple(f"{name} changed" for name in type(old).model_fields if getattr(old, name) != getattr(new, name))

    def start_development(self, space: Any, who: Any, *, brief: Brief, oven_id: str, client_id: str | None = None) -> Any:
        self.keep("brief", brief=brief, oven_id=oven_id, client_id=client_id, who=who)
        return self.add(view(of=brief, id="development-new"))

    def edit_brief(
        self, space: Any, who: Any, *, development_id: str, brief: Brief, expected_version: int, client_id: str
    ) -> Any:
        self.keep("brief", brief=brief, expected_version=expected_version, client_id=client_id, who=who)
        return self.add(replace(self.views[development_id], brief=brief, brief_version=expected_version + 1))

    def _change_state(self, space: Any, who: Any, *, development_id: str, reason: str) -> DevelopmentView:
        self.keep("state", development_id=development_id, reason=reason)
        return self.views[development_id]

    close_development = archive_development = reopen_development = _change_state

    def copy_development(self, space: Any, who: Any, *, development_id: str) -> DevelopmentView:
        return self.add(replace(self.views[development_id], id="development-copy"))

    def load_demo(self, space: Any, who: Any) -> int:
        self.keep("demo")
        return 3

    def export_json(self, space: Any, who: Any, *, development_id: str | None = None) -> bytes:
        return b"{}"

    def export_csv(self, space: Any, who: Any, *, development_id: str | None = None) -> bytes:
        return b"cook\n"

    def list_cook_sheets(self, space: Any, who: Any, *, development_id: str) -> tuple[CookSheetRecord, ...]:
        return tuple(self.sheets)

    def issue_cook_sheet(self, space: Any, who: Any, **given: Any) -> CookSheetRecord:
        self.keep("sheet", **given)
        self.sheets.append(
            cook_sheet(len(self.sheets) + 1, proposal_id=given["proposal_id"], for_cook=given["for_cook"] or None)
        )
        return self.sheets[-1]

    def withdraw_cook_sheet(self, space: Any, who: Any, *, sheet_id: str, reason: str) -> CookSheetRecord:
        self.keep("withdrawal", sheet_id=sheet_id, reason=reason)
        self.sheets = [replace(one, state="withdrawn") if one.id == sheet_id else one for one in self.sheets]
        return self.sheets[-1]

    def cautions(self, place: str) -> Any:
        return safety.cautions(place)


def put_in_place(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the screens find this desk instead of the use cases."""
    for name in dir(Desk):
        if not name.startswith("_") and name not in ("add", "keep"):
            monkeypatch.setattr(services, name, getattr(desk, name))


def opened(screen: str = "who_waits", **ids: str) -> AppTest:
    """The app, run on one screen; ids go into the address."""
    app = AppTest.from_file(str(ROOT / "app.py"), default_timeout=60).run()
    if screen == "who_waits":
        return app
    app.switch_page(f"tuner/screens/{screen}.py")
    for name, value in ids.items():
        app.query_params[name] = value
    return app.run()


def markup(app: AppTest) -> str:
    """Everything the page shows as marks and plain text; the sheet is left out."""
    marks = [str(one.proto.body) for one in app.get("html")]
    return "\n".join([mark for mark in marks if not mark.startswith("<style>")] + [one.value for one in app.text])


def key_ending(app: AppTest, kind: str, ending: str) -> Any:
    """The widget of a kind whose key ends so."""
    found = [one for one in getattr(app, kind) if one.key and one.key.endswith(ending)]
    assert found, f"no {kind} ends with {ending}; there are {[one.key for one in getattr(app, kind)]}"
    return found[0]
