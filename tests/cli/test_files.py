"""Cook logs in, exports out."""

import csv
import io
import json

import pytest

from tuner.cli.serving import served_folder

LOGS = served_folder() / "trials_demo"


def taken_in(tuner, *typed):
    """Take a log in, answering each question with its first choice, as somebody would who agrees."""
    answers = []
    for _ in range(12):
        heard = tuner("import", *typed, *answers, "--json")
        if heard.code == 0:
            return json.loads(heard.out), answers
        assert heard.code == 3, heard.err
        question = json.loads(heard.out)["questions"][0]
        answers += ["--answer", f"{question['code']}={question['choices'][0]}"]
    raise AssertionError("the questions never end")


@pytest.mark.parametrize(
    ("name", "cooks", "refused"), [("kofta_log.csv", 5, 1), ("kofta_tasters.xlsx", 3, 0), ("kofta_old_log.csv", 3, 0)]
)
def test_a_log_goes_in_once_with_its_refused_rows_listed(demo, tuner, rows, name, cooks, refused):
    before = len(rows())
    report, answers = taken_in(tuner, LOGS / name, "-d", "kofta")
    assert (report["added"], len(report["refused"])) == (cooks, refused)
    assert all(row["line"] > 0 and row["reason"] for row in report["refused"])
    again = json.loads(tuner("import", LOGS / name, "-d", "kofta", *answers, "--json").out)
    assert (again["added"], again["known"]) == (0, report["added"] + report["known"])
    assert len(rows()) == before + cooks


def test_what_was_tasted_below_the_limit_is_kept_and_marked_as_history(demo, tuner, answer):
    taken_in(tuner, LOGS / "kofta_old_log.csv", "-d", "kofta")
    tasted_cold = [
        row["cook"]
        for row in answer("status", "kofta")["cooks"]
        if row["verdict"]["status"] == "not_safe" and any("texture" in score for score in row["cook"].get("scores", ()))
    ]
    assert len(tasted_cold) == 1
    assert tasted_cold[0]["history"]


def test_a_preview_shows_the_mapping_and_saves_nothing(demo, tuner, rows):
    before = rows()
    heard = tuner("import", LOGS / "kofta_log.csv", "-d", "kofta", "--preview")
    assert heard.code in {0, 3}
    assert "Nothing is saved yet" in heard.out
    assert "Mass in g" in heard.out
    assert rows() == before


def test_a_mapping_written_out_is_taken_back(demo, tuner):
    heard = tuner("import", LOGS / "kofta_log.csv", "-d", "kofta", "--preview", "--json")
    mapping = json.loads(heard.out)["mapping"]
    (demo / "mapping.json").write_text(json.dumps(mapping))
    report, _ = taken_in(tuner, LOGS / "kofta_log.csv", "-d", "kofta", "--mapping", "mapping.json")
    assert report["added"] == 5


@pytest.mark.parametrize("typed", ["decimal", "=x", "x="])
def test_an_answer_without_code_or_choice_is_a_usage_error(demo, refusal, typed):
    assert refusal("import", LOGS / "kofta_log.csv", "-d", "kofta", "--answer", typed)["exit_code"] == 2


def test_what_is_no_log_is_refused_in_words(demo, refusal):
    (demo / "picture.csv").write_bytes(b"\x89PNG\r\n\x1a\n\x00\x00\x00")
    error = refusal("import", "picture.csv", "-d", "kofta")
    assert error["exit_code"] == 1
    assert error["kind"] == "InvalidDocument"


def test_everything_goes_out_as_json_and_comes_back_to_the_same_state(demo, answer, tuner):
    wrote = answer("export", "-o", "all.json")
    assert wrote["bytes"] == (demo / "all.json").stat().st_size
    assert not list(demo.glob("*.part"))
    report = answer("import", "all.json", "--db", "other.sqlite")
    assert report["added"] > 0
    answer("export", "-o", "again.json", "--db", "other.sqlite")
    assert (demo / "again.json").read_bytes() == (demo / "all.json").read_bytes()
    assert answer("import", "all.json", "--db", "other.sqlite")["added"] == 0
    assert tuner("status", "--db", "other.sqlite").out == tuner("status").out


def test_the_cooks_go_out_as_one_tidy_table(demo, tuner):
    assert tuner("export", "--format", "csv", "-o", "cooks.csv").code == 0
    rows = list(csv.reader(io.StringIO((demo / "cooks.csv").read_text(encoding="utf-8-sig"))))
    assert len({len(row) for row in rows}) == 1
    assert len(rows) > 40


def test_an_export_without_a_file_goes_to_standard_output(demo, capfdbinary):
    from tuner.cli import main

    assert main(["export", "-d", "kofta"]) == 0
    assert json.loads(capfdbinary.readouterr().out)["developments"][0]["brief_versions"][0]["brief"]["dish"].startswith("Lamb")


def test_an_export_into_a_missing_folder_is_refused_in_words(demo, refusal):
    error = refusal("export", "-o", "nowhere/all.json")
    assert (error["kind"], error["exit_code"]) == ("File", 1)
