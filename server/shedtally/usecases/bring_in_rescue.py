"""Taking in a rescue file: what one phone wrote and photographed, brought by somebody who may.

Everything goes the way of an ordinary push, as the work of the phone that made it, also of one
that is shut out: an owner vouches for it. It holds also what the phone had sent, because this
server may have lost that with its disk; what is here already does no harm. Bringing the same file
in again changes nothing. A damaged file lands what is whole of it and names the rest.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeAlias

from shedtally.domain.errors import (
    NoSuchBoat,
    PhotoRefused,
    RescueOfOtherServer,
    RescueUnreadable,
)
from shedtally.domain.rulebook import Rules
from shedtally.storage import archive
from shedtally.storage.archive import Archive, Entry, EntryDamaged, NoArchive
from shedtally.storage.photo_store import PhotoStore
from shedtally.storage.unit_of_work import UnitOfWork
from shedtally.usecases.keep_photo import keep_photo
from shedtally.usecases.receive_changes import MAX_BATCH, SCHEMA, Result, receive_changes

FORMAT = 1
UNSENT = "unsent.json"
PHOTOS = "photos/"
MAX_UNSENT_BYTES = 100_000_000
MAX_FILE_BYTES = 4_000_000_000
MAX_NAMED = 100

_PHOTO = re.compile(PHOTOS + "[0-9a-f]{64}")
_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")

Work: TypeAlias = Callable[[], AbstractContextManager[UnitOfWork]]


@dataclass
class RescueReport:
    """What became of the file. ``damaged`` names what could not be read; empty when all could.

    ``accepted`` and ``photos_kept`` are new here; ``repeated`` and ``photos_known`` were here.
    """

    accepted: int = 0
    repeated: int = 0
    rejected: list[Result] = field(default_factory=list)
    photos_kept: int = 0
    photos_known: int = 0
    photos_refused: list[tuple[str, PhotoRefused]] = field(default_factory=list)
    damaged: list[str] = field(default_factory=list)

    def add(self, results: list[Result]) -> None:
        """Count what became of some changes."""
        self.accepted += sum(one.outcome == "accepted" for one in results)
        self.repeated += sum(one.outcome == "repeated" for one in results)
        self.rejected += [one for one in results if one.outcome == "rejected"]


@dataclass(frozen=True)
class RescueDesk:
    """What bringing in works with. ``brought_by``: the device that an owner uses for it."""

    reading: Work
    writing: Work
    photos: PhotoStore
    brought_by: str | None
    now_ms: int
    rules: Rules


def bring_in(desk: RescueDesk, file: Path, *, from_other_server: bool) -> RescueReport:
    """Take in all that is whole in ``file``.

    Raises: RescueUnreadable if nothing in it is; RescueOfOtherServer unless that is intended; both
    before anything is kept. DiskFull, and then what was taken in before stays.
    """
    try:
        with archive.opened(file) as found:
            return _bring_in(desk, found, from_other_server=from_other_server)
    except NoArchive as error:
        raise RescueUnreadable from error


def _bring_in(desk: RescueDesk, found: Archive, *, from_other_server: bool) -> RescueReport:
    report = RescueReport()
    if not found.whole:
        report.damaged.append("The file is cut off; what came after the cut is missing.")
    entries = {entry.name: entry for entry in found.entries}
    unsent = _unsent(entries.get(UNSENT), report)
    photos = {
        name.removeprefix(PHOTOS): entry
        for name, entry in entries.items()
        if _PHOTO.fullmatch(name)
    }
    if unsent is None and not photos:
        raise RescueUnreadable
    if unsent is not None:
        _check_server(desk, unsent, from_other_server=from_other_server)
    _name_strangers(entries, report)
    device = _device(unsent, desk)
    if unsent is not None:
        _changes(desk, unsent, device, report)
        _name_missing(unsent, photos, report)
    for sha256, entry in photos.items():
        _photo(desk, sha256, entry, device, report)
    return report


def _unsent(entry: Entry | None, report: RescueReport) -> Mapping[str, Any] | None:
    """The list of changes, None with a reason in the report if it can't be read."""
    if entry is None:
        report.damaged.append(f"{UNSENT} is missing; no changes could be read, only photographs.")
        return None
    if entry.size > MAX_UNSENT_BYTES:
        report.damaged.append(f"{UNSENT} is larger than any phone makes it; it was left alone.")
        return None
    try:
        found = json.loads(b"".join(entry.chunks()))
    except (EntryDamaged, ValueError, RecursionError):
        report.damaged.append(f"{UNSENT} is damaged; no changes could be read, only photographs.")
        return None
    if not isinstance(found, dict) or not isinstance(found.get("changes"), list):
        report.damaged.append(f"{UNSENT} is no list of changes; only photographs were read.")
        return None
    if found.get("format") != FORMAT:
        raise RescueUnreadable
    return found


def _check_server(desk: RescueDesk, unsent: Mapping[str, Any], *, from_other_server: bool) -> None:
    made_for = unsent.get("server")
    with desk.reading() as uow:
        ours = uow.server.identity().id
    if made_for not in (None, ours) and not from_other_server:
        raise RescueOfOtherServer


def _device(unsent: Mapping[str, Any] | None, desk: RescueDesk) -> str:
    """Who is noted as the sender of photographs: the phone, or who brings its file."""
    named = (unsent or {}).get("device")
    if isinstance(named, str) and _UUID.fullmatch(named):
        return named
    return desk.brought_by or "00000000-0000-0000-0000-000000000000"


def _changes(
    desk: RescueDesk, unsent: Mapping[str, Any], device: str, report: RescueReport
) -> None:
    by_boat: dict[str, list[object]] = {}
    for change in unsent["changes"]:
        boat = change.get("boat") if isinstance(change, dict) else None
        if isinstance(boat, str) and _UUID.fullmatch(boat):
            by_boat.setdefault(boat, []).append(change)
        else:
            why = "must be the key of a boat"
            report.rejected.append(Result(_id(change), "rejected", field="boat", detail=why))
    if _is_of_other_log(desk, unsent):
        by_boat = {boat: [_based_on_nothing(one) for one in all_] for boat, all_ in by_boat.items()}
    for boat, changes in by_boat.items():
        for start in range(0, len(changes), MAX_BATCH):
            report.add(_batch(desk, boat, changes[start : start + MAX_BATCH], device))


def _is_of_other_log(desk: RescueDesk, unsent: Mapping[str, Any]) -> bool:
    """True if the file was made before its phone heard of the epoch that this server is in."""
    with desk.reading() as uow:
        ours = uow.server.identity().epoch
    return unsent.get("epoch") not in (None, ours)


def _based_on_nothing(change: object) -> object:
    """A base counts in a log that is lost; better a clash too many than an overwriting unseen."""
    return {**change, "base": 0} if isinstance(change, dict) else change


def _batch(desk: RescueDesk, boat: str, changes: list[object], device: str) -> list[Result]:
    sent_by = desk.brought_by or device
    try:
        with desk.writing() as uow:
            received = receive_changes(
                uow,
                boat,
                changes,
                sent_by=sent_by,
                schema=SCHEMA,
                now_ms=desk.now_ms,
                rules=desk.rules,
            )
    except NoSuchBoat:
        why = "its boat is not on this server, and the file does not bring it"
        return [Result(_id(change), "rejected", field="boat", detail=why) for change in changes]
    return received.results


def _id(change: object) -> str | None:
    found = change.get("id") if isinstance(change, dict) else None
    return found if isinstance(found, str) and _UUID.fullmatch(found) else None


def _photo(desk: RescueDesk, sha256: str, entry: Entry, device: str, report: RescueReport) -> None:
    try:
        _, new = keep_photo(
            desk.reading,
            desk.writing,
            desk.photos,
            sha256,
            declared=entry.size,
            chunks=entry.chunks(),
            device=device,
            now_ms=desk.now_ms,
        )
    except EntryDamaged:
        report.damaged.append(f"photograph {sha256} is damaged; it was not kept.")
    except PhotoRefused as refused:
        report.photos_refused.append((sha256, refused))
    else:
        report.photos_kept += new
        report.photos_known += not new


def _name_missing(
    unsent: Mapping[str, Any], photos: Mapping[str, Entry], report: RescueReport
) -> None:
    listed = unsent.get("photos")
    rows = listed if isinstance(listed, list) else []
    named = [row.get("sha256") for row in rows if isinstance(row, dict)]
    missing = [name for name in named if isinstance(name, str) and name not in photos]
    report.damaged += [
        f"photograph {name[:64]} is not in the file." for name in missing[:MAX_NAMED]
    ]


def _name_strangers(entries: Mapping[str, Entry], report: RescueReport) -> None:
    """Name entries that a phone never writes; they are not looked into."""
    strangers = [name for name in entries if not _is_ours(name)]
    report.damaged += [
        f"{name[:80]!a} is nothing that a phone puts in; it was left alone."
        for name in strangers[:MAX_NAMED]
    ]


def _is_ours(name: str) -> bool:
    return name in (UNSENT, PHOTOS) or _PHOTO.fullmatch(name) is not None
