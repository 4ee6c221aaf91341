"""Passwords and signing keys.

A password is kept as an argon2id hash. Every account has an Ed25519 key of its own; its private half is sealed under a key that
argon2id derives from the password with a salt of its own, so that nobody signs without the password, whoever has the database.
Both use the same cost.
"""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from argon2.low_level import Type, hash_secret_raw
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305

from tuner.domain import InvalidDocument, NotAllowed
from tuner.services.password_cost import PasswordCost

LEAST_PASSWORD, LONGEST_PASSWORD = 10, 200
_SALT, _NONCE = 16, 12


@dataclass(frozen=True, slots=True)
class Secrets:
    """What is kept to know a person again and to let them sign: hash of the password, sealed private key, public key."""

    password_hash: str
    sealed_key: str
    public_key: str

    @property
    def key_id(self) -> str:
        """Short name of the public key."""
        return key_id(self.public_key)


def key_id(public_key: str) -> str:
    """First 16 hexadecimal digits of the SHA-256 of a public key."""
    return hashlib.sha256(bytes.fromhex(public_key)).hexdigest()[:16]


def checked_password(password: str, name: str) -> str:
    """A password that may be set.

    Raises
    ------
    InvalidDocument
        If it is too short, too long, or the person's name.
    """
    if not LEAST_PASSWORD <= len(password) <= LONGEST_PASSWORD:
        raise InvalidDocument(
            [f"password has {len(password)} characters. It needs {LEAST_PASSWORD} to {LONGEST_PASSWORD}. Choose another."]
        )
    if password.strip().casefold() == name.strip().casefold() or len(set(password)) < 4:
        raise InvalidDocument(["password is too easy to guess: the name itself, or the same letters over. Choose another."])
    return password


def new_secrets(password: str, cost: PasswordCost) -> Secrets:
    """Hash of a password, and a new key sealed under it."""
    return _sealed(Ed25519PrivateKey.generate(), password, cost)


def with_new_password(kept: Secrets, old: str, new: str, cost: PasswordCost) -> Secrets:
    """The same key under another password.

    Raises
    ------
    NotAllowed
        If the old password is wrong.
    """
    return _sealed(_opened(kept, old, cost), new, cost)


def password_fits(kept: Secrets, password: str, cost: PasswordCost) -> bool:
    """Whether this is the person's password."""
    try:
        return _hasher(cost).verify(kept.password_hash, password)
    except (VerificationError, InvalidHashError):
        return False


def signed(kept: Secrets, password: str, data: bytes, cost: PasswordCost) -> str:
    """Ed25519 signature over `data`, in hexadecimal.

    Raises
    ------
    NotAllowed
        If the password is wrong.
    """
    return _opened(kept, password, cost).sign(data).hex()


def _hasher(cost: PasswordCost) -> PasswordHasher:
    return PasswordHasher(cost.time, cost.memory_kib, cost.lanes)


def _sealed(key: Ed25519PrivateKey, password: str, cost: PasswordCost) -> Secrets:
    public = key.public_key().public_bytes_raw().hex()
    salt, nonce = secrets.token_bytes(_SALT), secrets.token_bytes(_NONCE)
    box = ChaCha20Poly1305(_derived(password, salt, cost)).encrypt(nonce, key.private_bytes_raw(), bytes.fromhex(public))
    return Secrets(_hasher(cost).hash(password), (salt + nonce + box).hex(), public)


def _opened(kept: Secrets, password: str, cost: PasswordCost) -> Ed25519PrivateKey:
    box = bytes.fromhex(kept.sealed_key)
    salt, nonce, sealed = box[:_SALT], box[_SALT : _SALT + _NONCE], box[_SALT + _NONCE :]
    try:
        raw = ChaCha20Poly1305(_derived(password, salt, cost)).decrypt(nonce, sealed, bytes.fromhex(kept.public_key))
    except InvalidTag as error:
        raise NotAllowed("The password is wrong. Nothing was signed. Type your own password again.") from error
    return Ed25519PrivateKey.from_private_bytes(raw)


def _derived(password: str, salt: bytes, cost: PasswordCost) -> bytes:
    return hash_secret_raw(
        password.encode("utf-8"),
        salt,
        time_cost=cost.time,
        memory_cost=cost.memory_kib,
        parallelism=cost.lanes,
        hash_len=32,
        type=Type.ID,
    )
