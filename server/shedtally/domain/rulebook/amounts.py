"""The shapes of the rules about amounts.

Built from amounts.toml by `rules/read_amounts.py`; nothing is computed here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Period: TypeAlias = Literal["month", "year"]


@dataclass(frozen=True, slots=True)
class Step:
    """A category by amount, in kilograms a period; None: no limit of that sort.

    ``most_kg`` is the highest amount that still belongs to it, ``below_kg`` the first that no
    longer does. ``days`` is how long waste may be kept, ``far_days`` where ``far`` holds.
    """

    id: str
    name: str
    sources: tuple[str, ...]
    most_kg: float | None = None
    below_kg: float | None = None
    acute_most_kg: float | None = None
    site_most_kg: float | None = None
    days: int | None = None
    far_days: int | None = None
    far: str = ""


@dataclass(frozen=True, slots=True)
class Ladder:
    """Categories of a rule set from the lowest up; ``areas`` empty: everywhere in it."""

    rule_set: str
    name: str
    period: Period
    sources: tuple[str, ...]
    steps: tuple[Step, ...]
    areas: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NotCounted:
    """Streams that a rule set leaves out of the sum, and on what condition."""

    rule_set: str
    streams: tuple[str, ...]
    why: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Episode:
    """An event that may be kept out of the category; times in days, for the unplanned hours."""

    rule_set: str
    steps: tuple[str, ...]
    a_year: int
    notify_days: int
    unplanned_hours: int
    ship_days: int
    keep_years: int
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Trip:
    """What may be carried by its owner in one go, gross; ``free_classes`` have no package limit."""

    rule_set: str
    total_kg: float
    package_kg: float
    free_classes: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Saying:
    """What must be said beside amounts, where nothing can be compared; empty: for everybody."""

    rule_set: str
    text: str
    sources: tuple[str, ...]
    areas: tuple[str, ...] = ()
    holders: tuple[str, ...] = ()
    from_memory: bool = False


@dataclass(frozen=True, slots=True)
class AmountRules:
    """All of amounts.toml, in its order."""

    ladders: tuple[Ladder, ...]
    not_counted: tuple[NotCounted, ...]
    episodes: tuple[Episode, ...]
    trips: tuple[Trip, ...]
    sayings: tuple[Saying, ...]
