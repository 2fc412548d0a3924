"""Working the lists out from the records, at most once for each state of a boat."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar, cast

from shedtally.domain.boat import BoatRecords
from shedtally.domain.errors import NoSuchBoat
from shedtally.storage.unit_of_work import UnitOfWork

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class AsOf(Generic[T]):
    """A list, its place in the cache, and the cursor of the last change that it contains."""

    key: tuple[object, ...]
    list: T
    cursor: int
    boat_name: str


class ListCache:
    """The records read last and the lists made last; all for one process, safe for its threads.

    What a key holds can't grow stale, since the boat's cursor is part of it.
    """

    def __init__(self, boats: int = 2, lists: int = 32) -> None:
        self._lock = threading.Lock()
        self._boats: OrderedDict[object, object] = OrderedDict()
        self._lists: OrderedDict[object, object] = OrderedDict()
        self._most = {id(self._boats): boats, id(self._lists): lists}

    def records(self, key: object, read: Callable[[], BoatRecords]) -> BoatRecords:
        """The records under ``key``, read if need be."""
        return self._get(self._boats, key, read)

    def list(self, key: object, make: Callable[[], T]) -> T:
        """The list under ``key``, made if need be."""
        return self._get(self._lists, key, make)

    def _get(self, kept: OrderedDict[object, object], key: object, make: Callable[[], T]) -> T:
        with self._lock:
            if key in kept:
                kept.move_to_end(key)
                return cast("T", kept[key])
        value = make()
        with self._lock:
            kept[key] = value
            while len(kept) > self._most[id(kept)]:
                kept.popitem(last=False)
        return value


@dataclass(frozen=True, slots=True)
class BoatAsOf:
    """All records of a boat, and the cursor of the last change in them."""

    boat: str
    cursor: int
    records: BoatRecords


def read_boat(uow: UnitOfWork, cache: ListCache, boat: str) -> BoatAsOf:
    """All records of a boat.

    Raises: NoSuchBoat.
    """
    log = uow.log(boat)
    if not log.exists():
        raise NoSuchBoat(boat)
    cursor = log.cursor()
    return BoatAsOf(boat, cursor, cache.records((boat, cursor), uow.records(boat).read_boat))


def make_list(
    cache: ListCache,
    of: BoatAsOf,
    name: str,
    asked: tuple[object, ...],
    make: Callable[[BoatRecords], T],
) -> AsOf[T]:
    """The list ``name`` of a boat; to be called when no transaction is open, for it may take long.

    Args: asked: everything besides the records that decides what ``make`` makes.
    Raises: what ``make`` raises.
    """
    key = (of.boat, of.cursor, name, *asked)
    made = cache.list(key, lambda: make(of.records))
    return AsOf(key, made, of.cursor, of.records.boat.name or "unnamed boat")
