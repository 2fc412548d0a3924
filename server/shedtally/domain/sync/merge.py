"""Merging changes into records: per field, the last writer wins.

Later is decided by stamp, then device, then change id, all compared as text. The rule looks at
nothing else, so any order, repetition or batching of the same changes gives the same record, on
the server and on every phone (`pwa/src/domain/merge.ts` is its twin; `fixtures/contract/merge.json`
holds both to it).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from shedtally.domain.records.shape import JsonValue
from shedtally.domain.sync.change import Change


@dataclass(frozen=True, slots=True, order=True)
class Version:
    """Who wrote a field. ``cursor``, the place in the server's log, takes no part in the order."""

    stamp: str
    device: str
    change: str
    cursor: int = field(default=0, compare=False)


@dataclass(frozen=True, slots=True)
class State:
    """A record: its field values, and for each field the version that wrote it."""

    values: Mapping[str, JsonValue] = field(default_factory=dict)
    versions: Mapping[str, Version] = field(default_factory=dict)


EMPTY = State()


def apply(state: State, change: Change, stamp: str | None = None, cursor: int = 0) -> State:
    """The record after ``change``.

    Args: stamp: the stamp by which to merge; None takes the change's own. cursor: the change's
        place in the log, 0 while it has none.
    """
    version = Version(stamp or change.stamp, change.device, change.merges_as, cursor)
    if not state.versions:
        return State(dict(change.values), dict.fromkeys(change.values, version))
    won = {
        name: value
        for name, value in change.values.items()
        if name not in state.versions or state.versions[name] < version
    }
    if not won:
        return state
    return State(
        {**state.values, **won},
        {**state.versions, **dict.fromkeys(won, version)},
    )


def replay(changes: Iterable[Change]) -> State:
    """The record that these changes of one record make, in whatever order they come."""
    state = EMPTY
    for change in changes:
        state = apply(state, change)
    return state


def is_binned(state: State) -> bool:
    """Whether the record is in the bin: binned, and nothing was written in it since.

    An edit later than the binning brings the record back, so that the work of somebody who had
    not seen the binning is in sight again.
    """
    if state.values.get("binned") is not True:
        return False
    binned = state.versions["binned"]
    return all(version <= binned for version in state.versions.values())


def shown(state: State) -> dict[str, JsonValue]:
    """The values as calculations and screens read them: ``binned`` says what `is_binned` says."""
    values = dict(state.values)
    if "binned" in values:
        values["binned"] = is_binned(state)
    return values
