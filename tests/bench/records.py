"""The ten thousand records that both sides carry: items of a boat, about 210 bytes each as JSON."""

from __future__ import annotations

import datetime as dt
import random
import uuid
from typing import Any

COUNT = 10_000
START_MS = 1_790_000_000_000
ADJECTIVES = ("forward", "aft", "port", "starboard", "upper", "lower", "old", "spare", "bent")
NOUNS = ("seacock", "hose", "bracket", "pump", "valve", "lamp", "cleat", "hinge", "battery")
KINDS = ("seacock", "hose-fuel", "hose-raw-water", "battery-lead-acid", "bilge-pump", "cleat")


def uuid7(ms: int, rng: random.Random) -> str:
    """A key as a phone makes it at the time ``ms``."""
    number = (ms << 80) | (7 << 76) | (rng.getrandbits(12) << 64) | (2 << 62) | rng.getrandbits(62)
    return str(uuid.UUID(int=number))


def records(count: int = COUNT, seed: int = 1) -> list[dict[str, Any]]:
    """Edits that make ``count`` items, one every forty seconds; the same for the same seed."""
    rng = random.Random(seed)
    compartments = [uuid7(START_MS - n, rng) for n in range(40)]
    return [_item(n, START_MS + n * 40_000, compartments, rng) for n in range(count)]


def _item(n: int, ms: int, compartments: list[str], rng: random.Random) -> dict[str, Any]:
    out_at = dt.datetime.fromtimestamp(ms // 1000, dt.UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    return {
        "table": "item",
        "key": uuid7(ms, rng),
        "set": {
            "name": f"{rng.choice(ADJECTIVES)} {rng.choice(NOUNS)} {n}",
            "kind": rng.choice(KINDS),
            "compartment": rng.choice(compartments),
            "condition": rng.choice(("sound", "worn", "failed", "serviceable")),
            "fate": rng.choice(("refit", "renew", "waste")),
            "out_at": out_at,
        },
    }
