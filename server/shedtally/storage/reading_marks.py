"""How far each device has read each boat."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from shedtally.storage import tables
from shedtally.storage.upsert import insert_or_replace

_mark = tables.reading_mark
_device = tables.device
_log = tables.change
# A change that arrives after later ones is among the last few; older ones were read long ago.
LAST_CHANGES = 200


@dataclass(frozen=True, slots=True)
class Reader:
    """A device that may still read, how far it has read, and when it was here last."""

    boat: str
    name: str
    cursor: int
    last_seen_ms: int


class ReadingMarks:
    """Of all devices and boats, in the log of one epoch."""

    def __init__(self, session: Session, epoch: str) -> None:
        self._session = session
        self._epoch = epoch

    def of(self, device: str, boat: str) -> tuple[int, int]:
        """The cursor to which ``device`` has read and when that was noted; zeros if never."""
        query = select(_mark.c.cursor, _mark.c.noted_ms).where(
            _mark.c.device == device, _mark.c.boat == boat, _mark.c.epoch == self._epoch
        )
        row = self._session.execute(query).first()
        return (row.cursor, row.noted_ms) if row else (0, 0)

    def note(self, device: str, boat: str, cursor: int, now_ms: int) -> None:
        """``device`` has all changes up to ``cursor``."""
        row = {"device": device, "boat": boat, "epoch": self._epoch, "cursor": cursor}
        insert_or_replace(self._session, _mark, [{**row, "noted_ms": now_ms}])

    def readers(self, but: str) -> list[Reader]:
        """Devices other than ``but`` that are not shut out, those that have read most first."""
        query = (
            select(_mark.c.boat, _device.c.name, _mark.c.cursor, _device.c.last_seen_ms)
            .join(_device, _device.c.key == _mark.c.device)
            .where(
                _mark.c.epoch == self._epoch, _mark.c.device != but, _device.c.revoked_ms.is_(None)
            )
            .order_by(_mark.c.cursor.desc(), _device.c.last_seen_ms.desc())
        )
        return [Reader(*row) for row in self._session.execute(query)]

    def last_changes(self, device: str) -> dict[str, int]:
        """By boat: the cursor of the last change that ``device`` made."""
        last = (
            select(_log.c.boat, _log.c.cursor)
            .where(_log.c.device == device)
            .order_by(_log.c.seq.desc())
            .limit(LAST_CHANGES)
            .subquery()
        )
        query = select(last.c.boat, func.max(last.c.cursor)).group_by(last.c.boat)
        return {row[0]: row[1] for row in self._session.execute(query)}
