"""The part of a waste list that one handover took along, with its own sums."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import replace

from shedtally.domain.lists import Basis, Spread, WasteItem, WasteList, WasteStream
from shedtally.domain.masses.spread import NOTHING


def part_of(
    waste: WasteList, boxes: Collection[str], loose: Collection[str] = frozenset()
) -> WasteList:
    """The list with only what lies in the containers of ``boxes``, as if they had gone.

    ``loose`` are items that went along outside of those containers, by their keys.

    A container that holds one stream only, and was weighed, counts with what the scale said;
    everything else line by line, as in the whole list. Low and high are added up plainly: what
    went over one scale on one day is wrong the same way, so the sides don't even out.
    """
    holds = Counter(box.key for stream in waste.streams for box in stream.containers)
    alone = {key for key, count in holds.items() if count == 1}
    streams = tuple(
        part for stream in waste.streams if (part := _part(stream, boxes, alone, loose)) is not None
    )
    kept = {item.key for stream in streams for item in stream.items}
    return replace(
        waste,
        streams=streams,
        questions=tuple(row for row in waste.questions if row.item in kept),
        on_site=NOTHING,
        gone=_plain_sum(stream.gone for stream in streams),
        mixed=tuple(ban for ban in waste.mixed if ban.box in boxes),
    )


def _part(
    stream: WasteStream, boxes: Collection[str], alone: Collection[str], singly: Collection[str]
) -> WasteStream | None:
    items = tuple(
        replace(item, gone=True) for item in stream.items if item.box in boxes or item.key in singly
    )
    if not items:
        return None
    held = tuple(replace(box, gone=True) for box in stream.containers if box.key in boxes)
    weighed = {box.key: box.net for box in held if box.net is not None and box.key in alone}
    loose: list[WasteItem] = [item for item in items if item.box not in weighed]
    gone = _plain_sum([*(item.mass for item in loose), *weighed.values()])
    return replace(stream, items=items, containers=held, on_site=NOTHING, gone=gone)


def _plain_sum(masses: Iterable[Spread]) -> Spread:
    rows = list(masses)
    bases = {row.basis for row in rows}
    basis: Basis = bases.pop() if len(bases) == 1 else "mixed"
    if not rows:
        return NOTHING
    return Spread(
        math.fsum(row.low for row in rows),
        math.fsum(row.likely for row in rows),
        math.fsum(row.high for row in rows),
        basis,
    )
