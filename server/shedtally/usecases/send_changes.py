"""Giving a phone what it hasn't seen, and anybody the history of a record."""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.domain.errors import CursorUnknown, NoSuchBoat
from shedtally.domain.sync.change import LoggedChange
from shedtally.storage.change_log import ChangeLog
from shedtally.storage.unit_of_work import UnitOfWork


@dataclass(frozen=True, slots=True)
class Mark:
    """How far a reader has read: the cursor, the id of the change there, the epoch it was in.

    A reader that leaves the last two out is told only of a log that is shorter than its cursor.
    """

    cursor: int
    last: str | None = None
    epoch: str | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """Changes in order; ask again from ``cursor`` while there is ``more``."""

    epoch: str
    cursor: int
    last: str | None
    more: bool
    changes: list[LoggedChange]


def send_changes(uow: UnitOfWork, boat: str, mark: Mark, limit: int) -> Page:
    """At most ``limit`` changes after ``mark``.

    Raises: NoSuchBoat; CursorUnknown if the reader has read another log than this one.
    """
    log = uow.log(boat)
    if not log.exists():
        raise NoSuchBoat(boat)
    epoch = uow.server.identity().epoch
    if mark.epoch not in (None, epoch) or not _is_of(log, mark):
        raise CursorUnknown
    found = log.since(mark.cursor, limit + 1)
    page = found[:limit]
    if not page:
        return Page(epoch, mark.cursor, log.id_at(mark.cursor), more=False, changes=[])
    end = page[-1]
    return Page(epoch, end.cursor, end.change.id, len(found) > limit, page)


def _is_of(log: ChangeLog, mark: Mark) -> bool:
    if mark.cursor > log.cursor():
        return False
    return mark.last is None or log.id_at(mark.cursor) == mark.last


@dataclass(frozen=True, slots=True)
class History:
    """Changes of one record, and the names of the devices that made them, by device."""

    more: bool
    devices: dict[str, str]
    changes: list[LoggedChange]


def history(uow: UnitOfWork, boat: str, table: str, key: str, *, since: int, limit: int) -> History:
    """At most ``limit`` changes of one record after ``since``, in the order of their arrival.

    Raises: NoSuchBoat.
    """
    log = uow.log(boat)
    if not log.exists():
        raise NoSuchBoat(boat)
    found = log.of_record(table, key, since, limit + 1)
    page = found[:limit]
    names = uow.devices.names({entry.change.device for entry in page})
    return History(len(found) > limit, names, page)
