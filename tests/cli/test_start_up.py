"""Nothing heavy is loaded before it is used."""

import subprocess
import sys

import pytest

HEAVY = {"numpy", "pandas", "scipy", "streamlit", "sqlalchemy", "optuna", "sklearn", "openpyxl", "altair", "starlette"}


def loaded_by(code):
    script = f"{code}\nimport sys\nprint(' '.join(sys.modules))"
    done = subprocess.run([sys.executable, "-W", "error", "-c", script], capture_output=True, text=True, check=True, timeout=60)
    return {name.partition(".")[0] for name in done.stdout.split()}


@pytest.mark.parametrize("code", ["import tuner", "import tuner.domain", "import tuner; tuner.Brief"])
def test_the_package_and_its_words_load_nothing_heavy(code):
    assert not loaded_by(code) & HEAVY


def test_the_bare_package_does_not_even_load_pydantic():
    assert "pydantic" not in loaded_by("import tuner")


@pytest.mark.parametrize("typed", [["--help"], ["--version"], ["log", "--help"], ["start"]])
def test_help_and_usage_errors_load_nothing_heavy(typed):
    code = f"import contextlib, io\nfrom tuner.cli import main\nwith contextlib.redirect_stdout(io.StringIO()):\n    main({typed!r})"
    assert not loaded_by(code) & (HEAVY | {"pydantic", "rich"})


def test_every_public_name_of_the_package_can_be_had():
    code = "import tuner\nfor name in tuner.__all__:\n    getattr(tuner, name)"
    assert {"numpy", "tuner"} <= loaded_by(code)
