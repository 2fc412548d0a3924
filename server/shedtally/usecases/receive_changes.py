"""Taking in what a phone has noted: each change is judged alone, all are kept together.

Sending the same batch again changes nothing and is answered alike. A change that can't be kept
is named with its reason; it holds back no other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from shedtally.domain.errors import BadChange, ClientTooOld, NoSuchBoat
from shedtally.domain.rulebook import Rules
from shedtally.domain.sync import merge, stamp
from shedtally.domain.sync.change import Change, LoggedChange, id_of, parse
from shedtally.domain.sync.clash import Clash, clashes
from shedtally.domain.sync.merge import State, Version
from shedtally.storage.record_store import Name
from shedtally.storage.unit_of_work import UnitOfWork
from shedtally.usecases.freeze_handover import freeze_handovers, sealed_by

SCHEMA = 1
OLDEST_SCHEMA = 1
MAX_BATCH = 2_000


@dataclass(frozen=True, slots=True)
class Result:
    """What became of one change.

    ``stamp`` is given where the change merges by another stamp than its own. ``field`` and
    ``detail`` say why it was rejected.
    """

    id: str | None
    outcome: Literal["accepted", "repeated", "rejected"]
    cursor: int | None = None
    stamp: str | None = None
    field: str = ""
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Received:
    """The boat's cursor after the batch, and one result a change, in the order sent."""

    cursor: int
    results: list[Result]


def receive_changes(
    uow: UnitOfWork,
    boat: str,
    sent: Sequence[object],
    *,
    sent_by: str,
    schema: int,
    now_ms: int,
    rules: Rules,
) -> Received:
    """Take in a batch for ``boat`` from the device ``sent_by``.

    A handover that the batch seals has its list frozen by ``rules`` in the same transaction.

    Raises: ClientTooOld; NoSuchBoat, unless the batch brings the boat's own record.
    """
    if schema < OLDEST_SCHEMA:
        raise ClientTooOld(schema, OLDEST_SCHEMA)
    parsed = [_parsed(one, boat) for one in sent]
    changes = [one for one in parsed if isinstance(one, Change)]
    log = uow.log(boat)
    if not log.exists():
        if not any(change.table == "boat" for change in changes):
            raise NoSuchBoat(boat)
        log.open()
    cursor, highest = log.lock()
    batch = _Batch(uow, boat, changes, cursor, highest, now_ms)
    results = [batch.judge(one) if isinstance(one, Change) else one for one in parsed]
    batch.write(sent_by)
    freeze_handovers(uow, boat, rules, sealed_by(batch.new), now_ms)
    return Received(batch.cursor, results)


def _parsed(sent: object, boat: str) -> Change | Result:
    try:
        change = parse(sent)
        if change.table == "boat" and change.key != boat:
            raise BadChange("key", "names another boat than the address it was sent to")
    except BadChange as bad:
        return Result(id_of(sent), "rejected", field=bad.field, detail=bad.detail)
    return change


@dataclass
class _Batch:
    """One batch while the boat is locked: what is known, and what is to be written."""

    uow: UnitOfWork
    boat: str
    changes: Sequence[Change]
    cursor: int
    highest: str
    now_ms: int
    new: list[LoggedChange] = field(default_factory=list)
    clashes: list[Clash] = field(default_factory=list)

    def __post_init__(self) -> None:
        log = self.uow.log(self.boat)
        self.start = self.cursor
        restated = {change.restates for change in self.changes if change.restates}
        self.known = log.known({change.id for change in self.changes} | restated)
        self.taken = log.taken({(change.device, change.seq) for change in self.changes})
        names = {(change.table, change.key) for change in self.changes}
        self.states: dict[Name, State] = self.uow.records(self.boat).states(names)
        self.touched: set[Name] = set()

    def judge(self, change: Change) -> Result:
        """Keep the change, find that it is here already, or say why it can't be kept."""
        if change.id in self.known:
            return self._seen_before(change)
        if change.restates in self.known:
            return self._whole_is_here(change)
        if (change.device, change.seq) in self.taken:
            detail = f"another change of this device already has the number {change.seq}"
            return Result(change.id, "rejected", field="seq", detail=detail)
        entry = self._accepted(change)
        self._merge(entry)
        return _result(entry, "accepted")

    def _seen_before(self, change: Change) -> Result:
        boat, entry = self.known[change.id]
        if boat != self.boat or not entry.is_of(change):
            detail = "another change with this id is already kept"
            return Result(change.id, "rejected", field="id", detail=detail)
        return _result(entry, "repeated")

    def _whole_is_here(self, change: Change) -> Result:
        """What a change restates is no news where that change itself is kept."""
        boat, entry = self.known[change.merges_as]
        if boat != self.boat or not entry.holds(change):
            detail = "the change that it restates says something else"
            return Result(change.id, "rejected", field="restates", detail=detail)
        return Result(change.id, "repeated", cursor=entry.cursor)

    def _accepted(self, change: Change) -> LoggedChange:
        """Number the change; a stamp from a clock far ahead is brought back to the present.

        The new stamp lies above all that the boat has, so the edit wins over what its author saw,
        and every later edit by anybody wins over it. What comes out of a lost log has a stamp that
        was put right there; here all of that would be turned into the order of its arrival, if
        this server's clock is the one that is wrong.
        """
        merges_by = change.stamp
        most = stamp.MAX_AHEAD_IN_A_LOG_MS if change.comes_from_a_log else stamp.MAX_AHEAD_MS
        if stamp.is_too_far_ahead(change.stamp, self.now_ms, most):
            merges_by = stamp.following(self.highest, self.now_ms)
        self.highest = max(self.highest, merges_by)
        self.cursor += 1
        entry = LoggedChange(self.cursor, merges_by, self.now_ms, change)
        self.new.append(entry)
        self.known[change.id] = (self.boat, entry)
        self.taken.add((change.device, change.seq))
        return entry

    def _merge(self, entry: LoggedChange) -> None:
        change = entry.change
        name = (change.table, change.key)
        before = self.states.get(name, merge.EMPTY)
        after = merge.apply(before, change, entry.stamp, entry.cursor)
        own = Version(entry.stamp, change.device, change.merges_as, entry.cursor)
        # A base above the log comes from a log that was lost: its author has seen none of this.
        seen = change.base if change.base <= self.start else 0
        self.clashes.extend(clashes(before, after, change, own, seen))
        self.states[name] = after
        self.touched.add(name)

    def write(self, sent_by: str) -> None:
        """Write everything; it counts when the unit of work has committed."""
        if not self.new:
            return
        log = self.uow.log(self.boat)
        log.append(self.new, sent_by)
        log.advance(self.cursor, self.highest)
        states = {name: self.states[name] for name in self.touched}
        self.uow.records(self.boat).keep(states, self.cursor)
        self._settle()
        self.uow.clashes(self.boat).add(self.clashes)

    def _settle(self) -> None:
        store = self.uow.clashes(self.boat)
        open_records = store.open_records() & self.touched
        for entry in self.new:
            change = entry.change
            if (change.table, change.key) in open_records:
                seen = change.base if change.base <= self.start else 0
                store.settle(change.table, change.key, change.values, seen, entry.cursor)


def _result(entry: LoggedChange, outcome: Literal["accepted", "repeated"]) -> Result:
    change = entry.change
    other = entry.stamp if entry.stamp != change.stamp else None
    return Result(change.id, outcome, cursor=entry.cursor, stamp=other)
