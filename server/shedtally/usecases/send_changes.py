"""Giving a phone what it hasn't seen, and anybody the history of a record."""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.domain.change import LoggedChange
from shedtally.domain.errors import NoSuchBoat
from shedtally.storage.unit_of_work import UnitOfWork


@dataclass(frozen=True, slots=True)
class Page:
    """Changes in order; ask again from ``cursor`` while there is ``more``."""

    cursor: int
    more: bool
    changes: list[LoggedChange]


def send_changes(uow: UnitOfWork, boat: str, since: int, limit: int) -> Page:
    """At most ``limit`` changes after the cursor ``since``.

    Raises: NoSuchBoat.
    """
    log = uow.log(boat)
    if not log.exists():
        raise NoSuchBoat(boat)
    found = log.since(since, limit + 1)
    page = found[:limit]
    return Page(page[-1].cursor if page else since, len(found) > limit, page)


def history(uow: UnitOfWork, boat: str, table: str, key: str) -> list[LoggedChange]:
    """Every change of one record, in the order in which they arrived.

    Raises: NoSuchBoat.
    """
    log = uow.log(boat)
    if not log.exists():
        raise NoSuchBoat(boat)
    return log.of_record(table, key)
