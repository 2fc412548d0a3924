"""Giving out tag codes in blocks, so that a phone has some while it is offline."""

from __future__ import annotations

from shedtally.domain.errors import NoSuchBoat, NoSuchTagBlock
from shedtally.storage.unit_of_work import UnitOfWork

MAX_BLOCK = 500


def reserve_tags(
    uow: UnitOfWork, boat: str, count: int, device: str, now_ms: int
) -> tuple[str, list[str]]:
    """Reserve ``count`` codes (1 to 500) for ``boat``: the block's key and its codes.

    Raises: NoSuchBoat, TagsUsedUp.
    """
    if not uow.log(boat).exists():
        raise NoSuchBoat(boat)
    return uow.server.reserve(boat, count, device, now_ms)


def codes_of_block(uow: UnitOfWork, boat: str, block: str) -> list[str]:
    """The codes of a block in order.

    Raises: NoSuchTagBlock.
    """
    codes = uow.server.codes_of(boat, block)
    if codes is None:
        raise NoSuchTagBlock(block)
    return codes
