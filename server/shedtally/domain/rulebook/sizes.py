"""The shapes of sizes.toml: hoses, pipes, conductors and clamps as they are sold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from shedtally.domain.rulebook.three import Three


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
