"""The shapes of the rules data: what `rules/load.py` builds from TOML and the calculations read.

Every value keeps the key of its source. Nothing here is computed, and nothing is optional that a
calculation could trip over: `load` refuses data that doesn't hold together.
"""

from __future__ import annotations

import dataclasses
import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from shedtally.domain.lists import Spread
from shedtally.domain.rulebook.amounts import AmountRules
from shedtally.domain.rulebook.floating import FloatRules, LiftRules
from shedtally.domain.rulebook.law import (
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
from shedtally.domain.rulebook.paths import DangerPath
from shedtally.domain.rulebook.renewing import RenewalRules
from shedtally.domain.rulebook.sizes import ClampSize, Conductor, HoseSize, PipeSize, Sizes
from shedtally.domain.rulebook.three import Three
from shedtally.domain.rulebook.wiring import WireRules
from shedtally.domain.rulebook.work import (
    Effort,
    Efforts,
    Near,
    OrderRule,
    Survey,
    SurveyOrder,
    SurveyPlace,
    Toil,
)

__all__ = [
    "Answer",
    "Apart",
    "Area",
    "Ask",
    "Basis",
    "ClampSize",
    "Conductor",
    "Contradiction",
    "Effort",
    "Efforts",
    "Entry",
    "HoseSize",
    "HouseholdTest",
    "LabelWords",
    "Near",
    "Note",
    "OrderRule",
    "PipeSize",
    "RuleSet",
    "Signs",
    "Sizes",
    "Stream",
    "StreamGroup",
    "Survey",
    "SurveyOrder",
    "SurveyPlace",
    "Three",
    "Toil",
]

Standing: TypeAlias = Literal[
    "seen", "reproduced", "from memory", "common practice", "judgement", "estimate"
]
Section: TypeAlias = Literal["", "hose", "pipe", "cable", "wire-rope", "rope", "chain", "bar"]


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
