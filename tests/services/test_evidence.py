"""The evidence of a release: every cook, failures and corrections, methods, who signed what; the data beside the paper."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import re
import zipfile
from pathlib import Path
from typing import Any

import pytest

from tests.exchange.cards import pages
from tests.services.invented import ANN, cook
from tests.services.releases import at_proven, cheap, proof_result, record, released, with_people
from tuner.domain import NotAllowed
from tuner.services import Workspace, correct_cook, view_development
from tuner.services.evidence import evidence_pack
from tuner.services.release_files import verify_file
from tuner.services.releasing import seal_release


@pytest.fixture
def people(space: Workspace) -> Workspace:
    quick = cheap(space)
    with_people(quick)
    return quick


def opened(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def paper(files: dict[str, bytes]) -> str:
    return re.sub(r"\s+", " ", " ".join(pages(files["evidence.pdf"])))


def test_the_paper_tells_limit_statistics_cooks_and_signatures(people: Workspace):
    release = released(people)
    text = paper(opened(evidence_pack(people, ANN, release_id=release.id)))
    for wanted in (
        *("Critical limit", "74 °C in every part, rest 120 s covered; guard 2 °C", "Food Code 3-401.12", "Approved by Quinn"),
        *("one-sided normal, exact non-central t", "attempt 1", "its content fits its hash: yes", release.sha256 or ""),
        *("4 cooks, 0 of them failed", "78, 78.5, 79", "2026-03-02 07:40", "whole when this was made"),
        *("food-safety approver", "I did not develop this recipe. I checked", "Audit trail of the development"),
    ):
        assert wanted in text, wanted


def test_failures_exclusions_other_cooks_and_corrections_are_all_there(people: Workspace):
    version = at_proven(people)
    dev = view_development(people, ANN, development_id=version.development_id)
    ids = [one.id for one in dev.cooks]
    correct_cook(
        people,
        ANN,
        development_id=dev.id,
        cook_id=ids[3],
        cook=cook(core_temperature_c=[78.0, 78.5, 80.0], cooked_at="2026-03-02T10:11:30Z"),
        reason="misread",
        may_taste={"A": True, "B": True},
    )
    with people.store.read(None) as reading:
        kept = reading.records.newest(dev.id, "proof_result")
    assert kept is not None
    listed = [
        {"cook_id": ids[0], "number": 1, "part": "map", "y_c": 2.0, "passed": True},
        {"cook_id": ids[1], "number": 2, "part": "map", "y_c": -0.4, "passed": False, "excluded": "door opened; Quinn agreed"},
    ]
    content = {**proof_result([]), "cooks": listed}
    record(people, dev.id, "proof_result", content, "again", corrects=kept.id, reason="again")
    from tests.services.releases import signed

    release = signed(people, seal_release(people, ANN, release_id=version.id))
    text = paper(opened(evidence_pack(people, ANN, release_id=release.id)))
    for wanted in (
        "2 cooks, 1 of them failed",
        "failed, excluded: door opened; Quinn agreed".replace(" ", ""),
        "misread",
        "-0.4 °C",
    ):
        assert wanted.replace(" ", "") in text.replace(" ", ""), wanted
    assert "no part of the proof" in text


def test_the_fields_an_auditor_expects_of_a_plan_are_there(people: Workspace):
    """Hazard, critical control point, critical limit, monitoring, corrective action, records, verification, signature.

    Source: 9 CFR 417.2(c) and (d), and Codex CXC 1, as lists of fields; presence only.
    """
    release = released(people)
    text = paper(opened(evidence_pack(people, ANN, release_id=release.id)))
    for field in (
        *("Product and process", "critical control point", "Hazard", "Critical limit", "Monitoring", "Responsible"),
        *("Corrective action", "readings °C", "Verification", "Who signed what", "lot", "thermometer checked"),
    ):
        assert field in text, field


def test_the_archive_is_the_same_each_time_and_its_list_of_hashes_fits(people: Workspace):
    release = released(people)
    data = evidence_pack(people, ANN, release_id=release.id)
    assert data == evidence_pack(people, ANN, release_id=release.id)
    files = opened(data)
    listed = dict(reversed(line.split("  ")) for line in files.pop("SHA256SUMS").decode().splitlines())
    assert listed == {name: hashlib.sha256(content).hexdigest() for name, content in files.items()}


def test_the_data_can_be_checked_and_holds_no_secret(people: Workspace, tmp_path: Path):
    release = released(people)
    files = opened(evidence_pack(people, ANN, release_id=release.id))
    assert verify_file(files["release.json"]).whole
    records: list[dict[str, Any]] = json.loads(files["records.json"])
    assert {"recipe", "proof_plan", "proof_result", "operating_window", "release_document", "signature"} <= {
        one["kind"] for one in records
    }
    assert b"argon2" not in b"".join(files.values())
    rows = list(csv.reader(io.StringIO(files["cooks.csv"].decode("utf-8-sig"))))
    assert len(rows) == 5  # a heading and four cooks


def test_what_was_never_signed_has_no_evidence(people: Workspace):
    version = at_proven(people)
    with pytest.raises(NotAllowed, match="waits for its sealing"):
        evidence_pack(people, ANN, release_id=version.id)
