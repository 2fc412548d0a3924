"""Giving a new device the records as they are, without the way that led to them.

A snapshot is read page by page in order of table and key. Other devices may write meanwhile: a
record is sent as it is when its page is read, and all that was written after the first page comes
again by an ordinary pull from that page's cursor. Merging takes no harm from meeting a change
twice, so together they make what a pull from the beginning makes.
"""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.domain.errors import NoSuchBoat
from shedtally.storage.record_store import Name, StoredRecord
from shedtally.storage.unit_of_work import UnitOfWork

MAX_PAGE = 10_000


@dataclass(frozen=True, slots=True)
class SnapshotPage:
    """Records in order of name; while there is ``more``, ask again after the last one.

    ``cursor`` is the boat's while this page was read, and ``last`` the id of the change there.
    """

    epoch: str
    cursor: int
    last: str | None
    more: bool
    records: list[StoredRecord]


def send_snapshot(uow: UnitOfWork, boat: str, after: Name | None, limit: int) -> SnapshotPage:
    """At most ``limit`` records whose names come after ``after``.

    Raises: NoSuchBoat.
    """
    log = uow.log(boat)
    if not log.exists():
        raise NoSuchBoat(boat)
    cursor = log.cursor()
    found = uow.records(boat).stored(after, limit + 1)
    page = found[:limit]
    return SnapshotPage(
        uow.server.identity().epoch, cursor, log.id_at(cursor), len(found) > limit, page
    )
