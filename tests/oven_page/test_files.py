"""The files of the page agree with each other, with the documents, and with the cautions."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.browser.serving import ROOT
from tuner.oven_page import oven_routes
from tuner.safety import CAUTIONS

FILES = ROOT / "tuner" / "oven_page" / "files"
WORDS = {path.stem[-2:]: json.loads(path.read_text("utf-8")) for path in sorted(FILES.glob("words-*.json"))}


def scripts() -> list[Path]:
    return [path for path in FILES.glob("*.js") if path.name != "sw.js"]


def test_both_languages_say_the_same_things_with_the_same_values() -> None:
    assert set(WORDS) == {"en", "de"}
    assert set(WORDS["en"]) == set(WORDS["de"])
    values = {key: sorted(re.findall(r"\{(\w+)\}", text)) for key, text in WORDS["en"].items()}
    assert values == {key: sorted(re.findall(r"\{(\w+)\}", text)) for key, text in WORDS["de"].items()}
    assert [key for key, text in WORDS["de"].items() if not text.strip()] == []


def test_every_word_that_the_scripts_say_is_there() -> None:
    said = {key for path in scripts() for key in re.findall(r"say\(\"(\w+)\"", path.read_text("utf-8"))}
    assert said - set(WORDS["en"]) == set()
    assert len(said) > 60


def test_every_reason_of_the_verdict_has_words() -> None:
    codes = set(re.findall(r"code: \"(\w+)\"", (FILES / "verdict.js").read_text("utf-8")))
    assert {f"because_{code}" for code in codes} == {key for key in WORDS["en"] if key.startswith("because_")}


def test_cautions_are_those_of_the_safety_room() -> None:
    ours = {one.code: one.text for one in CAUTIONS}
    shown = {key: text for key, text in WORDS["en"].items() if re.fullmatch(r"C\d+", key)}
    assert shown == {code: ours[code] for code in shown}
    assert {"C1", "C2", "C3", "C4", "C11"} <= set(shown)


def test_the_service_worker_keeps_every_file() -> None:
    kept = set(re.findall(r"\"([\w.-]+)\"", (FILES / "sw.js").read_text("utf-8").split("FONTS")[0]))
    served = {path.name for path in FILES.iterdir()} - {"sw.js", "index.html"}
    assert served <= kept


def test_nothing_is_fetched_from_outside() -> None:
    for path in FILES.iterdir():
        found = set(re.findall(r"https?://[^\s\"')]+", path.read_text("utf-8")))
        assert found <= {"http://www.w3.org/2000/svg"}, path.name


def test_scripts_never_write_markup() -> None:
    for path in scripts():
        assert not re.search(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(", path.read_text("utf-8")), (
            path.name
        )


@pytest.mark.parametrize("path", sorted(FILES.glob("*.js")), ids=lambda path: path.name)
def test_scripts_stay_small(path: Path) -> None:
    assert len(path.read_text("utf-8").splitlines()) < 520


def test_the_interface_is_documented_call_by_call() -> None:
    document = json.loads((ROOT / "docs" / "oven-page-api.json").read_text("utf-8"))
    described = {(path, way.upper()) for path, ways in document["paths"].items() for way in ways if way != "parameters"}
    offered = {
        (route.path, way)
        for route in oven_routes()
        if route.path.startswith("/oven/api/v1/")
        for way in (route.methods or set()) - {"HEAD"}
    }
    assert described == offered
