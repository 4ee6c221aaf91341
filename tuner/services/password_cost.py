"""What one try of a password costs."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PasswordCost:
    """Cost of argon2id, by RFC 9106 (second recommended option): passes, memory [KiB], lanes."""

    time: int = 3
    memory_kib: int = 65536
    lanes: int = 4
