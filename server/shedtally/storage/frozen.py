"""The frozen lists of a boat's handovers: added once, read, never changed or removed."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from shedtally.storage import tables
from shedtally.storage.upsert import insert_if_absent

_frozen = tables.frozen


@dataclass(frozen=True, slots=True)
class FrozenRow:
    """A list as it was kept: its text, the SHA-256 of it, when and by which change."""

    handover: str
    digest: str
    body: str
    stamp: str
    cursor: int
    frozen_ms: int


class FrozenLists:
    """The frozen lists of one boat."""

    def __init__(self, session: Session, boat: str) -> None:
        self._session = session
        self._boat = boat

    def known(self, handovers: Collection[str]) -> set[str]:
        """Which of these handovers are frozen already."""
        query = select(_frozen.c.handover).where(_frozen.c.boat == self._boat)
        return set(self._session.execute(query).scalars()) & set(handovers)

    def add(self, row: FrozenRow) -> None:
        """Keep a list; one that is there already stays as it is."""
        values = {
            "boat": self._boat,
            "handover": row.handover,
            "digest": row.digest,
            "body": row.body,
            "stamp": row.stamp,
            "cursor": row.cursor,
            "frozen_ms": row.frozen_ms,
        }
        insert_if_absent(self._session, _frozen, values)

    def all(self) -> list[FrozenRow]:
        """Every frozen list, in the order in which they were frozen."""
        query = (
            select(
                _frozen.c.handover,
                _frozen.c.digest,
                _frozen.c.body,
                _frozen.c.stamp,
                _frozen.c.cursor,
                _frozen.c.frozen_ms,
            )
            .where(_frozen.c.boat == self._boat)
            .order_by(_frozen.c.cursor, _frozen.c.handover)
        )
        return [FrozenRow(*row) for row in self._session.execute(query)]
