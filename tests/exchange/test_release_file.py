"""Release files: whole, or found to be changed in any byte; vectors of the canonical form."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
import rfc8785
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.store.invented import OVEN, PROGRAM, brief
from tuner.domain.release import ReleaseDocument, Signature, Statement
from tuner.exchange.release_file import FileCheck, canonical_bytes, check_release_file, sha256_of, write_release_file

NOW = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
KEYS = {
    name: Ed25519PrivateKey.from_private_bytes(bytes([number]) * 32) for number, name in enumerate(("Ann", "Quinn", "Eve"), 1)
}


def public(name: str) -> str:
    return KEYS[name].public_key().public_bytes_raw().hex()


def document(**changes: Any) -> ReleaseDocument:
    content = {
        "format": "test-cook-tuner-release/1",
        "development_id": "dev",
        "number": 1,
        "standing": "released",
        "dish": "Grüße 日本",
        "brief": brief(),
        "brief_version": 1,
        "recipe": {"portions": 10},
        "recipe_record_id": "r",
        "program": PROGRAM,
        "oven": OVEN,
        "oven_version": 1,
        "operating_window": {
            "program": PROGRAM,
            "start_temperature_c": {"low": 1, "high": 5},
            "mass_g": {"low": 171, "high": 189},
            "load": {"low": 1, "high": 1},
        },
        "limit": {"core_temperature_c": 74, "guard_c": 2, "rule": "rule", "approved_by": "Quinn"},
        "proof": {"record_id": "p", "content_hash": "0", "content": {"passed": True, "y": [0.1, 1e-7, 1e21]}},
        "developers": ("Ann",),
        "must_sign": ("developer", "food-safety approver"),
        "tool_version": "1",
        "model_versions": {"tuner": "1"},
        "audit_head": {"sequence": 1, "entry_hash": "0"},
        "sealed_at": NOW,
    }
    return ReleaseDocument.model_validate({**content, **changes})


def signature(text: str, name: str, role: str, *, key: str | None = None, **changes: Any) -> Signature:
    statement = Statement.model_validate(
        {
            "format": "test-cook-tuner-signature/1",
            "release_sha256": sha256_of(text.encode()),
            "development_id": "dev",
            "number": 1,
            "name": name,
            "account_id": name,
            "role": role,
            "meaning": "I approve.",
            "signed_at": NOW,
            "identified_by": "password",
            "key_id": sha256_of(bytes.fromhex(public(key or name)))[:16],
            **changes,
        }
    )
    said = canonical_bytes(statement)
    return Signature(statement=said.decode(), signature=KEYS[key or name].sign(said).hex(), public_key=public(key or name))


def file(doc: ReleaseDocument | None = None, *signatures: Signature) -> bytes:
    text = canonical_bytes(doc or document()).decode()
    return write_release_file(
        text, signatures or (signature(text, "Ann", "developer"), signature(text, "Quinn", "food-safety approver"))
    )


def check(data: bytes, **given: Any) -> FileCheck:
    return check_release_file(data, **{"now": NOW, "known_keys": (public("Ann"), public("Quinn")), **given})


def test_a_whole_file_is_whole():
    found = check(file())
    assert (found.whole, found.problems, found.warnings) == (True, (), ())
    assert [(one.name, one.role, one.known_key) for one in found.signers] == [
        ("Ann", "developer", True),
        ("Quinn", "food-safety approver", True),
    ]


def test_the_same_release_gives_the_same_bytes():
    assert file() == file()


DATA = file()


@settings(deadline=None, max_examples=400, suppress_health_check=list(HealthCheck))
@given(st.integers(0, len(DATA) - 1), st.integers(1, 255))
def test_any_changed_byte_is_found_or_changes_nothing(place: int, by: int):
    changed = DATA[:place] + bytes([DATA[place] ^ by]) + DATA[place + 1 :]
    found = check(changed)
    if found.whole:  # white space between the parts, or another way to write the same letters
        assert json.loads(changed) == json.loads(DATA)


@settings(deadline=None, max_examples=150, suppress_health_check=list(HealthCheck))
@given(st.integers(0, len(DATA)), st.integers(0, 40))
def test_a_file_cut_short_is_found(start: int, length: int):
    cut = DATA[:start] + DATA[start + max(1, length) :]
    found = check(cut)
    if found.whole:
        assert json.loads(cut) == json.loads(DATA)


@settings(deadline=None, max_examples=200)
@given(st.binary(max_size=60) | st.text(max_size=60).map(lambda text: text.encode("utf-8", "replace")))
def test_anything_else_is_told_to_be_no_release(data: bytes):
    assert not check(data).whole


def edited(**changes: Any) -> bytes:
    """A document changed and put in canonical form again, with a checksum that fits; the signatures stay."""
    content = json.loads(DATA)
    text = rfc8785.dumps({**json.loads(content["document"]), **changes}).decode()
    return json.dumps({**content, "document": text, "sha256": sha256_of(text.encode())}).encode()


@pytest.mark.parametrize(
    "change", [{"dish": "Other"}, {"number": 2}, {"developers": ["Bob"]}, {"must_sign": ["developer", "reviewer"]}]
)
def test_a_text_rewritten_with_its_checksum_is_found(change: dict[str, Any]):
    found = check(edited(**change))
    assert not found.whole
    assert any("belongs to another text" in problem for problem in found.problems)


def test_a_text_written_anew_with_other_spaces_is_found():
    text = json.dumps(json.loads(json.loads(DATA)["document"]))
    signatures = (signature(text, "Ann", "developer"), signature(text, "Quinn", "food-safety approver"))
    assert "not in canonical form" in check(write_release_file(text, signatures)).problems[0]


def test_missing_double_and_own_signatures_are_found():
    text = canonical_bytes(document()).decode()
    ann, quinn = signature(text, "Ann", "developer"), signature(text, "Quinn", "food-safety approver")
    assert check(file(None, ann)).problems == ("The signature of the food-safety approver is missing.",)
    assert "signed more than once" in check(file(None, ann, quinn, quinn)).problems[0]
    own = signature(text, "Ann", "food-safety approver", key="Eve")
    assert any("Nobody approves their own work" in problem for problem in check(file(None, ann, own)).problems)
    both = signature(text, "Quinn", "developer"), quinn
    assert "signed more than once" in check(file(None, *both)).problems[0]


def test_a_statement_of_another_release_is_found():
    text = canonical_bytes(document()).decode()
    other = signature(text, "Quinn", "food-safety approver", number=2)
    assert any(
        "belongs to another text" in one for one in check(file(None, signature(text, "Ann", "developer"), other)).problems
    )


def test_a_foreign_key_is_warned_of():
    text = canonical_bytes(document()).decode()
    forged = file(None, signature(text, "Ann", "developer"), signature(text, "Quinn", "food-safety approver", key="Eve"))
    found = check(forged)
    assert found.whole
    assert "none of the house's" in found.warnings[0]
    assert "Nobody's keys are known here" in check(forged, known_keys=None).warnings[0]


def test_an_expired_release_is_warned_of():
    doc = document(standing="restricted", sites=("North",), expires_at=NOW + timedelta(days=90))
    text = canonical_bytes(doc).decode()
    data = file(doc, signature(text, "Ann", "developer"), signature(text, "Quinn", "food-safety approver"))
    assert check(data).warnings == ()
    assert "expired on 2026-05-31" in check(data, now=NOW + timedelta(days=90)).warnings[0]


def test_a_document_read_back_and_written_again_is_the_same_text():
    text = canonical_bytes(document())
    assert canonical_bytes(ReleaseDocument.model_validate_json(text)) == text


class TestCanonicalForm:
    """Vectors of RFC 8785: section 3.2.2.3 (numbers), section 3.2.3 (sorting by UTF-16) and appendix B."""

    def test_the_example_of_section_3_2_3(self):
        given_ = {
            "\u20ac": "Euro Sign",
            "\r": "Carriage Return",
            "\ufb33": "Hebrew Letter Dalet With Dagesh",
            "1": "One",
            "\U0001f600": "Emoji: Grinning Face",
            "\u0080": "Control",
            "\u00f6": "Latin Small Letter O With Diaeresis",
        }
        values = list(json.loads(rfc8785.dumps(given_)).values())
        assert values == [
            "Carriage Return",
            "One",
            "Control",
            "Latin Small Letter O With Diaeresis",
            "Euro Sign",
            "Emoji: Grinning Face",
            "Hebrew Letter Dalet With Dagesh",
        ]

    @pytest.mark.parametrize(
        ("value", "text"),
        [
            (333333333.33333329, "333333333.3333333"),
            (1e30, "1e+30"),
            (4.50, "4.5"),
            (2e-3, "0.002"),
            (1e-27, "1e-27"),
            (-0.0, "0"),
        ],
    )
    def test_numbers_of_the_standard(self, value: float, text: str):
        assert rfc8785.dumps(value).decode() == text
