"""Lines of waste put into their streams, with the mass of each stream on site and gone."""

from __future__ import annotations

import datetime
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from shedtally.domain.lists import Spread, WasteItem, WasteStream
from shedtally.domain.masses.estimate import Estimate, sum_of, tally
from shedtally.domain.masses.item_mass import as_weighed
from shedtally.domain.rulebook import Entry, Rules
from shedtally.domain.waste.box import Box


class Row(NamedTuple):
    """One line with the stream and code it falls under; ``box`` is a container's key or ''."""

    line: WasteItem
    mass: Estimate
    stream: str
    entry: Entry
    day: datetime.date
    box: str


def streams_of(
    rows: Sequence[Row], rules: Rules, boxes: Mapping[str, Box]
) -> tuple[WasteStream, ...]:
    """Streams with hazardous ones first, then in the order of streams.toml.

    A stream whose code changed between two handovers stands there once for each code.
    """
    groups: defaultdict[tuple[str, str], list[Row]] = defaultdict(list)
    for row in rows:
        groups[row.stream, row.entry.code].append(row)
    place = {stream: n for n, stream in enumerate(rules.streams)}
    weighed = _weighed_boxes(rows, boxes, rules)
    made = [_stream(group, rules, weighed, boxes) for group in groups.values()]
    return tuple(sorted(made, key=lambda row: (not row.hazardous, place[row.id], row.code)))


def sums_of(
    rows: Sequence[Row], rules: Rules, boxes: Mapping[str, Box]
) -> tuple[Spread, Spread, float]:
    """The mass on site, the mass gone, and the share of both that somebody put on a scale."""
    weighed = _weighed_boxes(rows, boxes, rules)
    here, gone = _split(rows)
    share = tally(_masses(rows, weighed)).weighed_share()
    return sum_of(_masses(here, weighed)), sum_of(_masses(gone, weighed)), share


def _weighed_boxes(
    rows: Sequence[Row], boxes: Mapping[str, Box], rules: Rules
) -> dict[str, Estimate]:
    """The weighed content of containers that hold one stream only.

    A scale knows better than any estimate of the parts, but it can't divide a mixture.
    """
    inside: defaultdict[str, set[tuple[str, str, bool]]] = defaultdict(set)
    for row in rows:
        inside[row.box].add((row.stream, row.entry.code, row.line.gone))
    found = {}
    for key, held in inside.items():
        box = boxes.get(key)
        if box is not None and box.net is not None and len(held) == 1:
            found[key] = as_weighed(box.net.likely, rules)
    return found


def _masses(rows: Iterable[Row], weighed: Mapping[str, Estimate]) -> list[Estimate]:
    """The masses to add up: a weighed container once, everything else line by line."""
    loose = [row.mass for row in rows if row.box not in weighed]
    used = {row.box: weighed[row.box] for row in rows if row.box in weighed}
    return [*loose, *used.values()]


def _split(rows: Iterable[Row]) -> tuple[list[Row], list[Row]]:
    here: list[Row] = []
    gone: list[Row] = []
    for row in rows:
        (gone if row.line.gone else here).append(row)
    return here, gone


def _stream(
    rows: Sequence[Row], rules: Rules, weighed: Mapping[str, Estimate], boxes: Mapping[str, Box]
) -> WasteStream:
    first = rows[0]
    stream, entry = rules.streams[first.stream], first.entry
    here, gone = _split(rows)
    sources = dict.fromkeys((*entry.sources, *stream.sources))
    lines = sorted((row.line for row in rows), key=lambda line: (line.gone, line.name, line.key))
    return WasteStream(
        id=stream.id,
        name=stream.name,
        code=entry.code,
        code_title=entry.title,
        hazardous=entry.hazardous,
        why=_why(rows),
        transport=stream.transport,
        keep_in=stream.keep_in,
        keep_apart=stream.keep_apart,
        cautions=stream.cautions,
        call=stream.call,
        sources=tuple(rules.sources[key].title for key in sources),
        from_memory=entry.from_memory or stream.from_memory,
        on_site=sum_of(_masses(here, weighed)),
        gone=sum_of(_masses(gone, weighed)),
        items=tuple(lines),
        containers=tuple(
            boxes[key].listed for key in dict.fromkeys(row.box for row in rows if row.box)
        ),
        basis=entry.basis.words(entry.section),
        measured=stream.measured,
    )


def _why(rows: Sequence[Row]) -> str:
    """Why this code, with the doubt about its date where one of the lines falls into it."""
    entry = rows[0].entry
    doubtful = entry.doubt_from is not None and any(row.day >= entry.doubt_from for row in rows)
    return f"{entry.why} {entry.doubt}" if doubtful else entry.why
