"""A release as a file, and whether such a file is whole: checked without a store, without a network.

The file carries the exact text that was signed. A text is checked as it stands, never written anew first.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import rfc8785
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from pydantic import ValidationError

from tuner.domain import InvalidDocument
from tuner.domain.model import Model
from tuner.domain.release import ReleaseDocument, ReleaseFile, Signature, Statement
from tuner.domain.wording import problems_of
from tuner.exchange.bounds import MAX_JSON_BYTES, check_size


def canonical_bytes(document: Model) -> bytes:
    """The bytes that are hashed and signed: RFC 8785 of the document's JSON.

    Raises
    ------
    InvalidDocument
        If a number can't be written so that everybody reads the same.
    """
    try:
        return rfc8785.dumps(document.model_dump(mode="json", exclude_unset=True))
    except rfc8785.CanonicalizationError as error:
        raise InvalidDocument([f"The document can't be written in canonical form ({error}). Correct that value."]) from error


def sha256_of(data: bytes) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def plain_hash(content: Mapping[str, Any]) -> str:
    """SHA-256 of plain JSON in canonical form: the same before and after it went through a release.

    Raises
    ------
    InvalidDocument
        If a number can't be written so that everybody reads the same.
    """
    try:
        return sha256_of(rfc8785.dumps(dict(content)))
    except rfc8785.CanonicalizationError as error:
        raise InvalidDocument([f"A record can't be written in canonical form ({error}). Evaluate it again."]) from error


def write_release_file(document: str, signatures: Iterable[Signature]) -> bytes:
    """The file of a release: the same release and signatures give the same bytes."""
    content = {
        "format": "test-cook-tuner-release-file/1",
        "document": document,
        "sha256": sha256_of(document.encode("utf-8")),
        "signatures": [signature.model_dump(mode="json") for signature in signatures],
    }
    return (json.dumps(content, ensure_ascii=False, indent=1) + "\n").encode("utf-8")


@dataclass(frozen=True, slots=True)
class Signer:
    """One signature of a file that holds."""

    name: str
    role: str
    meaning: str
    signed_at: datetime
    key_id: str
    known_key: bool | None


@dataclass(frozen=True, slots=True)
class FileCheck:
    """What a release file is.

    Attributes
    ----------
    whole
        Whether the text is the one that was signed, by everybody who must sign.
    problems
        What is wrong, a sentence each; empty when `whole`.
    warnings
        What a reader should know though the file is whole: expired, keys not known here.
    """

    whole: bool
    problems: tuple[str, ...]
    warnings: tuple[str, ...]
    sha256: str | None
    document: ReleaseDocument | None
    signers: tuple[Signer, ...]


def check_release_file(data: bytes, *, now: datetime, known_keys: Iterable[str] | None = None) -> FileCheck:
    """Check a file.

    Parameters
    ----------
    now
        When it is checked, for the expiry of a restricted release.
    known_keys
        Public keys (hexadecimal) of the house; None where they are not known: then anybody could have made keys and signed, and
        the check says so.
    """
    try:
        file = _read(data)
    except InvalidDocument as error:
        return FileCheck(False, error.problems, (), None, None, ())
    text = file.document.encode("utf-8")
    found = sha256_of(text)
    problems: list[str] = []
    if found != file.sha256:
        problems.append("The text is not the one the file's own checksum was made of: it was changed after signing.")
    document = _document(text, problems)
    keys = None if known_keys is None else frozenset(known_keys)
    signers = [signer for signature in file.signatures if (signer := _signer(signature, found, document, keys, problems))]
    if document is not None:
        problems += _missing_signatures(document, signers)
    warnings = list(_warnings(document, signers, now, keys)) if not problems else []
    return FileCheck(not problems, tuple(problems), tuple(warnings), found, document, tuple(signers))


def _read(data: bytes) -> ReleaseFile:
    check_size(data, MAX_JSON_BYTES, "The release file")
    try:
        content = json.loads(data.decode("utf-8"), object_pairs_hook=_each_key_once)
        return ReleaseFile.model_validate(content)
    except ValidationError as error:
        raise InvalidDocument(problems_of(error)) from error
    except (UnicodeDecodeError, json.JSONDecodeError, RecursionError, ValueError) as error:
        raise InvalidDocument(["This is no release file, or it was damaged. Give the file as it was issued."]) from error


def _each_key_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    content = dict(pairs)
    if len(content) != len(pairs):
        raise ValueError("a key stands twice")
    return content


def _document(text: bytes, problems: list[str]) -> ReleaseDocument | None:
    try:
        document = ReleaseDocument.model_validate_json(text)
        if rfc8785.dumps(json.loads(text)) != text:
            problems.append("The text is not in canonical form: it was written anew by something else.")
    except (ValidationError, ValueError, RecursionError):
        problems.append("The text in the file is no release that this version of the tool can read.")
        return None
    return document


def _signer(
    signature: Signature, sha256: str, document: ReleaseDocument | None, keys: frozenset[str] | None, problems: list[str]
) -> Signer | None:
    try:
        key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(signature.public_key))
        key.verify(bytes.fromhex(signature.signature), signature.statement.encode("utf-8"))
        statement = Statement.model_validate_json(signature.statement)
    except (InvalidSignature, ValidationError, ValueError):
        problems.append("A signature does not fit what it signs: statement, signature or key was changed.")
        return None
    told = sha256_of(bytes.fromhex(signature.public_key))[:16]
    belongs = statement.release_sha256 == sha256 and statement.key_id == told
    if document is not None:
        belongs &= (statement.development_id, statement.number) == (document.development_id, document.number)
    if not belongs:
        problems.append(f"The signature of {statement.name} ({statement.role}) belongs to another text or key.")
        return None
    known = None if keys is None else signature.public_key in keys
    return Signer(statement.name, statement.role, statement.meaning, statement.signed_at, told, known)


def _missing_signatures(document: ReleaseDocument, signers: list[Signer]) -> Iterable[str]:
    roles = [signer.role for signer in signers]
    for role in document.must_sign:
        if role not in roles:
            yield f"The signature of the {role} is missing."
    if len({signer.key_id for signer in signers}) < len(signers) or len(set(roles)) < len(roles):
        yield "One person signed more than once. Every role is signed by another person."
    developers = {name.casefold() for name in document.developers}
    for signer in signers:
        if signer.role != "developer" and signer.name.casefold() in developers:
            yield f"{signer.name} developed the recipe and signed as {signer.role}. Nobody approves their own work."


def _warnings(
    document: ReleaseDocument | None, signers: list[Signer], now: datetime, keys: frozenset[str] | None
) -> Iterable[str]:
    if keys is None:
        shown = ", ".join(f"{signer.name} {signer.key_id}" for signer in signers)
        yield f"Nobody's keys are known here, so compare their short names with those of the house: {shown}."
    for signer in signers:
        if signer.known_key is False:
            yield f"The key of {signer.name} ({signer.key_id}) is none of the house's. Ask the house before cooking from it."
    if document is not None and document.expires_at is not None and document.expires_at <= now:
        yield f"It expired on {document.expires_at.date().isoformat()}. Do not cook from it."
