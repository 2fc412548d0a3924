"""The change log of a boat: appended under the lock of its counter, read by cursor."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Any

from sqlalchemy import Row, Select, func, select, update
from sqlalchemy.orm import Session

from shedtally.domain.sync import stamp
from shedtally.domain.sync.change import Change, LoggedChange
from shedtally.storage import tables
from shedtally.storage.among import among, by_first
from shedtally.storage.bulk import insert_rows, json_text
from shedtally.storage.upsert import insert_if_absent

_log = tables.change
_counter = tables.boat_counter
# What others restate of a device's changes is in nobody's count.
_IN_A_COUNT = _log.c.seq > 0


class ChangeLog:
    """The log of one boat."""

    def __init__(self, session: Session, boat: str) -> None:
        self._session = session
        self._boat = boat

    def exists(self) -> bool:
        """Whether the boat has been opened here."""
        query = select(_counter.c.boat).where(_counter.c.boat == self._boat)
        return self._session.execute(query).first() is not None

    def open(self) -> None:
        """Make the boat's counter, unless it is there."""
        row = {"boat": self._boat, "cursor": 0, "stamp": stamp.FIRST}
        insert_if_absent(self._session, _counter, row)

    def lock(self) -> tuple[int, str]:
        """Lock the boat for writing until the end of the transaction: its cursor, highest stamp.

        An UPDATE takes the row lock before anything is read, so a second writer waits here and
        then counts on from what the first has committed.
        """
        statement = (
            update(_counter)
            .where(_counter.c.boat == self._boat)
            .values(cursor=_counter.c.cursor)
            .returning(_counter.c.cursor, _counter.c.stamp)
        )
        row = self._session.execute(statement).one()
        return row.cursor, row.stamp

    def advance(self, cursor: int, highest: str) -> None:
        """Set the counter; only while locked."""
        statement = update(_counter).where(_counter.c.boat == self._boat)
        self._session.execute(statement.values(cursor=cursor, stamp=highest))

    def cursor(self) -> int:
        """The cursor of the last change, 0 if there is none."""
        query = select(_counter.c.cursor).where(_counter.c.boat == self._boat)
        return self._session.execute(query).scalar_one_or_none() or 0

    def id_at(self, cursor: int) -> str | None:
        """The id of the change at ``cursor``, None if there is none."""
        query = select(_log.c.id).where(_log.c.boat == self._boat, _log.c.cursor == cursor)
        return self._session.execute(query).scalar_one_or_none()

    def append(self, entries: Iterable[LoggedChange], sent_by: str) -> None:
        """Add changes at the end; only while locked."""
        rows = [_row(self._boat, entry, sent_by) for entry in entries]
        insert_rows(self._session, _log, rows)

    def known(self, ids: Collection[str]) -> dict[str, tuple[str, LoggedChange]]:
        """Which of these changes are in any boat's log: by id, the boat and the entry."""
        query = _entries().add_columns(_log.c.boat).where(among(self._session, _log.c.id, ids))
        return {
            row.body["id"]: (row.boat, _entry(row)) for row in self._session.execute(query).all()
        }

    def taken(self, numbers: Collection[tuple[str, int]]) -> set[tuple[str, int]]:
        """Which of these (device, seq) are in any boat's log."""
        found = set()
        for device, seqs in by_first(numbers).items():
            ours = _log.c.device == device, among(self._session, _log.c.seq, seqs)
            query = select(_log.c.seq).where(*ours)
            found |= {(device, seq) for seq in self._session.execute(query).scalars()}
        return found

    def changed_after(self, moment: str) -> list[tuple[str, str]]:
        """Table and key of each record with a change whose stamp is past ``moment``."""
        query = (
            select(_log.c.table_name, _log.c.key)
            .where(_log.c.boat == self._boat, _log.c.stamp > moment)
            .distinct()
        )
        return [(table, key) for table, key in self._session.execute(query)]

    def all_of_record(self, table: str, key: str) -> list[LoggedChange]:
        """All changes of one record, oldest first by arrival."""
        query = _entries().where(
            _log.c.boat == self._boat, _log.c.table_name == table, _log.c.key == key
        )
        return self._list(query.order_by(_log.c.cursor))

    def since(self, cursor: int, limit: int) -> list[LoggedChange]:
        """At most ``limit`` changes after ``cursor``, in order."""
        query = (
            _entries()
            .where(_log.c.boat == self._boat, _log.c.cursor > cursor)
            .order_by(_log.c.cursor)
            .limit(limit)
        )
        return self._list(query)

    def of_record(self, table: str, key: str, cursor: int, limit: int) -> list[LoggedChange]:
        """At most ``limit`` changes of one record after ``cursor``, oldest first by arrival."""
        query = _entries().where(
            _log.c.boat == self._boat,
            _log.c.table_name == table,
            _log.c.key == key,
            _log.c.cursor > cursor,
        )
        return self._list(query.order_by(_log.c.cursor).limit(limit))

    def _list(self, query: Select[Any]) -> list[LoggedChange]:
        return [_entry(row) for row in self._session.execute(query).all()]


def _entries() -> Select[Any]:
    return select(_log.c.cursor, _log.c.stamp, _log.c.received_ms, _log.c.body)


def _entry(row: Row[Any]) -> LoggedChange:
    body = row.body
    change = Change(
        id=body["id"],
        device=body["device"],
        seq=body["seq"],
        stamp=body["stamp"],
        table=body["table"],
        key=body["key"],
        values=body["set"],
        base=body["base"],
        restates=body.get("restates"),
    )
    return LoggedChange(row.cursor, row.stamp, row.received_ms, change)


def _row(boat: str, entry: LoggedChange, sent_by: str) -> tuple[object, ...]:
    """In the order of the table's columns."""
    change = entry.change
    return (
        boat,
        entry.cursor,
        change.id,
        change.device,
        change.seq,
        entry.stamp,
        change.table,
        change.key,
        json_text(change.as_sent()),
        entry.received_ms,
        sent_by,
    )


def highest_seqs(session: Session) -> dict[str, int]:
    """The highest running number that arrived from each device."""
    query = select(_log.c.device, func.max(_log.c.seq)).group_by(_log.c.device)
    query = query.where(_IN_A_COUNT)
    return {row[0]: row[1] for row in session.execute(query)}


def highest_seq(session: Session, device: str) -> int:
    """The highest running number that arrived from ``device``, 0 if none."""
    query = select(func.max(_log.c.seq)).where(_log.c.device == device, _IN_A_COUNT)
    return session.execute(query).scalar_one_or_none() or 0


def gaps(session: Session, device: str, most: int) -> list[tuple[int, int]]:
    """The first ``most`` stretches of running numbers of ``device`` that never arrived.

    Each is the first and last number of a stretch, over all boats; below the highest that arrived.
    """
    before = func.lag(_log.c.seq, 1, 0).over(order_by=_log.c.seq)
    counted = select(_log.c.seq, before.label("before")).where(_log.c.device == device, _IN_A_COUNT)
    steps = counted.subquery()
    query = (
        select(steps.c.before + 1, steps.c.seq - 1)
        .where(steps.c.seq > steps.c.before + 1)
        .order_by(steps.c.seq)
        .limit(most)
    )
    return [(first, last) for first, last in session.execute(query)]
