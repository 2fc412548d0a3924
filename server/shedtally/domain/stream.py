"""Lines of waste put into their streams, with the mass of each stream on site and gone."""

from __future__ import annotations

import datetime
import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.box import Box
from shedtally.domain.lists import Spread, WasteItem, WasteStream
from shedtally.domain.rulebook import Entry, Rules
from shedtally.domain.spread import total


@dataclass(frozen=True, slots=True)
class Row:
    """One line with the stream and code it falls under; ``box`` is a container's key or ''."""

    line: WasteItem
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
    weighed = _weighed_boxes(rows, boxes)
    made = [_stream(group, rules, weighed, boxes) for group in groups.values()]
    return tuple(sorted(made, key=lambda row: (not row.hazardous, place[row.id], row.code)))


def weighed_share(rows: Sequence[Row], boxes: Mapping[str, Box]) -> float:
    """The share of the likely mass that somebody put on a scale, 0 to 1; 0 for no waste."""
    masses = _masses(rows, _weighed_boxes(rows, boxes))
    whole = math.fsum(mass.likely for mass in masses)
    scale = math.fsum(mass.likely for mass in masses if mass.basis == "weighed")
    return scale / whole if whole else 0.0


def _weighed_boxes(rows: Sequence[Row], boxes: Mapping[str, Box]) -> dict[str, Spread]:
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
            found[key] = box.net
    return found


def _masses(rows: Iterable[Row], weighed: Mapping[str, Spread]) -> list[Spread]:
    """The masses to add up: a weighed container once, everything else line by line."""
    loose = [row.line.mass for row in rows if row.box not in weighed]
    used = {row.box: weighed[row.box] for row in rows if row.box in weighed}
    return [*loose, *used.values()]


def _stream(
    rows: Sequence[Row], rules: Rules, weighed: Mapping[str, Spread], boxes: Mapping[str, Box]
) -> WasteStream:
    first = rows[0]
    stream, entry = rules.streams[first.stream], first.entry
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
        on_site=total(_masses([row for row in rows if not row.line.gone], weighed)),
        gone=total(_masses([row for row in rows if row.line.gone], weighed)),
        items=tuple(lines),
        containers=tuple(
            boxes[key].listed for key in dict.fromkeys(row.box for row in rows if row.box)
        ),
    )


def _why(rows: Sequence[Row]) -> str:
    """Why this code, with the doubt about its date where one of the lines falls into it."""
    entry = rows[0].entry
    doubtful = entry.doubt_from is not None and any(row.day >= entry.doubt_from for row in rows)
    return f"{entry.why} {entry.doubt}" if doubtful else entry.why
