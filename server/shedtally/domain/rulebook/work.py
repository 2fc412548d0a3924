"""The shapes of what work takes, what comes before what, and what to look for on a walk round."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

from shedtally.domain.records.words import Level, Side
from shedtally.domain.rulebook.three import Three

Toil: TypeAlias = Literal["light", "steady", "hard"]
Near: TypeAlias = Literal["joined", "same compartment", "in or under", "part of"]


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
