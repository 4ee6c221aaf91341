"""Errors become sentences and exit codes, never a stack trace."""

import json

import pytest

from tuner.cli import main
from tuner.cli.entry import CONFIRM, REFUSED, UsageError, _describe
from tuner.domain import Conflict, InvalidDocument, NeedsConfirmation, NotAllowed, NotFound, Program, StoreProblem
from tuner.domain.plausibility import Question

QUESTION = Question(code="mass_g=300", field="mass_g", value=300.0, text="mass_g 300 g? Usual is 160 to 200 g.")


@pytest.mark.parametrize(
    ("error", "kind", "code"),
    [
        (NotFound("no cook 7"), "NotFound", REFUSED),
        (NotAllowed("not safe"), "NotAllowed", REFUSED),
        (Conflict("somebody was faster"), "Conflict", REFUSED),
        (StoreProblem("locked"), "StoreProblem", REFUSED),
        (InvalidDocument(["a", "b"]), "InvalidDocument", REFUSED),
        (NeedsConfirmation([QUESTION]), "NeedsConfirmation", CONFIRM),
        (UsageError("which one?"), "Usage", 2),
        (FileNotFoundError(2, "No such file or directory", "brief.json"), "File", REFUSED),
        (ZeroDivisionError("division by zero"), "Unforeseen", REFUSED),
    ],
)
def test_each_kind_of_error_has_its_exit_code(error, kind, code):
    report, given = _describe(error)
    assert (report["kind"], given) == (kind, code)
    assert report["message"]


def test_a_document_with_several_faults_tells_all_of_them():
    with pytest.raises(ValueError) as caught:
        Program.model_validate({"air_temperature_c": 900, "duration_s": -1, "stages": []})
    report, code = _describe(caught.value)
    assert (report["kind"], code, len(report["problems"])) == ("InvalidDocument", REFUSED, 3)


def test_questions_come_with_their_codes():
    report, _ = _describe(NeedsConfirmation([QUESTION]))
    assert [question["code"] for question in report["questions"]] == ["mass_g=300"]


def test_a_missing_file_is_a_sentence_or_one_json_object(tmp_path, capsys):
    missing = str(tmp_path / "none.json")
    db = str(tmp_path / "w.sqlite")
    assert main(["start", missing, "--oven", "x", "--db", db]) == REFUSED
    heard = capsys.readouterr()
    assert heard.err.startswith(f"tuner: {missing}")
    assert "Traceback" not in heard.err
    assert main(["start", missing, "--oven", "x", "--db", db, "--json"]) == REFUSED
    heard = capsys.readouterr()
    assert json.loads(heard.err)["error"]["kind"] == "File"
    assert heard.out == ""
