"""The shapes of the rules data: what `rules/load.py` builds from TOML and the calculations read.

Every value keeps the key of its source. Nothing here is computed, and nothing is optional that a
calculation could trip over: `load` refuses data that doesn't hold together.
"""

from __future__ import annotations

import dataclasses
import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple, TypeAlias

from shedtally.domain.amount_rules import AmountRules
from shedtally.domain.danger_path import DangerPath
from shedtally.domain.float_rules import FloatRules, LiftRules
from shedtally.domain.lawbook import (
    Answer,
    Apart,
    Area,
    Ask,
    Basis,
    Contradiction,
    Entry,
    HouseholdTest,
    LabelWords,
    Note,
    RuleSet,
    Signs,
    Stream,
    StreamGroup,
)
from shedtally.domain.lists import Spread
from shedtally.domain.record_words import Level, Side
from shedtally.domain.renewal_rules import RenewalRules
from shedtally.domain.wire_rules import WireRules

__all__ = [
    "Answer",
    "Apart",
    "Area",
    "Ask",
    "Basis",
    "Contradiction",
    "Entry",
    "HouseholdTest",
    "LabelWords",
    "Note",
    "RuleSet",
    "Signs",
    "Stream",
    "StreamGroup",
]

Standing: TypeAlias = Literal[
    "seen", "reproduced", "from memory", "common practice", "judgement", "estimate"
]
Toil: TypeAlias = Literal["light", "steady", "hard"]
Near: TypeAlias = Literal["joined", "same compartment", "in or under", "part of"]
Section: TypeAlias = Literal["", "hose", "pipe", "cable", "wire-rope", "rope", "chain", "bar"]


class Three(NamedTuple):
    """A value as low, likely and high; about 95 % of cases lie inside."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value comes from, and how well it was seen."""

    key: str
    title: str
    standing: Standing
    where: str = ""
    read: datetime.date | None = None


@dataclass(frozen=True, slots=True)
class System:
    """A system of the boat; ``make_safe`` says what comes first, empty where nothing does.

    ``strict`` says what can happen otherwise; where it stands, nothing of the system is ready
    until somebody has written down that it was made safe.
    """

    id: str
    name: str
    make_safe: str = ""
    strict: str = ""


@dataclass(frozen=True, slots=True)
class Kind:
    """What an item is. ``mass`` is one piece; ``make_safe`` the systems that must be safe first."""

    id: str
    name: str
    system: str
    words: tuple[str, ...]
    material: str
    mass: Spread
    mass_source: str
    default_fate: str
    waste: str
    usual_in: tuple[str, ...]
    section: Section = ""
    form: str = ""
    is_run: bool = False
    always_renewed: bool = False
    always_waste: bool = False
    make_safe: tuple[str, ...] = ()
    prompts: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Material:
    """Density in kg/m3, or kg per watt hour of a battery; both None: weigh it.

    ``scrap`` is the metal that a scrap dealer takes it for, '' for what is none.
    """

    id: str
    name: str
    density: Three | None = None
    kg_per_wh: Three | None = None
    liquid: bool = False
    sources: tuple[str, ...] = ()
    scrap: str = ""


@dataclass(frozen=True, slots=True)
class HoseSize:
    """A nominal hose: bore, and outside diameter from soft wall to wire, in mm."""

    bore_mm: float
    shown: str
    outside_mm: Three
    source: str


@dataclass(frozen=True, slots=True)
class PipeSize:
    """A nominal pipe: DN and inch as it is called ('' where it is not), outside and wall in mm."""

    dn: str
    inch: str
    outside_mm: float
    wall_mm: Three
    materials: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Conductor:
    """A nominal conductor: its section, and the true copper in it in mm2."""

    mm2: float
    copper_mm2: Three
    source: str


@dataclass(frozen=True, slots=True)
class ClampSize:
    """A worm-drive clamp and the diameters it closes on, in mm."""

    number: str
    closed_mm: float
    open_mm: float
    source: str


@dataclass(frozen=True, slots=True)
class Sizes:
    """Hoses, clamps, pipes, conductors, cable walls, each from small to large; shares of sections.

    ``sources`` are keys by section.
    """

    hoses: tuple[HoseSize, ...]
    clamps: tuple[ClampSize, ...]
    pipes: tuple[PipeSize, ...]
    conductors: tuple[Conductor, ...]
    insulation: tuple[tuple[float, float], ...]
    wire_rope_fill: Three
    rope_fill: Three
    chain_kg_per_m_mm2: Three
    pipe_wall_mm: Three
    sheath_share: Three
    sources: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Renewing:
    """Allowance on lengths, clamp words, and the standard to ask for by kind."""

    share: float
    each_end_mm: float
    round_up_to_mm: float
    clamp_words: tuple[str, ...]
    two_words: tuple[str, ...]
    cautions: tuple[str, ...]
    standards: Mapping[str, str] = field(default_factory=dict)
    kerf_mm: int = 0


# A row is itself and no other: comparing rows field by field would cost more than what it saves.
@dataclass(frozen=True, slots=True, eq=False)
class Effort:
    """What one piece of work takes: hours of one crew, how many hands, and what it is like.

    ``per`` is ``piece``, ``m2`` or ``m``; ``sparks`` and ``vapour`` must never be at one time.
    """

    hours: Three
    source: str
    people: int = 1
    toil: Toil = "light"
    dirty: bool = False
    sparks: bool = False
    vapour: bool = False
    per: Literal["piece", "m2", "m"] = "piece"


@dataclass(frozen=True, slots=True)
class Efforts:
    """Effort by kind, else by system; of jobs by task; ``unknown`` where nothing is said."""

    kinds: Mapping[str, Effort]
    systems: Mapping[str, Effort]
    tasks: Mapping[str, tuple[Effort, ...]]
    make_safe: Mapping[str, Effort]
    unknown: Effort
    pace: Three
    week: Three
    lift_alone_kg: float
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OrderRule:
    """Things that usually come out before others; ``where`` says how near they must be.

    ``first`` and ``then`` are kinds, or ``level:`` and a level of compartments in ``then``.
    """

    id: str
    first: tuple[str, ...]
    then: tuple[str, ...]
    where: Near
    why: str
    source: str


@dataclass(frozen=True, slots=True)
class SurveyPlace:
    """A compartment that such a boat usually has; ``along`` as shares of the length from the stem.

    ``likely``: kinds that are probably there, and how many.
    """

    id: str
    name: str
    level: Level
    side: Side
    along: tuple[float, float]
    likely: tuple[tuple[str, int], ...]
    within: str = ""


@dataclass(frozen=True, slots=True)
class SurveyOrder:
    """What usually comes out before what: ``place/kind`` of the same survey on either side."""

    first: str
    then: str
    why: str


@dataclass(frozen=True, slots=True)
class Survey:
    """What to look for on a walk round a sort of boat; all of it may be struck out."""

    id: str
    name: str
    about: str
    source: str
    compartments: tuple[SurveyPlace, ...]
    orders: tuple[SurveyOrder, ...]


@dataclass(frozen=True, slots=True)
class LocalFile:
    """A file of local rules and how it stands; ``problem`` is empty where it is in use."""

    name: str
    problem: str = ""
    older_used: bool = False


@dataclass(frozen=True, slots=True)
class Liquid:
    """What a tank may hold: density at 15 °C in kg/m3, and how it swells.

    ``method`` is ``products`` (refined fuels), ``lubricants``, or ``points``: densities by
    temperature. Densities at 15 °C outside ``lightest`` to ``heaviest`` are refused. ``kinds``
    are those of items that may be this liquid, ``sludge_kinds`` its sludge; the first is what it
    is on the waste list while it is in its tank.
    """

    id: str
    name: str
    method: str
    density: Three
    lightest: float
    heaviest: float
    points: tuple[tuple[float, float], ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    sludge_kinds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """How far off a sounding may be, each way; about 95 % of cases lie inside.

    ``level_mm`` by how the level was read; ``tilt_deg`` and ``temperature_k`` where they were
    entered, the ``unknown`` ones where not. ``tape_mm`` is one inside size, ``table_share`` a dip
    table's litres, ``rest_share`` what a pump leaves of the capacity where nobody measured it.
    ``cautions`` hold whatever is in the tank, ``standing`` goes with every list.
    """

    level_mm: Mapping[str, float]
    tape_mm: float
    table_share: float
    tilt_deg: float
    tilt_unknown_deg: float
    temperature_k: float
    temperature_unknown: Three
    density_share: float
    sludge_density: Three
    rest_share: float
    cautions: tuple[str, ...] = ()
    standing: str = ""


@dataclass(frozen=True, slots=True)
class Rules:
    """Everything in `rules/`, with a ``version`` that changes when any of it does."""

    version: str
    sources: Mapping[str, Source]
    systems: Mapping[str, System]
    kinds: Mapping[str, Kind]
    materials: Mapping[str, Material]
    streams: Mapping[str, Stream]
    rule_sets: Mapping[str, RuleSet]
    sizes: Sizes
    renewing: Renewing
    efforts: Efforts
    orders: tuple[OrderRule, ...]
    surveys: Mapping[str, Survey]
    trust: Mapping[str, float]
    nothing_known: Spread
    groups: tuple[StreamGroup, ...]
    signs: Mapping[str, Signs]
    labels: Mapping[str, LabelWords]
    liquids: Mapping[str, Liquid]
    reading: Reading
    lifting: LiftRules
    floating: FloatRules
    renewal: RenewalRules
    wiring: WireRules
    amounts: AmountRules
    paths: tuple[DangerPath, ...]
    apart: tuple[Apart, ...] = ()
    stream_sets: Mapping[str, frozenset[str]] = field(default_factory=dict)
    contradictions: Mapping[str, tuple[Contradiction, ...]] = field(default_factory=dict)
    local_files: tuple[LocalFile, ...] = ()

    def under(self, rule_set: str) -> Rules:
        """The rules as a local rule set changes them; themselves where it adds nothing."""
        law = self.rule_sets.get(rule_set)
        if law is None or not law.local:
            return self
        return dataclasses.replace(
            self, streams={**self.streams, **law.streams}, apart=(*law.apart, *self.apart)
        )

    def mild_of(self, stream: str) -> str:
        """The stream that another would be without the answers that made it milder."""
        known = self.streams.get(stream)
        return known.milder_of if known and known.milder_of else stream

    def signs_of(self, stream: str) -> Signs:
        """The signs of a stream; none for one that somebody added without saying."""
        return self.signs.get(stream, Signs((), (), ()))

    def label_words(self, rule_set: str) -> LabelWords:
        """What a rule set wants of paper, or the usual where it says nothing."""
        known = self.rule_sets.get(rule_set)
        return self.labels.get(known.law if known else rule_set, self.labels[""])
