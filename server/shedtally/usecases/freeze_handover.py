"""Freezing the list of a handover, in the transaction of the change that seals it.

The records are taken as they were at the stamp of that change, so that an edit made later never
gets in, whatever the order in which changes arrive: also where a backup that lacked the handover
was brought back, and phones send all of it again.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping

from shedtally.domain.rulebook import Rules
from shedtally.domain.sync import merge
from shedtally.domain.sync.change import LoggedChange
from shedtally.domain.sync.merge import State
from shedtally.domain.waste.freeze import freeze
from shedtally.storage.frozen import FrozenRow
from shedtally.storage.record_store import Name
from shedtally.storage.unit_of_work import UnitOfWork


def sealed_by(entries: Iterable[LoggedChange]) -> dict[str, LoggedChange]:
    """The handovers that changes seal, each with the first change that does."""
    found: dict[str, LoggedChange] = {}
    for entry in entries:
        change = entry.change
        if change.table == "handover" and change.values.get("sealed_at"):
            first = found.get(change.key)
            if first is None or entry.stamp < first.stamp:
                found[change.key] = entry
    return found


def freeze_handovers(
    uow: UnitOfWork, boat: str, rules: Rules, sealed: Mapping[str, LoggedChange], now_ms: int
) -> None:
    """Freeze the lists of those handovers that are not frozen yet; the boat must be locked."""
    store = uow.frozen(boat)
    new = sealed.keys() - store.known(sealed.keys())
    today = datetime.datetime.fromtimestamp(now_ms / 1000, datetime.UTC).date()
    for handover in sorted(new):
        entry = sealed[handover]
        records = uow.records(boat).read_boat_with(_as_of(uow, boat, entry.stamp))
        if handover not in records.handovers:
            continue
        made = freeze(records, rules, handover, today)
        store.add(FrozenRow(handover, made.digest, made.body, entry.stamp, entry.cursor, now_ms))


def _as_of(uow: UnitOfWork, boat: str, moment: str) -> dict[Name, State]:
    """The records that have changes past a moment, without those changes."""
    log = uow.log(boat)
    found: dict[Name, State] = {}
    for table, key in log.changed_after(moment):
        state = merge.EMPTY
        for entry in log.all_of_record(table, key):
            if entry.stamp <= moment:
                state = merge.apply(state, entry.change, entry.stamp, entry.cursor)
        found[table, key] = state
    return found
