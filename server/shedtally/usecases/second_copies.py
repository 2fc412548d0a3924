"""Who else has what a phone sent: how far each device has read, and what that means for another."""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.storage.unit_of_work import UnitOfWork

# Every note is a flush of the disk, and nobody needs to know within seconds.
NOTE_EVERY_MS = 30_000


@dataclass(frozen=True, slots=True)
class SecondCopy:
    """The device that has read most of ``boat``, and whether it has every change of the asker."""

    boat: str
    name: str
    last_seen_ms: int
    whole: bool


def is_worth_noting(uow: UnitOfWork, device: str, boat: str, cursor: int, now_ms: int) -> bool:
    """Whether ``device`` has read on since that was noted, and the note is old enough.

    A device goes on reading where it has stored all before, so its cursor is what it has.
    """
    noted, at_ms = uow.reading_marks().of(device, boat)
    return cursor > noted and not 0 <= now_ms - at_ms < NOTE_EVERY_MS


def second_copies(uow: UnitOfWork, device: str) -> list[SecondCopy]:
    """For each boat that ``device`` wrote to and somebody else has read: the best other copy."""
    marks = uow.reading_marks()
    own = marks.last_changes(device)
    best: dict[str, SecondCopy] = {}
    for reader in marks.readers(but=device):
        if reader.boat in own and reader.boat not in best:
            whole = reader.cursor >= own[reader.boat]
            best[reader.boat] = SecondCopy(reader.boat, reader.name, reader.last_seen_ms, whole)
    return [best[boat] for boat in sorted(best)]
