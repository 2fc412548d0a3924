"""Which server this is, and the numbers of its tags."""

from __future__ import annotations

import secrets
import uuid
from dataclasses import dataclass

from sqlalchemy import insert, select, update
from sqlalchemy.orm import Session

from shedtally.domain.errors import TagsUsedUp
from shedtally.domain.records import tag
from shedtally.storage import tables
from shedtally.storage.database import Turn, one_at_a_time

_server = tables.server
_block = tables.tag_block

# The first number is random, so that tags of two sheds rarely meet; at least 32**4, so that no
# code starts with a zero; in the lower half, so that many are left.
LOWEST_FIRST = len(tag.ALPHABET) ** (tag.DIGITS - 1)
HIGHEST_FIRST = tag.NUMBERS // 2


@dataclass(frozen=True, slots=True)
class Identity:
    """``id`` never changes; ``epoch`` does when the data was brought back from a backup."""

    id: str
    epoch: str


class Server:
    """The server's own row; `make` it once before the first use."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def make(self) -> None:
        """Give the server its identity, unless it has one."""
        one_at_a_time(self._session, Turn.IDENTITY)
        if self._session.execute(select(_server.c.id)).first() is None:
            first = LOWEST_FIRST + secrets.randbelow(HIGHEST_FIRST - LOWEST_FIRST)
            row = {"id": str(uuid.uuid4()), "epoch": str(uuid.uuid4()), "next_tag": first}
            self._session.execute(insert(_server).values(row))

    def identity(self) -> Identity:
        """Who this server is."""
        row = self._session.execute(select(_server.c.id, _server.c.epoch)).one()
        return Identity(row.id, row.epoch)

    def start_epoch(self) -> None:
        """A new log: phones send again what they still hold."""
        self._session.execute(update(_server).values(epoch=str(uuid.uuid4())))

    def reserve(self, boat: str, count: int, device: str, now_ms: int) -> tuple[str, list[str]]:
        """Give out the next ``count`` codes: the key of their block, and the codes in order.

        Raises: TagsUsedUp, and then none is given out.
        """
        # The UPDATE takes the row's lock, so that no number is given out twice.
        locked = update(_server).values(next_tag=_server.c.next_tag).returning(_server.c.next_tag)
        first = self._session.execute(locked).scalar_one()
        numbers = _issuable_from(first, count)
        self._session.execute(update(_server).values(next_tag=numbers[-1] + 1))
        block = str(uuid.uuid4())
        row = {
            "id": block,
            "boat": boat,
            "first": numbers[0],
            "count": count,
            "made_ms": now_ms,
            "device": device,
        }
        self._session.execute(insert(_block).values(row))
        return block, [tag.encode(number) for number in numbers]

    def codes_of(self, boat: str, block: str) -> list[str] | None:
        """The codes of a block that was given out for ``boat``; None if there is no such block."""
        query = select(_block).where(_block.c.id == block, _block.c.boat == boat)
        row = self._session.execute(query).mappings().first()
        if row is None:
            return None
        return [tag.encode(number) for number in _issuable_from(row["first"], row["count"])]


def _issuable_from(first: int, count: int) -> list[int]:
    numbers: list[int] = []
    number = first
    while len(numbers) < count:
        if number >= tag.NUMBERS:
            raise TagsUsedUp
        if tag.is_issuable(number):
            numbers.append(number)
        number += 1
    return numbers
