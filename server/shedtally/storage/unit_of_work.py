"""One transaction, and the stores that share it.

A unit of work is made for one request and one thread. It ends with a commit, after which (and not
before) what it wrote may be acknowledged, or with a rollback when anything was raised.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Engine
from sqlalchemy.orm import Session

from shedtally.storage.change_log import ChangeLog, gaps, highest_seq
from shedtally.storage.clashes import Clashes
from shedtally.storage.database import READING
from shedtally.storage.devices import Devices, PairingCodes
from shedtally.storage.frozen import FrozenLists
from shedtally.storage.identity import Server
from shedtally.storage.photo_rows import PhotoRows
from shedtally.storage.reading_marks import ReadingMarks
from shedtally.storage.record_store import RecordStore, boats
from shedtally.storage.tables import db


class UnitOfWork:
    """The stores, on one session."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self.devices = Devices(session)
        self.pairing_codes = PairingCodes(session)
        self.server = Server(session)
        self.photos = PhotoRows(session)

    def log(self, boat: str) -> ChangeLog:
        """The change log of ``boat``."""
        return ChangeLog(self._session, boat)

    def records(self, boat: str) -> RecordStore:
        """The records of ``boat``."""
        return RecordStore(self._session, boat)

    def clashes(self, boat: str) -> Clashes:
        """The clashes of ``boat``."""
        return Clashes(self._session, boat)

    def frozen(self, boat: str) -> FrozenLists:
        """The frozen lists of the handovers of ``boat``."""
        return FrozenLists(self._session, boat)

    def reading_marks(self) -> ReadingMarks:
        """How far each device has read the logs of this epoch."""
        return ReadingMarks(self._session, self.server.identity().epoch)

    def seqs_of(self, device: str, most: int) -> tuple[int, list[tuple[int, int]]]:
        """The highest running number that arrived from a device, and its first gaps."""
        return highest_seq(self._session, device), gaps(self._session, device, most)

    def boats(self) -> list[tuple[str, str]]:
        """Key and name of every boat, in order of name."""
        return boats(self._session)


@contextmanager
def writing() -> Iterator[UnitOfWork]:
    """A unit of work that may write; waits for other writers first. Needs an app context."""
    session = db.session()
    try:
        yield UnitOfWork(session)
        session.commit()
    finally:
        session.close()


@contextmanager
def reading() -> Iterator[UnitOfWork]:
    """A unit of work that sees one state throughout and makes no writer wait."""
    session = db.session()
    try:
        session.connection(execution_options=_snapshot(db.engine))
        yield UnitOfWork(session)
    finally:
        session.close()


def _snapshot(engine: Engine) -> dict[str, object]:
    """SQLite reads one state from BEGIN on; others must be asked to."""
    if engine.dialect.name == "sqlite":
        return {READING: True}
    return {"isolation_level": "REPEATABLE READ"}
