"""What lies in a container where the rules forbid it, and who said that it does all the same."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence

from shedtally.domain.apart import may_share
from shedtally.domain.boat import BoatRecords
from shedtally.domain.box import Box
from shedtally.domain.lawbook import Apart
from shedtally.domain.lists import Ban
from shedtally.domain.rulebook import Rules
from shedtally.domain.stream import Row


def all_bans(
    boat: BoatRecords, rules: Rules, boxes: Mapping[str, Box], rows: Sequence[Row]
) -> tuple[Ban, ...]:
    """The bans of every container, in the order of ``boxes``.

    Args: rules: those of the rule set, with its local ones (`Rules.under`); rows: all lines.
    """
    inside = inside_of(rows)
    return tuple(
        ban
        for key, box in boxes.items()
        if key in inside
        for ban in bans_in(boat, rules, box, inside[key])
    )


def inside_of(rows: Sequence[Row]) -> Mapping[str, list[Row]]:
    """The lines in each container, by its key."""
    found: defaultdict[str, list[Row]] = defaultdict(list)
    for row in rows:
        if row.box:
            found[row.box].append(row)
    return found


def bans_in(boat: BoatRecords, rules: Rules, box: Box, rows: Sequence[Row]) -> Iterator[Ban]:
    """What may not lie in a container beside its stream, or beside something else in it.

    What the container is for is in its place: told is what joined it. A ban that somebody overrode
    is still told, with who and why.
    """
    lines = [row for row in rows if row.line.key != box.key]
    held = Counter(row.stream for row in lines)
    own = [box.stream] if box.stream in rules.streams else []
    beside = [*own, *(stream for stream in held if stream not in own)]
    found = {
        stream: _first_ban(rules, stream, [stream] if stream in own else beside, held)
        for stream in held
    }
    for row in lines:
        ban = found[row.stream]
        if ban is not None:
            yield _ban(boat, rules, box, row, ban)


def _first_ban(
    rules: Rules, stream: str, others: Sequence[str], held: Mapping[str, int]
) -> tuple[Apart, str] | None:
    """The ban on a stream and the stream that it is about; one that nothing lifts comes first."""
    found = [
        (ban, other)
        for other in others
        # A thing is no neighbour of itself: two pieces of one stream are needed.
        if (other != stream or held[stream] > 1)
        and (ban := may_share(rules, stream, other, "container")) is not None
    ]
    return min(found, key=lambda pair: bool(pair[0].only_if), default=None)


def _ban(boat: BoatRecords, rules: Rules, box: Box, row: Row, found: tuple[Apart, str]) -> Ban:
    (ban, other), key = found, row.line.key
    said = boat.mixing_of.get((box.key, key))
    return Ban(
        item=key,
        name=row.line.name,
        box=box.key,
        container=box.name,
        beside=rules.streams[other].name,
        why=ban.why,
        only_if=ban.only_if,
        sources=tuple(rules.sources[source].title for source in ban.sources),
        who=(said.who or "somebody who gave no name") if said else "",
        reason=(said.why or "no reason given") if said else "",
    )
