"""The use cases: what a person does with the tool, one function each."""

from tuner.services.actor import APPROVER, Actor
from tuner.services.brief_changes import brief_differences
from tuner.services.brief_checks import check_brief
from tuner.services.cards import IssuedCard, issue_card, read_back, view_card
from tuner.services.comparing import (
    ComparisonView,
    enter_answers,
    judge_comparison,
    plan_comparison,
    view_comparison,
)
from tuner.services.comparison_judging import ComparisonResult, ComparisonSize, comparison_size
from tuner.services.cook_sheets import CookSheetRecord, issue_cook_sheet, list_cook_sheets, open_cook_sheet, withdraw_cook_sheet
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
from tuner.services.diagnosing import diagnose_cook, diagnosis_signs
from tuner.services.evidence import evidence_pack
from tuner.services.exporting import export_csv, export_json, import_json
from tuner.services.first_day import first_day_plan
from tuner.services.importing import import_cooks, import_fields, preview_import
from tuner.services.measuring_study import MeasuringStudy, judge_measuring
from tuner.services.model_cards import view_model_card
from tuner.services.ovens import add_oven, edit_oven, list_ovens
from tuner.services.panel_views import SessionResult, SessionView
from tuner.services.panels import close_session, enter_marks, plan_session, view_session
from tuner.services.people import add_account, change_account, change_password, list_people, sign_in
from tuner.services.portions import PortionRecord, list_portions, log_portion, measure_portion, top_up_portion
from tuner.services.proof_agreeing import agree_to_correction, agree_to_leave_out, ask_to_leave_out
from tuner.services.proof_cooks import cook_plan_slot, give_cook
from tuner.services.proof_results import record_proof_result
from tuner.services.proof_views import LeaveOut, PlanPreview, ProofView, ResultRecord
from tuner.services.proposals import decide_proposal, forecast_programs, next_proposals, what_if
from tuner.services.proving import fix_plan, list_proofs, preview_plan, view_proof
from tuner.services.recipes import RecipeView, save_recipe, scale_recipe, view_recipe
from tuner.services.rehearsing import rehearsal_names, rehearse
from tuner.services.release_files import KnownHere, check_file, export_release, verify_file
from tuner.services.release_reading import ReleaseView
from tuner.services.release_signing import sign_release
from tuner.services.releasing import (
    begin_proving,
    draft_release,
    list_releases,
    mark_proven,
    propose_candidate,
    release_checklist,
    return_release,
    seal_release,
    view_release,
    withdraw_release,
)
from tuner.services.robustness import (
    RobustnessView,
    keep_operating_window,
    plan_robustness,
    summarise_benchmark,
    view_robustness,
)
from tuner.services.sheet_cooks import SheetConflict, cook_photos, receive_cook, receive_photo
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
    "ComparisonResult",
    "ComparisonSize",
    "ComparisonView",
    "CookOutcome",
    "CookPreview",
    "CookRecord",
    "CookSheetRecord",
    "DecisionRecord",
    "DevelopmentSummary",
    "DevelopmentView",
    "ImportPreview",
    "ImportReport",
    "ImportedRow",
    "IssuedCard",
    "KnownHere",
    "LeaveOut",
    "MeasuringStudy",
    "OvenRecord",
    "PlanPreview",
    "PortionRecord",
    "ProofView",
    "ProposalRecord",
    "RecipeView",
    "RehearsalReport",
    "ReleaseView",
    "ResultRecord",
    "RobustnessView",
    "SessionResult",
    "SessionView",
    "SheetConflict",
    "Workspace",
    "add_account",
    "add_oven",
    "add_scores",
    "agree_to_correction",
    "agree_to_leave_out",
    "archive_development",
    "ask_to_leave_out",
    "assess_development",
    "begin_proving",
    "brief_differences",
    "cautions",
    "change_account",
    "change_password",
    "check_brief",
    "check_file",
    "close_development",
    "close_session",
    "comparison_size",
    "cook_photos",
    "cook_plan_slot",
    "copy_development",
    "correct_cook",
    "decide_proposal",
    "diagnose_cook",
    "diagnosis_signs",
    "draft_release",
    "edit_brief",
    "edit_oven",
    "enter_answers",
    "enter_marks",
    "evidence_pack",
    "export_csv",
    "export_json",
    "export_release",
    "first_day_plan",
    "fix_plan",
    "forecast_programs",
    "give_cook",
    "import_cooks",
    "import_fields",
    "import_json",
    "issue_card",
    "issue_cook_sheet",
    "judge_comparison",
    "judge_measuring",
    "keep_operating_window",
    "list_cook_sheets",
    "list_developments",
    "list_ovens",
    "list_people",
    "list_portions",
    "list_proofs",
    "list_releases",
    "load_demo",
    "log_cook",
    "log_portion",
    "mark_proven",
    "measure_portion",
    "next_proposals",
    "open_cook_sheet",
    "open_workspace",
    "plan_comparison",
    "plan_robustness",
    "plan_session",
    "preview_cook",
    "preview_import",
    "preview_plan",
    "propose_candidate",
    "read_back",
    "receive_cook",
    "receive_photo",
    "record_proof_result",
    "rehearsal_names",
    "rehearse",
    "release_checklist",
    "reopen_development",
    "return_release",
    "save_recipe",
    "scale_recipe",
    "seal_release",
    "sign_in",
    "sign_release",
    "start_development",
    "summarise_benchmark",
    "top_up_portion",
    "verify_file",
    "view_card",
    "view_comparison",
    "view_development",
    "view_model_card",
    "view_proof",
    "view_recipe",
    "view_release",
    "view_robustness",
    "view_session",
    "what_if",
    "withdraw_cook_sheet",
    "withdraw_release",
]
