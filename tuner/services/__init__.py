"""The use cases: what a person does with the tool, one function each."""

from tuner.services.actor import APPROVER, Actor
from tuner.services.brief_changes import brief_differences
from tuner.services.brief_checks import check_brief
from tuner.services.cooks import add_scores, correct_cook, log_cook, preview_cook
from tuner.services.demo import load_demo
from tuner.services.developments import (
    archive_development,
    assess_development,
    close_development,
    copy_development,
    edit_brief,
    reopen_development,
    start_development,
)
from tuner.services.exporting import export_csv, export_json, import_json
from tuner.services.first_day import first_day_plan
from tuner.services.importing import import_cooks, import_fields, preview_import
from tuner.services.ovens import add_oven, edit_oven, list_ovens
from tuner.services.proposals import decide_proposal, forecast_programs, next_proposals, what_if
from tuner.services.rehearsing import rehearsal_names, rehearse
from tuner.services.viewing import view_development
from tuner.services.views import (
    BriefCheck,
    BriefVersion,
    CookOutcome,
    CookPreview,
    CookRecord,
    DecisionRecord,
    DevelopmentSummary,
    DevelopmentView,
    ImportedRow,
    ImportPreview,
    ImportReport,
    OvenRecord,
    ProposalRecord,
    RehearsalReport,
)
from tuner.services.waiting import list_developments
from tuner.services.warning import cautions
from tuner.services.workspace import Workspace, open_workspace

__all__ = [
    "APPROVER",
    "Actor",
    "BriefCheck",
    "BriefVersion",
    "CookOutcome",
    "CookPreview",
    "CookRecord",
    "DecisionRecord",
    "DevelopmentSummary",
    "DevelopmentView",
    "ImportPreview",
    "ImportReport",
    "ImportedRow",
    "OvenRecord",
    "ProposalRecord",
    "RehearsalReport",
    "Workspace",
    "add_oven",
    "add_scores",
    "archive_development",
    "assess_development",
    "brief_differences",
    "cautions",
    "check_brief",
    "close_development",
    "copy_development",
    "correct_cook",
    "decide_proposal",
    "edit_brief",
    "edit_oven",
    "export_csv",
    "export_json",
    "first_day_plan",
    "forecast_programs",
    "import_cooks",
    "import_fields",
    "import_json",
    "list_developments",
    "list_ovens",
    "load_demo",
    "log_cook",
    "next_proposals",
    "open_workspace",
    "preview_cook",
    "preview_import",
    "rehearsal_names",
    "rehearse",
    "reopen_development",
    "start_development",
    "view_development",
    "what_if",
]
