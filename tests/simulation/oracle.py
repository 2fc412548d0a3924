"""What must be so, worked out from the log and from what each author had seen.

Written from the promises, without the server's or the phone's own code for merging and clashes.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

Entry = Mapping[str, Any]
FieldName = tuple[str, str, str]


def rank(entry: Entry) -> tuple[str, str, str]:
    """Later is decided by stamp, then device, then id."""
    return entry["stamp"], entry["device"], entry["id"]


def merging(entry: Entry) -> dict[str, Any]:
    """An entry under the id by which it merges: that of the change which it restates, if any."""
    return {**entry, "id": entry.get("restates", entry["id"])}


def winners(log: Iterable[Entry]) -> dict[FieldName, Entry]:
    """For each field of each record the change whose value stands."""
    best: dict[FieldName, Entry] = {}
    for entry in log:
        for field in entry["set"]:
            name = (entry["table"], entry["key"], field)
            if name not in best or rank(entry) > rank(best[name]):
                best[name] = entry
    return best


def same(one: object, other: object) -> bool:
    """Equal as JSON."""
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    return one == other


@dataclass(frozen=True)
class Unseen:
    """Two values of one field, by two devices, of which neither had seen the other's."""

    field: FieldName
    changes: frozenset[str]
    cursor: int


def unseen_overwrites(log: list[Entry], seen: Mapping[str, frozenset[str]]) -> list[Unseen]:
    """Every value that was overwritten, or came too late, unseen; in the order of the log."""
    found = []
    stands: dict[FieldName, Entry] = {}
    for entry in log:
        for field, value in entry["set"].items():
            name = (entry["table"], entry["key"], field)
            old = stands.get(name)
            if old is None:
                stands[name] = entry
                continue
            if (
                old["device"] != entry["device"]
                and not same(old["set"][field], value)
                and _strangers(old, entry, seen)
            ):
                pair = frozenset({old["id"], entry["id"]})
                found.append(Unseen(name, pair, entry["cursor"]))
            if rank(entry) > rank(old):
                stands[name] = entry
    return found


def unseen_binnings(log: list[Entry], seen: Mapping[str, frozenset[str]]) -> list[Unseen]:
    """Every record that one binned while another worked on it, neither having seen the other."""
    found = []
    stands: dict[tuple[str, str], dict[str, Entry]] = {}
    for entry in log:
        record = stands.setdefault((entry["table"], entry["key"]), {})
        name = (entry["table"], entry["key"], "binned")
        others = {
            field: old
            for field, old in record.items()
            if old["device"] != entry["device"] and _strangers(old, entry, seen)
        }
        binned = others.get("binned")
        worked_on = [old for field, old in others.items() if field not in entry["set"]]
        if "binned" not in entry["set"] and binned and binned["set"]["binned"] is True:
            found.append(Unseen(name, frozenset({binned["id"], entry["id"]}), entry["cursor"]))
        elif entry["set"].get("binned") is True and [o for o in worked_on if o is not binned]:
            found.append(Unseen(name, frozenset(), entry["cursor"]))
        for field in entry["set"]:
            if field not in record or rank(entry) > rank(record[field]):
                record[field] = entry
    return found


def out_of_order(log: list[Entry], seen: Mapping[str, frozenset[str]]) -> list[tuple[Entry, Entry]]:
    """Pairs in which an edit lost to one that its author had seen; there must be none."""
    wrong = []
    for entry in log:
        for old in log:
            same_record = (old["table"], old["key"]) == (entry["table"], entry["key"])
            if (
                same_record
                and old["id"] in seen.get(entry["id"], ())
                and old["set"].keys() & entry["set"].keys()
                and rank(old) > rank(entry)
            ):
                wrong.append((old, entry))
    return wrong


def is_settled(one: Unseen, log: list[Entry], seen: Mapping[str, frozenset[str]]) -> bool:
    """Whether somebody who had seen both values wrote the field after it."""
    table, key, field = one.field
    return any(
        entry["cursor"] > one.cursor
        and (entry["table"], entry["key"]) == (table, key)
        and field in entry["set"]
        and one.changes <= seen.get(entry["id"], frozenset())
        for entry in log
    )


def text(value: object) -> str:
    """A value to compare by: true is not 1, but 1 is 1.0."""
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    return json.dumps(value)


def _strangers(one: Entry, other: Entry, seen: Mapping[str, frozenset[str]]) -> bool:
    return one["id"] not in seen.get(other["id"], ()) and other["id"] not in seen.get(one["id"], ())
