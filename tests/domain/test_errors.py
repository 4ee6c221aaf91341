from __future__ import annotations

import subprocess
import sys

import pytest

from tests.example import brief
from tuner import domain
from tuner.domain import InvalidDocument, NeedsConfirmation, NoLegalProgram, TunerError
from tuner.domain.plausibility import questions_about_brief


def test_every_error_a_person_may_meet_is_one_of_ours() -> None:
    for name in (
        "InvalidDocument",
        "NoLegalProgram",
        "NotAllowed",
        "NotFound",
        "Conflict",
        "NeedsConfirmation",
        "StoreProblem",
    ):
        assert issubclass(getattr(domain, name), TunerError)
    assert issubclass(NoLegalProgram, ValueError)


def test_problems_and_questions_are_kept_one_by_one() -> None:
    assert InvalidDocument(["one.", "two."]).problems == ("one.", "two.")
    questions = questions_about_brief(brief(tasters=1, portion__mass_g=5000))
    asked = NeedsConfirmation(questions)
    assert asked.questions == questions
    assert str(asked).count("?") >= 2


@pytest.mark.parametrize("heavy", ["numpy", "pandas", "scipy", "sqlalchemy", "streamlit", "optuna"])
def test_the_domain_loads_nothing_heavy(heavy: str) -> None:
    code = f"import sys, tuner.domain; sys.exit({heavy!r} in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
