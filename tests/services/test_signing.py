"""Passwords and keys."""

from __future__ import annotations

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from tests.services.releases import CHEAP
from tuner.domain import NotAllowed
from tuner.services.password_cost import PasswordCost
from tuner.services.signing import Secrets, new_secrets, password_fits, signed, with_new_password


def test_the_default_cost_is_argon2id_with_64_mib():
    made = new_secrets("a long password", PasswordCost())
    assert made.password_hash.startswith("$argon2id$v=19$m=65536,t=3,p=4$")
    assert password_fits(made, "a long password", PasswordCost())


def test_two_people_with_the_same_password_share_nothing():
    one, other = (new_secrets("a long password", CHEAP) for _ in range(2))
    assert {one.password_hash, one.sealed_key, one.public_key}.isdisjoint(
        {other.password_hash, other.sealed_key, other.public_key}
    )


def test_a_signature_needs_the_password_and_fits_the_key():
    made = new_secrets("a long password", CHEAP)
    signature = signed(made, "a long password", b"text", CHEAP)
    Ed25519PublicKey.from_public_bytes(bytes.fromhex(made.public_key)).verify(bytes.fromhex(signature), b"text")
    assert signed(made, "a long password", b"text", CHEAP) == signature
    with pytest.raises(NotAllowed, match="Nothing was signed"):
        signed(made, "another password", b"text", CHEAP)


def test_a_sealed_key_put_under_another_public_key_does_not_open():
    one, other = new_secrets("a long password", CHEAP), new_secrets("a long password", CHEAP)
    with pytest.raises(NotAllowed):
        signed(Secrets(one.password_hash, one.sealed_key, other.public_key), "a long password", b"text", CHEAP)


def test_a_foreign_hash_is_a_wrong_password():
    made = new_secrets("a long password", CHEAP)
    assert not password_fits(Secrets("md5:abc", made.sealed_key, made.public_key), "a long password", CHEAP)


def test_the_key_outlives_the_password():
    made = new_secrets("a long password", CHEAP)
    other = with_new_password(made, "a long password", "one more password", CHEAP)
    assert signed(other, "one more password", b"text", CHEAP) == signed(made, "a long password", b"text", CHEAP)
