"""From the command line: people, recipe, release, card, and a release file checked by itself."""

import io
import json

import pytest

from tests.services.invented import ANN
from tests.services.releases import (
    PROVED,
    cheap,
    password,
    picture,
    recipe,
    released,
    with_people,
)
from tuner.services import open_workspace
from tuner.services.release_files import export_release


@pytest.fixture
def says(monkeypatch):
    """What is typed when a password is asked for."""

    def lines(*given):
        monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in given)))

    return lines


@pytest.fixture(scope="session")
def kept_release(tmp_path_factory):
    """A workspace with one release, and its file."""
    folder = tmp_path_factory.mktemp("released")
    space = cheap(open_workspace(str(folder / "tuner.sqlite")))
    with_people(space)
    release = released(space)
    (folder / "release.json").write_bytes(export_release(space, ANN, release_id=release.id))
    keys = [line.public_key for line in release.signatures]
    space.close()
    return folder, keys


@pytest.fixture
def kitchen(folder, kept_release):
    for name in ("tuner.sqlite", "release.json"):
        (folder / name).write_bytes((kept_release[0] / name).read_bytes())
    return folder


def test_a_release_file_is_verified_without_a_workspace(kitchen, tuner, answer, kept_release):
    (kitchen / "tuner.sqlite").unlink()
    found = answer("verify", "release.json", "--key", kept_release[1][0], "--key", kept_release[1][1])
    assert (found["whole"], found["problems"], found["warnings"], found["number"]) == (True, [], [], 1)
    assert not (kitchen / "tuner.sqlite").exists()
    heard = tuner("verify", "release.json")
    assert heard.code == 0
    assert "Whole: Herb chicken strip, version 1, released." in heard.out
    assert "Nobody's keys are known here" in " ".join(heard.out.split())


def test_a_changed_file_is_refused_and_says_why(kitchen, tuner):
    content = json.loads((kitchen / "release.json").read_text(encoding="utf-8"))
    content["document"] = content["document"].replace('"core_temperature_c":74', '"core_temperature_c":64', 1)
    (kitchen / "release.json").write_text(json.dumps(content), encoding="utf-8")
    heard = tuner("verify", "release.json")
    assert heard.code == 1
    assert heard.out.startswith("NOT WHOLE: do not cook from it.")
    assert "changed after signing" in heard.out


def test_a_missing_file_is_told(folder, refusal):
    assert "nothing.json" in refusal("verify", "nothing.json")["message"]


def test_a_card_is_written_for_paper_and_phone(kitchen, tuner):
    heard = tuner("card", "-o", "card.pdf", "--site", "North")
    assert heard.code == 0
    assert (kitchen / "card.pdf").read_bytes().startswith(b"%PDF-")
    assert "read-back word" in heard.err
    assert tuner("card", "--format", "html", "--unit", "F", "-o", "card.html").code == 0
    assert "482 °F" in (kitchen / "card.html").read_text(encoding="utf-8")


def test_the_release_is_shown_exported_and_its_evidence_packed(kitchen, tuner, answer):
    [shown] = answer("release")
    assert (shown["number"], shown["state"], shown["waits_for"]) == (1, "released", [])
    assert tuner("release", "export", "-o", "again.json").code == 0
    assert (kitchen / "again.json").read_bytes() == (kitchen / "release.json").read_bytes()
    assert tuner("release", "evidence", "-o", "evidence.zip").code == 0
    assert (kitchen / "evidence.zip").read_bytes().startswith(b"PK")


def test_a_revision_is_drafted_with_its_gaps_and_sent_back(kitchen, answer):
    program = kitchen / "program.json"
    program.write_text(PROVED.model_dump_json(), encoding="utf-8")
    drafted = answer("release", "draft", "--program", program, "--reason", "colder lots", "--as", "Ann")
    assert (drafted["number"], drafted["state"], drafted["gaps"]) == (2, "draft", [])
    assert answer("release", "return", "--reason", "not now")["state"] == "returned"


def test_withdrawing_asks_for_the_password(kitchen, answer, refusal, says):
    says("wrong password")
    typed = ("release", "withdraw", "--reason", "complaint", "--as", "Quinn")
    assert refusal(*typed)["kind"] == "NotAllowed"
    says(password("Quinn"))
    assert answer(*typed)["state"] == "withdrawn"
    assert "withdrawn" in refusal("card")["message"]


def test_a_recipe_is_kept_shown_and_scaled(kitchen, answer, tuner):
    (kitchen / "recipe.json").write_text(recipe(hold_s=300).model_dump_json(exclude_unset=True), encoding="utf-8")
    (kitchen / "photo.png").write_bytes(picture("olive"))
    kept = answer("recipe", "recipe.json", "--photo", "photo.png")
    assert (kept["version"], kept["missing"], kept["allergens"]["may_contain"]) == (2, [], ["sesame"])
    assert answer("recipe", "--portions", "30")["recipe"]["ingredients"][0]["amount_g"] == 5400
    assert "Contains milk, gluten. May contain sesame." in tuner("recipe").out


def test_people_are_added_by_an_administrator_who_types_a_password(folder, answer, refusal, says):
    says("a long password")
    first = answer("people", "add", "--name", "Root", "--as", "Root")
    assert first["roles"] == ["administrator"]
    says("a long password", "another password")
    added = answer("people", "add", "--name", "Dora", "--role", "developer", "--as", "Root")
    assert added["roles"] == ["developer"]
    says("wrong password", "another password")
    assert refusal("people", "add", "--name", "Eve", "--role", "developer", "--as", "Root")["kind"] == "NotAllowed"
    says("a long password")
    left = answer("people", "change", "--name", "Dora", "--close", "--reason", "left", "--as", "Root")
    assert left["active"] is False
    assert [one["name"] for one in answer("people")] == ["Root", "Dora"]


def test_without_a_password_nothing_is_done(folder, refusal, says):
    says()
    assert "is missing" in refusal("people", "add", "--name", "Root", "--as", "Root")["message"]
