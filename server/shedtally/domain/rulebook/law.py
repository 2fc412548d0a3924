"""The shapes of the rules about waste: streams, codes, what is kept apart, signs and papers.

Built from TOML by `rules/read_waste.py`; like the rest of the rulebook, nothing is computed here.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

ApartLevel: TypeAlias = Literal["container", "shelf"]


@dataclass(frozen=True, slots=True)
class Ask:
    """A question that decides a stream; ``only_in`` empty means under every rule set."""

    field: str
    ask: str
    assumed: str
    only_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer that moves an item to another stream.

    If ``field`` holds one of ``values``, or a number ``above`` a limit, or is unanswered where
    so marked.
    """

    field: str
    values: tuple[str | bool, ...]
    stream: str
    or_unanswered: bool = False
    above: float | None = None


@dataclass(frozen=True, slots=True)
class When:
    """A condition: ``field`` holds one of ``values``, or a number below or from a limit on."""

    field: str
    values: tuple[str | bool, ...] = ()
    below: float | None = None
    at_least: float | None = None


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Answers that can't both be right, what to do about it, and what holds until then.

    ``field`` is where the answer is changed; ``stream`` is where the item goes meanwhile, empty
    where it stays. ``streams`` empty: whatever the kind leads to.
    """

    field: str
    when: tuple[When, ...]
    say: str
    do: str
    assumed: str
    source: str
    streams: tuple[str, ...] = ()
    stream: str = ""


@dataclass(frozen=True, slots=True)
class Stream:
    """A sort of waste, under every rule set. ``in_itself``: a hazard whatever is done with it.

    ``classes`` are those for the road, with ``8 liquid`` for liquids of class 8. ``milder_of`` is
    the stream that it would be without the answers that made it milder; the two may share a
    container.
    """

    id: str
    name: str
    keep_in: str
    keep_apart: tuple[str, ...]
    cautions: tuple[str, ...]
    call: tuple[str, ...]
    transport: str
    sources: tuple[str, ...]
    from_memory: bool = False
    in_itself: bool = False
    measured: str = ""
    classes: tuple[str, ...] = ()
    milder_of: str = ""
    if_soaked: str = ""
    if_lead: str = ""
    if_asbestos: str = ""
    asks: tuple[Ask, ...] = ()
    answers: tuple[Answer, ...] = ()


# Keys in sources.toml: a ban that is taken from the rules of another place, and one of our own.
ELSEWHERE, OWN = "elsewhere", "own-judgement"


@dataclass(frozen=True, slots=True)
class Apart:
    """A ban on two streams in one container or on one shelf; ``only_if`` says what lifts it.

    ``first`` and ``second`` are selectors, as apart.toml explains them. ``sources`` hold anywhere,
    ``where`` has those of each rule set, ``only_if_source`` is the source of ``only_if``.
    """

    first: str
    second: str
    level: ApartLevel
    why: str
    sources: tuple[str, ...]
    only_if: str = ""
    from_memory: bool = False
    where: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    only_if_source: str = ""

    def cited(self, law: str) -> tuple[str, ...]:
        """The keys of what the ban rests on under a rule set.

        Its own sources first; those of other places come after ``elsewhere``, which says so.
        """
        if law in self.where or not self.where:
            return tuple(dict.fromkeys((*self.where.get(law, ()), *self.sources)))
        others = [key for keys in self.where.values() for key in keys if key != OWN]
        return tuple(dict.fromkeys((ELSEWHERE, *others, *self.sources)))


@dataclass(frozen=True, slots=True)
class Basis:
    """The publication that rows of a rule set stand on.

    ``in_force`` is the day from which it applies; None: not found, and ``seen`` says which
    edition was read instead.
    """

    id: str
    publication: str
    sources: tuple[str, ...]
    in_force: datetime.date | None = None
    seen: str = ""
    from_memory: bool = False

    def words(self, section: str) -> str:
        """One line for a list: publication, section, and since when it applies."""
        where = f"{self.publication}, {section}" if section else self.publication
        if self.in_force is None:
            return f"{where}; {self.seen}" if self.seen else where
        day = f"{self.in_force.day} {self.in_force:%B %Y}"
        when = f"{where}, in force since {day}"
        return f"{when} (from memory)" if self.from_memory else when


@dataclass(frozen=True, slots=True)
class Note:
    """Something that a list must say; ``areas`` empty means everywhere in the rule set."""

    text: str
    sources: tuple[str, ...]
    areas: tuple[str, ...] = ()
    from_memory: bool = False


@dataclass(frozen=True, slots=True)
class Area:
    """A part of a rule set's territory with rules of its own, like Scotland."""

    id: str
    name: str


@dataclass(frozen=True, slots=True)
class Entry:
    """The code of a stream for one sort of holder, from ``valid_from`` until the next entry.

    ``basis`` and ``section`` say where it is printed.
    """

    stream: str
    holder: str
    code: str
    title: str
    hazardous: bool
    why: str
    sources: tuple[str, ...]
    basis: Basis
    section: str = ""
    valid_from: datetime.date = datetime.date.min
    from_memory: bool = False
    doubt_from: datetime.date | None = None
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class StreamGroup:
    """Streams that one site or firm takes together, and that print on one page."""

    id: str
    name: str
    streams: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Signs:
    """Signs on a container: GHS pictograms; labels and marks for the road. Either may be none."""

    ghs: tuple[str, ...]
    road: tuple[str, ...]
    sources: tuple[str, ...]
    note: str = ""
    from_memory: bool = False


@dataclass(frozen=True, slots=True)
class LabelWords:
    """What a rule set wants of paper: its usual size, and the words on a hazardous container."""

    paper: Literal["a4", "letter"]
    words: str
    why: str
    sources: tuple[str, ...]
    from_memory: bool = False


@dataclass(frozen=True, slots=True)
class HouseholdTest:
    """What must be asked before waste from a home is let off."""

    ask: str
    assumed: str


@dataclass(frozen=True, slots=True)
class RuleSet:
    """The data of one jurisdiction; ``entries`` by stream and holder, in the order of time.

    ``edition`` is the day on which its rows were last compared with what is published.
    ``based_on`` is the rule set that a local one was made from, empty for ours; ``streams``,
    ``apart`` and ``also_ask`` are what the local one adds.
    """

    id: str
    name: str
    standing: str
    edition: datetime.date
    entries: Mapping[tuple[str, str], tuple[Entry, ...]]
    flash_below_c: float | None = None
    household: HouseholdTest | None = None
    areas: tuple[Area, ...] = ()
    notes: tuple[Note, ...] = ()
    based_on: str = ""
    local: bool = False
    also_ask: Mapping[str, tuple[Ask, ...]] = field(default_factory=dict)
    streams: Mapping[str, Stream] = field(default_factory=dict)
    apart: tuple[Apart, ...] = ()

    @property
    def law(self) -> str:
        """The rule set whose questions and papers hold here: itself, or what it is based on."""
        return self.based_on or self.id

    def entry(self, stream: str, holder: str, on: datetime.date) -> Entry:
        """The entry that holds on a day; `load` has made sure that there is one."""
        rows = self.entries[stream, holder]
        return next(row for row in reversed(rows) if row.valid_from <= on)
