"""Clashes: a value that one device wrote over, or beside, another's without having seen it.

The later value stands in the record; the other is listed for a person to settle. A clash is
settled by any later change of that field whose author had seen it.
"""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.domain.records.shape import JsonValue
from shedtally.domain.sync.change import Change
from shedtally.domain.sync.merge import State, Version


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two values, and the change that wrote it."""

    value: JsonValue
    version: Version


@dataclass(frozen=True, slots=True)
class Clash:
    """Field ``field`` of a record: ``kept`` stands, ``lost`` does not. Found at ``cursor``."""

    table: str
    key: str
    field: str
    kept: Side
    lost: Side
    cursor: int


def clashes(before: State, after: State, change: Change, own: Version, seen: int) -> list[Clash]:
    """What ``change`` clashes with, in the order of its fields; empty for most changes.

    Args: before, after: the record without and with the change. own: the version that the change
        merges by. seen: the cursor up to which its author knew the log.
    """
    if not before.versions:
        return []
    found = []
    for name, value in change.values.items():
        old = before.versions.get(name)
        if old is None or old.device == own.device or _same(before.values[name], value):
            continue
        ours, theirs = Side(value, own), Side(before.values[name], old)
        if after.versions[name] != own:
            found.append(Clash(change.table, change.key, name, theirs, ours, own.cursor))
        elif old.cursor > seen:
            found.append(Clash(change.table, change.key, name, ours, theirs, own.cursor))
    if all(clash.field != "binned" for clash in found):
        found.extend(_binned_unseen(before, change, own, seen))
    return found


def _binned_unseen(before: State, change: Change, own: Version, seen: int) -> list[Clash]:
    """Binning hides what others wrote meanwhile, or is undone by it: either way, tell."""
    unseen = {
        name: version
        for name, version in before.versions.items()
        if version.device != own.device and version.cursor > seen
    }
    binned = change.values.get("binned")
    if binned is None and before.values.get("binned") is True and "binned" in unseen:
        ours, theirs = Side(False, own), Side(True, unseen["binned"])
    elif binned is True and unseen.keys() - change.values.keys() - {"binned"}:
        ours, theirs = Side(True, own), Side(False, max(unseen.values()))
    else:
        return []
    kept, lost = (ours, theirs) if theirs.version < own else (theirs, ours)
    return [Clash(change.table, change.key, "binned", kept, lost, own.cursor)]


def _same(one: JsonValue, other: JsonValue) -> bool:
    """Equal as JSON: 1 and 1.0 are, 1 and true are not."""
    return one == other and isinstance(one, bool) == isinstance(other, bool)
