"""The lists of masses and of scrap as data: what the server sends and the printer prints."""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.domain.lists import Spread


@dataclass(frozen=True, slots=True)
class MassLine:
    """One item: its mass, in a sentence where that comes from, and what its sizes still lack.

    ``compartment`` is a key, '' for none; ``why`` the place of the sentence in the list's ``whys``,
    which many items share. ``not_used`` says why sizes that were written down gave no mass, and
    what range would do; '' where there is nothing to say.
    """

    key: str
    name: str
    kind: str
    tags: tuple[str, ...]
    count: int
    system: str
    compartment: str
    whereabouts: str
    mass: Spread
    why: int
    not_used: str


@dataclass(frozen=True, slots=True)
class MassGroup:
    """Everything of one system, compartment, basis or whereabouts, added up."""

    key: str
    name: str
    path: tuple[str, ...]
    count: int
    mass: Spread
    weighed_share: float


@dataclass(frozen=True, slots=True)
class WeighNext:
    """One weighing worth doing: the total after it and those before it, and what it takes off.

    ``narrower_kg`` is how much the distance from low to high shrinks by this one weighing.
    """

    key: str
    name: str
    tags: tuple[str, ...]
    mass: Spread
    after: Spread
    narrower_kg: float


@dataclass(frozen=True, slots=True)
class Uncounted:
    """What gives no mass: a weighing that can't be one, or a tank with nobody knows what in it.

    What was typed is kept. ``of`` names what was weighed, ``tank/`` with its item a tank, whose
    ``weighing`` is ''.
    """

    weighing: str
    of: str
    name: str
    reason: str


@dataclass(frozen=True, slots=True)
class MassList:
    """Every kilogram: the total, what of it was weighed, and which weighings would help most."""

    total: Spread
    weighed_share: float
    by_system: tuple[MassGroup, ...]
    by_compartment: tuple[MassGroup, ...]
    by_basis: tuple[MassGroup, ...]
    by_whereabouts: tuple[MassGroup, ...]
    weigh_next: tuple[WeighNext, ...]
    uncounted: tuple[Uncounted, ...]
    items: tuple[MassLine, ...]
    whys: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ScrapItem:
    """One item of scrap; ``dirty`` says what spoils it for a dealer, as far as known."""

    key: str
    name: str
    tags: tuple[str, ...]
    count: int
    mass: Spread
    why: str
    dirty: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Value:
    """Money from low to high, in one currency."""

    low: float
    likely: float
    high: float
    currency: str


@dataclass(frozen=True, slots=True)
class ScrapMetal:
    """All scrap of one metal. ``spec`` is what its price is kept under; no price, no value."""

    metal: str
    spec: str
    count: int
    mass: Spread
    weighed_share: float
    price_per_kg: float | None
    currency: str
    value: Value | None
    items: tuple[ScrapItem, ...]


@dataclass(frozen=True, slots=True)
class ScrapList:
    """What a scrap dealer may take, by metal. ``values`` has one sum for each currency."""

    total: Spread
    weighed_share: float
    metals: tuple[ScrapMetal, ...]
    unpriced: tuple[str, ...]
    values: tuple[Value, ...]
    cautions: tuple[str, ...]
