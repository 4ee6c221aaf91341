"""Confirming unlikely values: `--confirm CODE` keeps the codes in the document, `--confirm all` those it raises now."""

from __future__ import annotations

from collections.abc import Sequence

from tuner.domain import Brief, Oven, TestCook
from tuner.domain.plausibility import questions_about_brief, questions_about_cook

ALL = "all"


def _with(confirmed: tuple[str, ...] | None, codes: Sequence[str], raised: Sequence[str]) -> list[str]:
    meant = [code for typed in codes for code in (raised if typed == ALL else [typed])]
    return list(dict.fromkeys([*(confirmed or ()), *meant]))


def confirmed_brief(brief: Brief, codes: Sequence[str]) -> Brief:
    """The brief with the unlikely values that were said to be meant; as it was without any."""
    if not codes:
        return brief
    raised = [question.code for question in questions_about_brief(brief)]
    document = brief.model_dump(exclude_unset=True)
    return Brief.model_validate({**document, "confirmed": _with(brief.confirmed, codes, raised)})


def confirmed_cook(cook: TestCook, codes: Sequence[str], *, brief: Brief, oven: Oven) -> TestCook:
    """The cook with the unlikely values that were said to be meant; as it was without any."""
    if not codes:
        return cook
    raised = [question.code for question in questions_about_cook(cook, brief, oven)]
    document = cook.model_dump(exclude_unset=True)
    return TestCook.model_validate({**document, "confirmed": _with(cook.confirmed, codes, raised)})
