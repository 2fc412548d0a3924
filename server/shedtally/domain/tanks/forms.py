"""The shapes that a person can choose for a tank, made from its inside sizes; and the dip table."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from shedtally.domain.masses.section import OutOfRange
from shedtally.domain.tanks.shape import Arc, Corner, Prism, Round, Surface


def box(length_mm: float, width_mm: float, height_mm: float) -> Prism:
    """A box by its inside sizes."""
    return wedge(length_mm, width_mm, width_mm, height_mm)


def wedge(length_mm: float, bottom_width_mm: float, top_width_mm: float, height_mm: float) -> Prism:
    """A tank of triangular (bottom width 0) or trapezoid section, the same on both sides."""
    _positive(length=length_mm, height=height_mm, **{"top width": top_width_mm})
    return Prism(length_mm, _outline(((bottom_width_mm, 0.0), (top_width_mm, height_mm))))


def v_bottom(
    length_mm: float, width_mm: float, height_mm: float, v_height_mm: float, keel_mm: float = 0.0
) -> Prism:
    """A box over a V; ``height_mm`` is over all, ``v_height_mm`` of the V, ``keel_mm`` its floor.

    Raises: OutOfRange: a V higher than the tank.
    """
    _positive(length=length_mm, width=width_mm, height=height_mm, V=v_height_mm)
    if v_height_mm > height_mm:
        raise OutOfRange(
            f"the V is {v_height_mm:g} mm high and the whole tank {height_mm:g} mm; "
            "measure the height from the very bottom"
        )
    if keel_mm > width_mm:
        raise OutOfRange(f"a floor of {keel_mm:g} mm is wider than the tank, {width_mm:g} mm")
    levels = ((keel_mm, 0.0), (width_mm, v_height_mm), (width_mm, height_mm))
    return Prism(length_mm, _outline(levels))


def _outline(levels: Sequence[tuple[float, float]]) -> tuple[Corner, ...]:
    right = [(width / 2, z) for width, z in levels]
    left = [(-y, z) for y, z in reversed(right)]
    return tuple(dict.fromkeys([*right, *left]))


def cylinder(
    diameter_mm: float, length_mm: float, head: str, dish_mm: float | None, *, standing: bool
) -> Round:
    """A cylinder with two ends alike; ``length_mm`` without the ends.

    Args: head: ``flat``; ``dished``, half an ellipsoid of depth ``dish_mm`` (a quarter of the
        diameter if None: the 2:1 form); ``torispherical 6 %`` or ``10 %``: crown radius the
        diameter, knuckle radius 6 or 10 % of it, the depth follows.
    Raises: OutOfRange: no length or diameter; a dish deeper than the radius.
    """
    _positive(diameter=diameter_mm, length=length_mm)
    radius, half = diameter_mm / 2, length_mm / 2
    far = _head(diameter_mm, head, dish_mm)
    last = [
        arc._replace(start=arc.start + half, end=arc.end + half, centre=arc.centre + half)
        for arc in far
    ]
    first = [
        arc._replace(start=-arc.end, end=-arc.start, centre=-arc.centre) for arc in reversed(last)
    ]
    return Round((*first, Arc(-half, half, radius, 0.0, 0.0), *last), radius, standing)


def _head(diameter: float, head: str, dish: float | None) -> list[Arc]:
    radius = diameter / 2
    if head == "flat":
        return []
    if head == "dished":
        depth = diameter / 4 if dish is None else dish
        if not 0 < depth <= radius:
            raise OutOfRange(
                f"a dish of {depth:g} mm: it is deeper than nothing and at most the radius, "
                f"{radius:g} mm"
            )
        return [Arc(0.0, depth, 0.0, radius, 0.0, depth / radius)]
    crown, knuckle = diameter, diameter * (0.06 if head == "torispherical 6 %" else 0.10)
    depth = dish_depth(diameter, head)
    joint = knuckle * (crown - depth) / (crown - knuckle)
    return [
        Arc(0.0, joint, radius - knuckle, knuckle, 0.0),
        Arc(joint, depth, 0.0, crown, depth - crown),
    ]


def dish_depth(diameter_mm: float, head: str) -> float:
    """Depth of a torispherical end; crown radius D, knuckle 6 % or 10 % of D.

    Source: a = fD - sqrt((fD - kD)^2 - (D/2 - kD)^2), Jones, Calculating Tank Volume.

    >>> round(dish_depth(600, "torispherical 6 %"), 5)
    101.60257
    """
    knuckle = diameter_mm * (0.06 if head == "torispherical 6 %" else 0.10)
    return diameter_mm - math.sqrt((diameter_mm - knuckle) ** 2 - (diameter_mm / 2 - knuckle) ** 2)


@dataclass(frozen=True, slots=True)
class Table:
    """A dip table as (level mm, litres), rising in both; straight lines between the rows."""

    rows: tuple[tuple[float, float], ...]

    @property
    def height_mm(self) -> float:
        """The highest level of the table."""
        return self.rows[-1][0]

    @property
    def capacity_l(self) -> float:
        """The last row's litres."""
        return self.rows[-1][1]

    def litres(self, surface: Surface) -> float:
        """Litres at a level. Raises: OutOfRange: any tilt, for the table doesn't know the shape."""
        if surface.slope_x or surface.slope_y:
            raise OutOfRange("a dip table holds for the tank as it was measured, without tilt")
        level = min(max(surface.rise_mm, self.rows[0][0]), self.height_mm)
        for (low, less), (high, more) in zip(self.rows, self.rows[1:], strict=False):
            if level <= high:
                return less + (more - less) * (level - low) / (high - low)
        return self.capacity_l

    def floor_mm(self, x_mm: float, y_mm: float) -> float:
        """A table counts from where its stick stands."""
        del x_mm, y_mm
        return 0.0


def dip_table(marks: Sequence[tuple[float, float]]) -> Table:
    """A dip table from its lines in any order; empty at 0 mm if no line says otherwise.

    Raises: OutOfRange: fewer than two lines, one level twice, litres that fall.
    """
    rows = sorted(marks)
    if rows and rows[0][0] > 0:
        rows = [(0.0, 0.0), *rows]
    if len(rows) < 2:
        raise OutOfRange("a dip table needs two lines or more; write down another level")
    for (low, less), (high, more) in itertools.pairwise(rows):
        if low == high:
            raise OutOfRange(f"the dip table has {high:g} mm twice; bin one of the two lines")
        if more < less:
            raise OutOfRange(
                f"the dip table falls: {less:g} L at {low:g} mm, but {more:g} L at {high:g} mm; "
                "look at these two lines again"
            )
    return Table(tuple(rows))


def _positive(**sizes: float) -> None:
    for name, size in sizes.items():
        if not size > 0:
            raise OutOfRange(f"the {name} is {size:g} mm; it must be more than nothing")
