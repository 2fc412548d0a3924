"""What lies in a container where the rules forbid it, and who said that it does all the same."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import Ban
from shedtally.domain.rulebook import Rules
from shedtally.domain.rulebook.law import Apart
from shedtally.domain.waste.apart import Bans
from shedtally.domain.waste.box import Box
from shedtally.domain.waste.stream import Row


def all_bans(
    boat: BoatRecords, asked: Asked, boxes: Mapping[str, Box], rows: Sequence[Row]
) -> tuple[Ban, ...]:
    """The bans of every container, in the order of ``boxes``.

    Args: asked: of the rule set, with its local rules (`Rules.under`); rows: all lines.
    """
    inside = inside_of(rows)
    return tuple(
        ban
        for key, box in boxes.items()
        if key in inside
        for ban in bans_in(boat, asked, box, inside[key])
    )


class Asked:
    """The rules with the answers on pairs of streams: the same few come up in every container."""

    def __init__(self, rules: Rules, law: str) -> None:
        """Args: law: `RuleSet.law`, the rule set whose sources a ban cites."""
        self.rules, self.law = rules, law
        self.bans = Bans(rules, "container")
        self._known: dict[tuple[str, str], Apart | None] = {}

    def ban(self, one: str, other: str) -> Apart | None:
        """What forbids two streams in one container; None: nothing."""
        pair = (one, other)
        if pair not in self._known:
            self._known[pair] = self.bans.between(one, other)
        return self._known[pair]


def inside_of(rows: Sequence[Row]) -> Mapping[str, list[Row]]:
    """The lines in each container, by its key."""
    found: defaultdict[str, list[Row]] = defaultdict(list)
    for row in rows:
        if row.box:
            found[row.box].append(row)
    return found


def bans_in(boat: BoatRecords, asked: Asked, box: Box, rows: Sequence[Row]) -> Iterator[Ban]:
    """What may not lie in a container beside its stream, or beside something else in it.

    What the container is for is in its place: told is what joined it. A ban that somebody overrode
    is still told, with who and why.
    """
    lines = [row for row in rows if row.line.key != box.key]
    held = Counter(row.stream for row in lines)
    own = [box.stream] if box.stream in asked.rules.streams else []
    beside = [*own, *(stream for stream in held if stream not in own)]
    found = {
        stream: _first_ban(asked, stream, [stream] if stream in own else beside, held)
        for stream in held
    }
    known = {stream: _words(asked, *ban) for stream, ban in found.items() if ban}
    for row in lines:
        if row.stream in known:
            yield _ban(boat, box, row, known[row.stream])


def _first_ban(
    asked: Asked, stream: str, others: Sequence[str], held: Mapping[str, int]
) -> tuple[Apart, str] | None:
    """The ban on a stream and the stream that it is about; one that nothing lifts comes first."""
    found = [
        (ban, other)
        for other in others
        # A thing is no neighbour of itself: two pieces of one stream are needed.
        if (other != stream or held[stream] > 1) and (ban := asked.ban(stream, other)) is not None
    ]
    return min(found, key=lambda pair: bool(pair[0].only_if), default=None)


class _Words(NamedTuple):
    """A ban as a list says it, the same for every line that it holds for."""

    beside: str
    why: str
    only_if: str
    only_if_source: str
    sources: tuple[str, ...]


def _words(asked: Asked, ban: Apart, other: str) -> _Words:
    known = asked.rules.sources
    lifted = known[ban.only_if_source].title if ban.only_if_source else ""
    titles = tuple(known[source].title for source in ban.cited(asked.law))
    return _Words(asked.rules.streams[other].name, ban.why, ban.only_if, lifted, titles)


def _ban(boat: BoatRecords, box: Box, row: Row, words: _Words) -> Ban:
    key = row.line.key
    said = boat.mixing_of.get((box.key, key))
    return Ban(
        item=key,
        name=row.line.name,
        box=box.key,
        container=box.name,
        beside=words.beside,
        why=words.why,
        only_if=words.only_if,
        only_if_source=words.only_if_source,
        sources=words.sources,
        who=(said.who or "somebody who gave no name") if said else "",
        reason=(said.why or "no reason given") if said else "",
    )
