"""Handovers as phones and paper show them: frozen as they left, with what was written since."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.aboard.named import name_of
from shedtally.domain.lists import Ban, WasteList
from shedtally.domain.records import Correction, Handover
from shedtally.domain.waste.box_faults import faults_of_handover
from shedtally.domain.waste.by_stream import Case
from shedtally.domain.waste.container_lists import (
    CorrectionLine,
    Fault,
    FrozenList,
    HandoverList,
    HandoverView,
)
from shedtally.domain.waste.freeze import went_with
from shedtally.domain.waste.mixed import Asked, bans_in, inside_of
from shedtally.domain.waste.stream import Row

ADDED = "It was added to this handover after the list was frozen, so it is not on it."


@dataclass(frozen=True, slots=True)
class _Books:
    """What every handover is looked up in, made once for all of them."""

    case: Case
    waste: WasteList
    frozen: Mapping[str, FrozenList]
    inside: Mapping[str, list[Row]]
    asked: Asked


def handover_list(
    case: Case, rows: Sequence[Row], waste: WasteList, frozen: Mapping[str, FrozenList]
) -> HandoverList:
    """Every handover, the latest first.

    Args: waste: the whole list as it stands; frozen: lists by handover.
    """
    books = _Books(case, waste, frozen, inside_of(rows), Asked(case.rules, case.law.law))
    found = [_view(books, record) for record in case.boat.handovers.values()]
    return HandoverList(tuple(sorted(found, key=lambda one: (one.on, one.key), reverse=True)))


def _view(books: _Books, record: Handover) -> HandoverView:
    case, kept = books.case, books.frozen.get(record.key)
    return HandoverView(
        key=record.key,
        on=(record.on or "")[:10],
        to=record.to or "",
        carrier=record.carrier or "",
        document=record.document or "",
        note=record.note or "",
        sealed=record.sealed_at is not None,
        frozen=kept,
        waste=None if kept else went_with(case.boat, books.waste, record.key),
        corrections=tuple(_corrections(case, record.key)),
        bans=tuple(_bans(books, record.key)),
        faults=(*faults_of_handover(case.boat, record), *_added(case, record.key, kept)),
    )


def _corrections(case: Case, handover: str) -> Iterator[CorrectionLine]:
    rows = case.boat.corrections_of.get(handover, ())
    for row in sorted(rows, key=lambda row: (row.on or "", row.key)):
        yield CorrectionLine(
            row.key,
            row.on or "",
            row.who or "",
            row.text or "",
            _named(case, row),
            row.mass_kg,
        )


def _named(case: Case, row: Correction) -> str:
    table, _, key = (row.item or "").partition("/")
    if table == "container" and key in case.boxes:
        return case.boxes[key].name
    item = case.boat.items.get(key)
    return name_of(item, case.rules.kinds.get(item.kind or "")) if item else ""


def _bans(books: _Books, handover: str) -> Iterator[Ban]:
    for row in books.case.boat.went_in.get(handover, ()):
        lines = books.inside.get(row.key, ())
        yield from bans_in(books.case.boat, books.asked, books.case.boxes[row.key], lines)


def _added(case: Case, handover: str, kept: FrozenList | None) -> Iterator[Fault]:
    """Containers and loose items that name a handover whose frozen list lacks them."""
    if kept is None:
        return
    do = "Take it off again, or make a handover of its own for it."
    on_list = {box.key for stream in kept.waste.streams for box in stream.containers}
    lines = {item.key for stream in kept.waste.streams for item in stream.items}
    known = on_list | lines
    for box in case.boat.went_in.get(handover, ()):
        # An empty container without a stream is no waste: it stands on no list.
        if box.key not in known and box.stream:
            yield Fault(f"container/{box.key}", box.name or "Container", ADDED, do)
    for item in case.boat.went_loose.get(handover, ()):
        if item.key not in lines:
            name = name_of(item, case.rules.kinds.get(item.kind or ""))
            yield Fault(f"item/{item.key}", name, ADDED, do)
