"""What every use case of one server works with; `app.py` puts it together once."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass, field

from shedtally.domain.rulebook import Rules
from shedtally.storage import unit_of_work
from shedtally.storage.photo_store import PhotoStore
from shedtally.storage.unit_of_work import UnitOfWork
from shedtally.usecases.read_lists import ListCache


@dataclass(frozen=True)
class Shed:
    """The server as the routes see it. ``now_ms`` is the clock, in milliseconds since 1970.

    ``rules_now`` is asked at each use: local rules may change while the server runs.
    """

    name: str
    address: str
    photos: PhotoStore
    rules_now: Callable[[], Rules]
    now_ms: Callable[[], int]
    lists: ListCache = field(default_factory=ListCache)

    @property
    def rules(self) -> Rules:
        """The rules as they stand now, local ones among them."""
        return self.rules_now()

    def writing(self) -> AbstractContextManager[UnitOfWork]:
        """One transaction that may write."""
        return unit_of_work.writing()

    def reading(self) -> AbstractContextManager[UnitOfWork]:
        """One transaction that reads."""
        return unit_of_work.reading()
