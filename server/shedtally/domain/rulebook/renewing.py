"""The shapes of what renewing knows of hoses and threads: `hoses.toml` and `threads.toml`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

Sex: TypeAlias = Literal["", "male", "female"]


@dataclass(frozen=True, slots=True)
class Service:
    """What flows in a hose: the standards to choose from, and the clamps at each end.

    ``kind_clamps`` has kinds with another number; ``least_bore_mm`` is 0 where nothing is said.
    """

    id: str
    name: str
    kinds: tuple[str, ...]
    standards: tuple[str, ...]
    clamps: int
    kind_clamps: Mapping[str, int]
    least_bore_mm: float
    least_bore_say: str
    caution: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Bore:
    """A size that hose is made in, and the inside diameters that may bear its name, in mm."""

    nominal_mm: float
    least_mm: float
    most_mm: float


@dataclass(frozen=True, slots=True)
class Family:
    """A family of threads; ``sex`` is what it can only be, ``words`` how people write it.

    ``classes`` of its outside threads may stand behind the size; an inside thread has none.
    """

    id: str
    name: str
    series: str
    taper: bool
    sex: Sex
    words: tuple[str, ...]
    tight: str
    source: str
    classes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Fit:
    """An outside thread in an inside one of the same size: whether that is tight, and why."""

    tight: bool
    say: str
    source: str


@dataclass(frozen=True, slots=True)
class ThreadSize:
    """A pipe thread as cut: major diameter in mm (of NPT the pipe's outside), threads to the inch.

    ``pitch_diameter_mm`` is at the gauge plane of a taper thread, ``gauge_mm`` from its small end
    to that plane: hand-tight length of NPT.
    """

    series: str
    size: str
    per_inch: float
    major_mm: float
    pitch_diameter_mm: float
    gauge_mm: float


@dataclass(frozen=True, slots=True)
class PartSize:
    """A size that a plain part is sold in; ``words`` are lower case, ``about`` tells its measures.

    ``measures`` are in mm where a part is found by them; from and to where it is a ``span``; else
    what ``about`` was made from.
    """

    name: str
    words: tuple[str, ...]
    measures: tuple[float, ...]
    about: str
    span: bool
    source: str


@dataclass(frozen=True, slots=True)
class PlainPart:
    """What a plain part is ordered by. ``by`` are fields of the item that make two of them equal.

    ``numbers`` are how many measures make a size, empty where none is needed, and ``named`` says
    that its size is a name; within ``within_mm``
    of every measure a size is found, 0 where it never is. ``called`` takes the place of the kind's
    name on an order. ``flow``: its size is a flow. ``ask`` is said while something is missing.
    """

    id: str
    kinds: tuple[str, ...]
    called: str
    by: tuple[str, ...]
    numbers: tuple[int, ...]
    named: bool
    within_mm: float
    flow: bool
    ask: str
    measure: str
    standards: tuple[str, ...]
    sources: tuple[str, ...]
    sizes: tuple[PartSize, ...]


@dataclass(frozen=True, slots=True)
class RenewalRules:
    """Services and bores of hose; families and sizes of threads, and which go together.

    ``fits`` is by outside and inside family, ``series`` by two series, ``parts`` by kind.
    """

    services: Mapping[str, Service]
    bores: tuple[Bore, ...]
    families: Mapping[str, Family]
    fits: Mapping[tuple[str, str], Fit]
    series: Mapping[frozenset[str], Fit]
    sizes: tuple[ThreadSize, ...]
    parts: Mapping[str, PlainPart]
