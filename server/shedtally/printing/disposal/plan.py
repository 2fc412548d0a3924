"""What stands where on the disposal list: sheets by group, numbers of sources and cautions.

Pure arrangement of a finished list; nothing is weighed or judged here, and nothing left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.lists import Question, Spread, WasteItem, WasteList, WasteStream
from shedtally.domain.masses.spread import total
from shedtally.domain.rulebook import Rules

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
STANDINGS = ("seen", "reproduced", "from memory", "common practice", "judgement", "estimate")


@dataclass(frozen=True, slots=True)
class Sheet:
    """The streams of one group that occur, under a letter."""

    letter: str
    name: str
    streams: tuple[WasteStream, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """One question and all that it is asked of."""

    ask: str
    assumed: str
    field: str
    of: tuple[Question, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """Items alike in all that is printed: one line, with their pieces, tags and mass together."""

    name: str
    reason: str
    count: int
    tags: tuple[str, ...]
    mass: Spread
    assumed: bool
    gone: bool


@dataclass(frozen=True, slots=True)
class Plan:
    """A list, arranged."""

    waste: WasteList
    sheets: tuple[Sheet, ...]
    cautions: Mapping[str, int]
    sources: Mapping[str, int]
    standings: Mapping[str, str]
    questions: tuple[Asked, ...]
    tags: Mapping[str, tuple[str, ...]]


def plan(waste: WasteList, rules: Rules, other: str) -> Plan:
    """Arrange a list; ``other`` names the sheet of streams that no group has."""
    sheets = _sheets(waste, rules, other)
    standings = {source.title: source.standing for source in rules.sources.values()}
    return Plan(
        waste=waste,
        sheets=sheets,
        cautions=_numbered(
            text for sheet in sheets for one in sheet.streams for text in one.cautions
        ),
        sources=_sources(sheets, standings),
        standings=standings,
        questions=_asked(waste.questions),
        tags={item.key: item.tags for stream in waste.streams for item in stream.items},
    )


def lines_of(items: Sequence[WasteItem]) -> tuple[Line, ...]:
    """Items as lines, equal ones together, in the order of the list."""
    groups: dict[tuple[object, ...], list[WasteItem]] = {}
    for item in items:
        like = (item.name, item.reason, item.assumed, item.gone, item.mass.basis)
        groups.setdefault(like, []).append(item)
    return tuple(_line(group) for group in groups.values())


def hazardous(waste: WasteList) -> tuple[Spread, Spread]:
    """The mass of all hazardous streams, on site and gone."""
    rows = [stream for stream in waste.streams if stream.hazardous]
    return total(row.on_site for row in rows if here(row)), total(
        row.gone for row in rows if gone(row)
    )


def here(stream: WasteStream) -> bool:
    """Whether something of a stream is still on site."""
    return any(not item.gone for item in stream.items)


def gone(stream: WasteStream) -> bool:
    """Whether something of a stream has left."""
    return any(item.gone for item in stream.items)


def _line(items: Sequence[WasteItem]) -> Line:
    first = items[0]
    return Line(
        name=first.name,
        reason=first.reason,
        count=sum(item.count for item in items),
        tags=tuple(code for item in items for code in item.tags),
        mass=first.mass if len(items) == 1 else total(item.mass for item in items),
        assumed=first.assumed,
        gone=first.gone,
    )


def _sheets(waste: WasteList, rules: Rules, other: str) -> tuple[Sheet, ...]:
    place = {
        stream: (at, within)
        for at, group in enumerate(rules.groups)
        for within, stream in enumerate(group.streams)
    }
    last = (len(rules.groups), 0)
    names = [*(group.name for group in rules.groups), other]
    by_group: dict[int, list[WasteStream]] = {}
    for stream in sorted(waste.streams, key=lambda one: place.get(one.id, last)):
        by_group.setdefault(place.get(stream.id, last)[0], []).append(stream)
    return tuple(
        Sheet(LETTERS[number], names[group], tuple(streams))
        for number, (group, streams) in enumerate(by_group.items())
    )


def _numbered(texts: Iterable[str]) -> Mapping[str, int]:
    return {text: number for number, text in enumerate(dict.fromkeys(texts), start=1)}


def _sources(sheets: Sequence[Sheet], standings: Mapping[str, str]) -> Mapping[str, int]:
    titles = {title for sheet in sheets for stream in sheet.streams for title in stream.sources}

    def order(title: str) -> tuple[int, str]:
        standing = standings.get(title, "estimate")
        return STANDINGS.index(standing) if standing in STANDINGS else len(STANDINGS), title

    return _numbered(sorted(titles, key=order))


def _asked(questions: Sequence[Question]) -> tuple[Asked, ...]:
    groups: dict[tuple[str, str, str], list[Question]] = {}
    for question in questions:
        groups.setdefault((question.ask, question.assumed, question.field), []).append(question)
    return tuple(Asked(*key, of=tuple(rows)) for key, rows in groups.items())
