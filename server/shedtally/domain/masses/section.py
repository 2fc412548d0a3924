"""Kilograms per metre of hose, pipe, cable, rope, wire and chain, from a size.

Each returns low, likely and high in kg/m, or raises `OutOfRange` where its table says nothing.
"""

from __future__ import annotations

import itertools
import math

from shedtally.domain.masses.spread import exactly, product
from shedtally.domain.measures.reading import Size
from shedtally.domain.rulebook import HoseSize, Material, PipeSize, Section, Sizes, Three

COPPER = Three(8890.0, 8890.0, 8960.0)
# For sizes that no row of sizes.toml has: makers stay below the nominal section.
COPPER_SHARE = Three(0.89, 0.97, 1.0)
SHEATHING = Three(1150.0, 1400.0, 1500.0)
STRANDED = 1.12
SAME_HOSE_MM = 0.5
SAME_PIPE_MM = 0.3
PIPE_THREADS = (
    "BSP", "BSPT", "BSPP", "BSPF", "G", "R", "Rp", "Rc", "NPT", "MNPT", "FNPT", "NPS", "NPSM",
)  # fmt: skip


class OutOfRange(ValueError):
    """A size that the tables behind a formula don't cover; the guess by kind then holds."""


def kg_per_m(section: Section, size: Size, material: Material, wall: float, sizes: Sizes) -> Three:
    """Kilograms per metre of a run.

    Args: size: bore of a hose, outside diameter of a pipe, copper of a cable, diameter of the
        rest; wall: of a pipe in mm, 0 if unknown.
    Raises: OutOfRange: no formula for this section, size or material.
    """
    return product(*(factor for _, factor in factors(section, size, material, wall, sizes)))


def factors(
    section: Section, size: Size, material: Material, wall: float, sizes: Sizes
) -> tuple[tuple[str, Three], ...]:
    """What the kilograms per metre of a run are the product of, each by the name of its cause.

    Args, raises: as `kg_per_m`.
    """
    if section == "cable":
        return (("cables", cable(size, sizes)),)
    if size.mm is None or size.kind != "length":
        raise OutOfRange(size.shown)
    if section == "chain":
        return (("chains", product(sizes.chain_kg_per_m_mm2, exactly(size.mm**2))),)
    if material.density is None:
        raise OutOfRange(material.id)
    density = (density_cause(material), material.density)
    match section:
        case "hose":
            return (("hose walls", hose(size.mm, exactly(1.0), sizes)), density)
        case "pipe":
            row = nominal_pipe(size, material.id, sizes)
            outside = row.outside_mm if row else size.mm
            walls = exactly(wall) if wall else row.wall_mm if row else sizes.pipe_wall_mm
            return (("pipe walls", pipe(outside, walls, exactly(1.0))), density)
        case "bar":
            return (("tape", exactly(_circle_m2(size.mm))), density)
        case "wire-rope":
            return (("wire ropes", _filled(size.mm, sizes.wire_rope_fill)), density)
        case "rope":
            return (("ropes", _filled(size.mm, sizes.rope_fill)), density)
        case _:
            raise OutOfRange(section)


def density_cause(material: Material) -> str:
    """The name of what is wrong wherever the density of a material is."""
    return f"density/{material.id}"


def tube(outside_mm: float, inside_mm: float, density: float) -> float:
    """Kilograms per metre of a tube: density * pi/4 * (D^2 - d^2).

    Source: [TUBE], 0.02466 (D - t) t at 7850 kg/m3 in its short form.

    >>> round(tube(33.4, 33.4 - 2 * 3.38, 7850), 3)
    2.502
    """
    return density * (_circle_m2(outside_mm) - _circle_m2(inside_mm))


def hose(bore_mm: float, density: Three, sizes: Sizes) -> Three:
    """Kilograms per metre of hose by its bore, 5 to 100 mm, wall from the table of sizes.

    Between two sizes the wall is in proportion; beyond the table it is the wall of the last one.
    """
    if not 5 <= bore_mm <= 100:
        raise OutOfRange(f"{bore_mm:g} mm")
    outside = [bore_mm + 2 * wall for wall in _walls(bore_mm, sizes)]
    areas = Three(*(tube(mm, bore_mm, 1.0) for mm in outside))
    return product(areas, density)


def pipe(outside_mm: float, wall_mm: Three, density: Three) -> Three:
    """Kilograms per metre of pipe by outside diameter and wall.

    Raises: OutOfRange: a wall thicker than half the pipe.
    """
    if wall_mm.high * 2 > outside_mm:
        raise OutOfRange(f"wall {wall_mm.high:g} mm in {outside_mm:g} mm")
    areas = Three(*(tube(outside_mm, outside_mm - 2 * wall, 1.0) for wall in wall_mm))
    return product(areas, density)


def cable(size: Size, sizes: Sizes) -> Three:
    """Kilograms per metre of cable: copper and insulation of each core, and the sheath of several.

    Source: copper from [B258], or between the least that the resistance of [IEC60228] allows and
    the nominal section; insulation as a tube, walls from memory.
    """
    if size.mm2 is None:
        raise OutOfRange(size.shown)
    copper = product(_copper_m2(size, size.mm2, sizes), COPPER)
    wall = next(wall for up_to, wall in sizes.insulation if size.mm2 <= up_to)
    inside = STRANDED * math.sqrt(4 * size.mm2 / math.pi)
    cover = product(exactly(tube(inside + 2 * wall, inside, 1.0)), SHEATHING, Three(0.7, 1.0, 1.4))
    core = Three(*(a + b for a, b in zip(copper, cover, strict=True)))
    if size.cores == 1:
        return core
    sheath = Three(*(1 + share for share in sizes.sheath_share))
    return product(core, exactly(float(size.cores)), sheath)


def _copper_m2(size: Size, mm2: float, sizes: Sizes) -> Three:
    row = next((row for row in sizes.conductors if row.mm2 == mm2), None)
    if size.kind == "area" and row is not None:
        return product(row.copper_mm2, exactly(1e-6))
    return product(COPPER_SHARE, exactly(mm2 * 1e-6))


def nominal_hose(bore_mm: float, sizes: Sizes) -> HoseSize | None:
    """The hose that is sold for a bore: 19 mm and 3/4 in (19.05 mm) are one; None if none is."""
    near = min(sizes.hoses, key=lambda row: abs(row.bore_mm - bore_mm))
    return near if abs(near.bore_mm - bore_mm) <= SAME_HOSE_MM else None


def nominal_pipe(size: Size, material: str, sizes: Sizes) -> PipeSize | None:
    """The pipe that is sold for a size: by DN, by pipe thread, or by its outside diameter.

    None where no row fits within 0.3 mm, or none is of this material.
    """
    rows = [row for row in sizes.pipes if material in row.materials]
    if size.shown.startswith("DN ") or size.thread in PIPE_THREADS:
        # All but the family: 25 of DN 25, 1 1/2 of 1 1/2 BSP and of G 1 1/2.
        parts = [part for part in size.shown.split() if part not in ("DN", size.thread)]
        called = " ".join(parts)
        return next((row for row in rows if called in (row.dn, row.inch)), None)
    outside = size.mm or 0.0
    near = min(rows, key=lambda row: abs(row.outside_mm - outside), default=None)
    return near if near and abs(near.outside_mm - outside) <= SAME_PIPE_MM else None


def _walls(bore_mm: float, sizes: Sizes) -> tuple[float, float, float]:
    rows = sizes.hoses
    for small, large in itertools.pairwise(rows):
        if small.bore_mm <= bore_mm <= large.bore_mm:
            share = (bore_mm - small.bore_mm) / (large.bore_mm - small.bore_mm)
            low, likely, high = (
                a + (b - a) * share for a, b in zip(_wall(small), _wall(large), strict=True)
            )
            return low, likely, high
    return _wall(rows[0] if bore_mm < rows[0].bore_mm else rows[-1])


def _wall(row: HoseSize) -> tuple[float, float, float]:
    low, likely, high = ((outside - row.bore_mm) / 2 for outside in row.outside_mm)
    return low, likely, high


def _circle_m2(diameter_mm: float) -> float:
    return math.pi / 4 * (diameter_mm / 1000) ** 2


def _filled(diameter_mm: float, fill: Three) -> Three:
    return product(exactly(_circle_m2(diameter_mm)), fill)
