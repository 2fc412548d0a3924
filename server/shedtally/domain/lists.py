"""The three lists as data: what the calculations return, the server sends and the printer prints.

Every list is complete and in the order in which it is read; nothing is left out because a field
is empty. Masses carry a spread and say how they were got.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

RunHow: TypeAlias = Literal["measured", "worked out from the compartments", "not known"]
Basis: TypeAlias = Literal["weighed", "plate", "calculated", "guessed", "mixed", "unknown"]


@dataclass(frozen=True, slots=True)
class Spread:
    """Kilograms as low, likely and high (about 95 % lie inside), and how they were got."""

    low: float
    likely: float
    high: float
    basis: Basis


@dataclass(frozen=True, slots=True)
class LeftItem:
    """One item still aboard. It is ``ready`` when ``waits_for`` is empty."""

    key: str
    name: str
    kind: str
    system: str
    tags: tuple[str, ...]
    ready: bool
    waits_for: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LeftGroup:
    """A compartment (key: its record's key) or a system (key: its id), and what is left there."""

    key: str
    name: str
    path: tuple[str, ...]
    total: int
    out: int
    left: int
    items: tuple[LeftItem, ...]


@dataclass(frozen=True, slots=True)
class LeftList:
    """Left to take out, twice: by compartment and by system. Counts are pieces, not records."""

    total: int
    out: int
    left: int
    ready: int
    by_compartment: tuple[LeftGroup, ...]
    by_system: tuple[LeftGroup, ...]


@dataclass(frozen=True, slots=True)
class Question:
    """What only a person can answer; until then ``assumed`` holds, the cautious answer."""

    item: str
    name: str
    field: str
    ask: str
    assumed: str


@dataclass(frozen=True, slots=True)
class WasteItem:
    """One item of a stream; ``reason`` says in a sentence why it belongs there."""

    key: str
    name: str
    tags: tuple[str, ...]
    count: int
    mass: Spread
    reason: str
    assumed: bool
    container: str | None
    gone: bool
    box: str = ""


@dataclass(frozen=True, slots=True)
class WasteContainer:
    """A drum, can or bin with waste in it. ``net`` is what was weighed inside; None: not weighed.

    Days are ISO 8601, empty where nobody wrote them; ``stream`` is what it is meant for.
    """

    key: str
    name: str
    tags: tuple[str, ...]
    stream: str
    place: str
    capacity_l: float | None
    tare_kg: float | None
    gross_kg: float | None
    net: Spread | None
    opened: str
    closed: str
    gone: bool


@dataclass(frozen=True, slots=True)
class WasteStream:
    """One stream under one rule set. ``code`` is as the publication prints it, ``*`` included.

    ``containers`` are those in which something of the stream lies; one that holds several
    streams stands in each of them. ``basis`` is where the code is printed and since when it
    applies; ``measured`` how the amount is usually got.
    """

    id: str
    name: str
    code: str
    code_title: str
    hazardous: bool
    why: str
    transport: str
    keep_in: str
    keep_apart: tuple[str, ...]
    cautions: tuple[str, ...]
    call: tuple[str, ...]
    sources: tuple[str, ...]
    from_memory: bool
    on_site: Spread
    gone: Spread
    items: tuple[WasteItem, ...]
    containers: tuple[WasteContainer, ...] = ()
    basis: str = ""
    measured: str = ""


@dataclass(frozen=True, slots=True)
class Ban:
    """A thing that may not lie in the container where it lies, why, and who put it there.

    ``box`` is the container's key. ``only_if`` is what lifts the ban, empty: nothing does, and
    ``only_if_source`` who says so; ``who``
    and ``reason`` are those of whoever recorded that it lies there all the same.
    """

    item: str
    name: str
    box: str
    container: str
    beside: str
    why: str
    only_if: str
    sources: tuple[str, ...]
    who: str = ""
    reason: str = ""
    only_if_source: str = ""


@dataclass(frozen=True, slots=True)
class WasteList:
    """Waste by stream. ``standing`` is the statement that goes with every list.

    ``owner`` and ``lies_at`` are whose boat it is and where, empty where nobody wrote it.
    ``edition`` is the day of the rule set (ISO 8601); ``notes`` is what it says besides codes,
    each with its source; ``mixed`` is what lies in a container where it may not.
    """

    rule_set: str
    rule_set_name: str
    dated: str
    holder: str
    standing: str
    streams: tuple[WasteStream, ...]
    questions: tuple[Question, ...]
    on_site: Spread
    gone: Spread
    weighed_share: float
    owner: str = ""
    lies_at: str = ""
    edition: str = ""
    notes: tuple[str, ...] = ()
    mixed: tuple[Ban, ...] = ()


@dataclass(frozen=True, slots=True)
class RunLength:
    """One run of a line. Lengths are mm; ``cut_mm`` is one piece with its allowance.

    ``how`` says where the length is from; one that nobody measured has a spread, ``low_mm`` to
    ``high_mm``. ``ends`` says what it joins, as far as known.
    """

    item: str
    name: str
    tags: tuple[str, ...]
    count: int
    length_mm: float | None
    cut_mm: float | None
    low_mm: float | None
    high_mm: float | None
    how: RunHow
    ends: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RenewalLine:
    """Equal specs merged. Lengths are mm; ``order_mm`` includes the allowance. None: not a run.

    ``id`` is the key of the line's `Spec` record; it stays while details are fixed. ``system`` is
    that of most of its pieces, ``systems`` all of them. ``runs`` has every run of the line, also
    one without a length. ``details`` are what was fixed, in words, ``mismatches`` what doesn't fit
    what it is joined to. ``assumed`` says what counts where nothing was fixed, and why. ``section``
    is ``hose``, ``cable`` or empty; ``service`` an id of the rules, what flows in it.
    """

    spec: str
    kind: str
    system: str
    size: str
    standard: str
    count: int
    length_mm: float | None
    allowance: float
    order_mm: float | None
    items: tuple[str, ...]
    tags: tuple[str, ...]
    open_questions: tuple[str, ...]
    id: str = ""
    systems: tuple[str, ...] = ()
    runs: tuple[RunLength, ...] = ()
    details: tuple[str, ...] = ()
    mismatches: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    section: str = ""
    service: str = ""
    material: str = ""


@dataclass(frozen=True, slots=True)
class RenewalList:
    """Everything whose fate is *renew*, or whose kind is always renewed; grouped by system.

    ``mismatches`` says what of the boat is joined and doesn't go together, also where it stays.
    """

    lines: tuple[RenewalLine, ...]
    questions: tuple[Question, ...]
    cautions: tuple[str, ...]
    mismatches: tuple[str, ...] = ()
