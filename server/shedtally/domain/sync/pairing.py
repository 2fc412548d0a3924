"""Pairing codes and the devices that were let in with them."""

from __future__ import annotations

from dataclasses import dataclass

# No vowels, so that no word can appear, and none of 0 1 I L O S 5 that are misread aloud:
# 26 signs, 8 of them: 37.6 bits.
ALPHABET = "BCDFGHJKMNPQRTVWXYZ2346789"
LENGTH = 8
LIVES_MS = 5 * 60 * 1000
MAX_TRIES = 5


@dataclass(frozen=True, slots=True)
class PairedDevice:
    """A phone or computer that may read and write, unless ``revoked_ms`` is set."""

    key: str
    name: str
    paired_ms: int
    last_seen_ms: int
    revoked_ms: int | None
    last_seq: int = 0


def as_typed(text: str) -> str:
    """The code in what a person typed: case, hyphens and spaces ignored."""
    return "".join(sign for sign in text.upper() if sign not in " -\u2010\u2011\u2013")


def shown(code: str) -> str:
    """The code in two groups, as it is read aloud."""
    return f"{code[:4]}-{code[4:]}"
