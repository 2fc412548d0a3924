"""How much of a tank lies under the surface of its liquid, tank and surface tilted or not.

Axes are the tank's own, in millimetres: ``z`` up from its lowest point, ``x`` along its length,
``y`` across, each from the middle. The surface is ``z = rise + x * slope_x + y * slope_y``.

A `Prism` has one section over its whole length (box, wedge, V-bottom). The wetted part of the
section is a polygon whose area is a quadratic in ``x`` between the corners that the surface meets,
so Simpson's rule from corner to corner is exact; only rounding is left, below 1e-9 of the volume.

A `Round` tank is a body of revolution, lying or standing. Each slice across its axis is a circle
cut by a straight line, so one sum over slices serves both, tilted or not. The sum is by
Gauss-Legendre; its error was measured below 1e-6 of the capacity (tests/outside/test_tanks.py).
"""

from __future__ import annotations

import functools
import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple, Protocol

MM3_PER_LITRE = 1_000_000.0
_NODES = 16
_PIECES = 8


class Surface(NamedTuple):
    """The liquid's surface: its height over the tank's middle, and its slopes along and across."""

    rise_mm: float
    slope_x: float = 0.0
    slope_y: float = 0.0


class TankShape(Protocol):
    """Anything that can say what it holds."""

    @property
    def height_mm(self) -> float:
        """From the lowest point to the highest."""
        ...

    @property
    def capacity_l(self) -> float:
        """Litres when full."""
        ...

    def litres(self, surface: Surface) -> float:
        """Litres under a surface, 0 to the capacity."""
        ...

    def floor_mm(self, x_mm: float, y_mm: float) -> float:
        """Height of the tank's floor at a point, over its lowest point."""
        ...


Corner = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Prism:
    """A tank of one section over its length.

    ``outline`` has the corners as (y, z), counter-clockwise, convex, its lowest at z = 0.
    """

    length_mm: float
    outline: tuple[Corner, ...]

    @property
    def height_mm(self) -> float:
        """From the lowest corner to the highest."""
        return max(z for _, z in self.outline)

    @property
    def capacity_l(self) -> float:
        """Litres when full."""
        return area_of(self.outline) * self.length_mm / MM3_PER_LITRE

    def litres(self, surface: Surface) -> float:
        """Litres under a surface, exact but for rounding."""
        rise, slope_x, slope_y = surface
        heights = sorted(z - slope_y * y for y, z in self.outline)
        half = self.length_mm / 2
        ends = [-half, half]
        if slope_x:
            ends += [x for h in heights if -half < (x := (h - rise) / slope_x) < half]
        stops = sorted(ends)
        parts = [
            (b - a)
            / 6
            * sum(w * self._wet(surface, x) for w, x in ((1, a), (4, (a + b) / 2), (1, b)))
            for a, b in itertools.pairwise(stops)
        ]
        return min(self.capacity_l, max(0.0, math.fsum(parts) / MM3_PER_LITRE))

    def floor_mm(self, x_mm: float, y_mm: float) -> float:
        """Height of the floor at a point: the lower of the two edges over it."""
        del x_mm
        corners = [*self.outline, self.outline[0]]
        found = []
        for (y0, z0), (y1, z1) in itertools.pairwise(corners):
            if min(y0, y1) <= y_mm <= max(y0, y1):
                found.append(min(z0, z1) if y0 == y1 else z0 + (z1 - z0) * (y_mm - y0) / (y1 - y0))
        return min(found, default=0.0)

    def _wet(self, surface: Surface, x: float) -> float:
        rise, slope_x, slope_y = surface
        level = rise + slope_x * x

        def under(corner: Corner) -> float:
            return level + slope_y * corner[0] - corner[1]

        kept: list[Corner] = []
        for at, here in enumerate(self.outline):
            before = self.outline[at - 1]
            deep, was = under(here), under(before)
            if (deep > 0) != (was > 0):
                share = was / (was - deep)
                kept.append(
                    (
                        before[0] + share * (here[0] - before[0]),
                        before[1] + share * (here[1] - before[1]),
                    )
                )
            if deep > 0:
                kept.append(here)
        return area_of(kept)


def area_of(outline: Sequence[Corner]) -> float:
    """Area of a polygon, corners counter-clockwise."""
    return (
        math.fsum(
            outline[at - 1][0] * z - outline[at - 1][1] * y for at, (y, z) in enumerate(outline)
        )
        / 2
    )


class Arc(NamedTuple):
    """A stretch of the wall, seen from the side: ``r = off + sqrt(radius^2 - (t - centre)^2)``.

    ``t`` runs along the axis from ``start`` to ``end``; ``radius`` 0 is a straight wall at ``off``.
    ``flat`` squeezes the axis, which makes a circle an ellipse: (t - centre) / flat.
    """

    start: float
    end: float
    off: float
    radius: float
    centre: float
    flat: float = 1.0

    def at(self, t: float) -> float:
        """The radius of the slice at ``t``."""
        if not self.radius:
            return self.off
        return self.off + math.sqrt(max(0.0, self.radius**2 - ((t - self.centre) / self.flat) ** 2))


@dataclass(frozen=True, slots=True)
class Round:
    """A body of revolution. ``wall`` runs along the axis, its middle at 0; lying or standing."""

    wall: tuple[Arc, ...]
    radius_mm: float
    standing: bool

    @property
    def height_mm(self) -> float:
        """From the lowest point to the highest."""
        return self._long if self.standing else 2 * self.radius_mm

    @property
    def _long(self) -> float:
        return self.wall[-1].end - self.wall[0].start

    @property
    def capacity_l(self) -> float:
        """Litres when full; the same sum over slices as `litres`."""
        return self._sum(lambda r, _: math.pi * r * r, ()) / MM3_PER_LITRE

    def litres(self, surface: Surface) -> float:
        """Litres under a surface, within 1e-6 of the capacity."""
        rise, slope_x, slope_y = surface
        if self.standing:
            # From the middle of the axis; the slice at t is wet where w * slope > t - level.
            level, slope = rise - self._long / 2, math.hypot(slope_x, slope_y)
            return self._under(lambda t: level - t, slope)
        lean = math.hypot(1.0, slope_y)
        level = rise - self.radius_mm
        return self._under(lambda t: level + slope_x * t, lean, slope_x)

    def _under(self, above: Callable[[float], float], lean: float, along: float = -1.0) -> float:
        """Litres where a slice's distance to the surface, ``above(t) / lean``, covers it."""
        stops: tuple[float, ...] = ()
        if along:
            zero = -above(0.0) / along
            reach = self.radius_mm * lean / along
            stops = (zero - reach, zero, zero + reach)

        def wet(r: float, t: float) -> float:
            if lean == 0.0:
                return math.pi * r * r if above(t) >= 0 else 0.0
            return segment(r, above(t) / lean)

        return min(self.capacity_l, max(0.0, self._sum(wet, stops) / MM3_PER_LITRE))

    def floor_mm(self, x_mm: float, y_mm: float) -> float:
        """Height of the floor at a point."""
        if not self.standing:
            radius = self._radius(x_mm)
            return self.radius_mm - math.sqrt(max(0.0, radius**2 - y_mm**2))
        out = math.hypot(x_mm, y_mm)
        low, high = self.wall[0].start, self.wall[0].end
        if self._radius(low) >= out:
            return 0.0
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if self._radius(middle) < out else (low, middle)
        return high - self.wall[0].start

    def _radius(self, t: float) -> float:
        inside = min(max(t, self.wall[0].start), self.wall[-1].end)
        return next(arc.at(inside) for arc in self.wall if arc.start <= inside <= arc.end)

    def _sum(self, slice_area: Callable[[float, float], float], stops: Sequence[float]) -> float:
        """The integral of a slice's area over the axis, stopping where it bends."""
        total = []
        for arc in self.wall:
            ends = sorted({arc.start, arc.end, *(s for s in stops if arc.start < s < arc.end)})
            for a, b in itertools.pairwise(ends):
                total += [weight * slice_area(arc.at(t), t) for t, weight in _spread_over(a, b)]
        return math.fsum(total)


def segment(radius: float, distance: float) -> float:
    """Area of a circle on one side of a line; ``distance`` is how far the line is past the middle.

    >>> round(segment(1.0, 0.0), 6)
    1.570796
    """
    if distance >= radius:
        return math.pi * radius * radius
    if distance <= -radius:
        return 0.0
    chord = math.sqrt(radius * radius - distance * distance)
    return radius * radius * math.acos(-distance / radius) + distance * chord


def _spread_over(a: float, b: float) -> list[tuple[float, float]]:
    """Places and weights from a to b, closer together at both ends, where round walls close."""
    half, middle = (b - a) / 2, (a + b) / 2
    return [(middle + half * u, half * w) for u, w in _rule()]


@functools.cache
def _rule() -> tuple[tuple[float, float], ...]:
    """Gauss-Legendre in pieces over the angle of u = -cos(angle), u from -1 to 1."""
    found = []
    step = math.pi / _PIECES
    for piece in range(_PIECES):
        for node, weight in _legendre(_NODES):
            angle = step * (piece + (node + 1) / 2)
            found.append((-math.cos(angle), math.sin(angle) * weight * step / 2))
    return tuple(found)


def _legendre(count: int) -> list[tuple[float, float]]:
    """Nodes and weights of Gauss-Legendre on -1 to 1, by Newton's method on the polynomial."""
    found = []
    for at in range(count):
        x = math.cos(math.pi * (at + 0.75) / (count + 0.5))
        slope = 1.0
        for _ in range(8):
            before, here = 1.0, x
            for n in range(2, count + 1):
                before, here = here, ((2 * n - 1) * x * here - (n - 1) * before) / n
            slope = count * (x * here - before) / (x * x - 1)
            x -= here / slope
        found.append((x, 2 / ((1 - x * x) * slope * slope)))
    return found
