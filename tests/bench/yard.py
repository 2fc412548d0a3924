"""A large yard: a boat with many items, each with a tag and some photographs."""

from __future__ import annotations

import random
import sys
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from records import START_MS, uuid7

from shedtally.domain.records import tag
from shedtally.rules.load import load

NOUNS = ("seacock", "hose", "bracket", "pump", "valve", "lamp", "cleat", "hinge", "battery")


def yard(items: int, photos: int, compartments: int = 60) -> list[dict[str, Any]]:
    """Edits that make the yard; the first makes its boat, whose key is the key of that edit."""
    rng = random.Random(7)
    kinds = list(load().kinds)
    boat = {"name": "Corncrake", "length_m": 11.2, "beam_m": 3.4, "rule_set": "eu"}
    edits = [_edit("boat", uuid7(START_MS, rng), **boat)]
    parts = [uuid7(START_MS + n, rng) for n in range(compartments)]
    places = [uuid7(START_MS + 500 + n, rng) for n in range(80)]
    for n, key in enumerate(parts):
        place = {"from_m": n % 10, "to_m": n % 10 + 1, "side": ("port", "starboard")[n % 2]}
        within = {"within": parts[n // 4]} if n > 3 else {}
        edits.append(_edit("compartment", key, name=f"Locker {n}", **place, **within))
    edits += [_edit("place", key, name=f"Crate {n}", sort="crate") for n, key in enumerate(places)]
    keys = [uuid7(START_MS + 1_000 + n * 40_000, rng) for n in range(items)]
    codes = _codes(items)
    for n, key in enumerate(keys):
        edits.append(_item(n, key, kinds, parts, places))
        edits.append(_edit("tag", next(codes), on=f"item/{key}"))
    edits += [_photo(n, keys[n % items], uuid7(START_MS + n, rng), rng) for n in range(photos)]
    return edits


def _item(n: int, key: str, kinds: list[str], parts: list[str], places: list[str]) -> dict:
    out = n % 3 > 0
    values: dict[str, Any] = {
        "name": f"{NOUNS[n % len(NOUNS)]} {n}",
        "kind": kinds[n % len(kinds)],
        "compartment": parts[n % len(parts)],
        "condition": ("sound", "worn", "failed")[n % 3],
        "whereabouts": "ashore" if out else "aboard",
        "fate": ("refit", "renew", "waste", "undecided")[n % 4],
        "length_mm": 200 + n % 900,
    }
    if out:
        values |= {"place": places[n % len(places)], "out_at": f"2026-05-{n % 28 + 1:02}T10:00:00Z"}
    return _edit("item", key, **values)


def _photo(n: int, item: str, key: str, rng: random.Random) -> dict:
    taken = f"2026-05-{n % 28 + 1:02}T10:00:00Z"
    digest = f"{rng.getrandbits(256):064x}"
    form = {"type": "image/jpeg", "bytes": 400_000, "width": 1536, "height": 2048}
    return _edit("photo", key, of=f"item/{item}", sha256=digest, taken_at=taken, **form)


def _codes(count: int):
    number, given = 32**4, 0
    while given < count:
        if tag.is_issuable(number):
            given += 1
            yield tag.encode(number)
        number += 1


def _edit(table: str, key: str, **values: Any) -> dict[str, Any]:
    return {"table": table, "key": key, "set": values}
