"""The outlines of the boat and its cells, as the phone draws them (pwa/src/ui/hull.ts, cells.ts).

Units are those of a drawing 360 wide, y downwards, bow to the left; stations are true to scale
along the length, heights and breadths are drawn large enough for a number to be read.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from shedtally.domain.aboard.drawn import DrawnBoat, DrawnPlace

WIDTH = 360.0
MARGIN = 3.0
SPAN = WIDTH - 2 * MARGIN
PLAN_TOP, BETWEEN, ALOFT, DECK, SHEER_RISE = 4.0, 18.0, 30.0, 38.0, 10.0
THINNEST, TOUCHING = 0.012, 0.004
SIDES = {"starboard": (-1, -0.34), "centre": (-0.34, 0.34), "port": (0.34, 1), "across": (-1, 1)}

Edge = Callable[[float], float]
Edges = tuple[Edge, Edge]
Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """The outline of a drawn place."""

    place: DrawnPlace
    points: Points


@dataclass(frozen=True, slots=True)
class Shape:
    """The levels of the two views: heights in the profile, the middle and half of the plan."""

    middle: float
    half: float
    top: float
    lowest_sheer: float
    water: float
    keel: float

    def sheer(self, t: float) -> float:
        """The deck's edge in the profile."""
        return float(self.lowest_sheer - SHEER_RISE * ((0.66 - t) / 0.66) ** 2)

    def bottom(self, t: float) -> float:
        """The underside: a spooned bow, a long keel, a stern lifted to the water."""
        if t < 0.44:
            stem = self.sheer(t)
            return float(stem + (self.keel - stem) * math.sin(math.pi / 2 * t / 0.44) ** 0.72)
        if t <= 0.78:
            return self.keel
        lift = max(0.0, math.cos(math.pi / 2 * (t - 0.78) / 0.22)) ** 0.7
        return float(self.water - 2 + (self.keel - self.water + 2) * lift)


def breadth_at(t: float) -> float:
    """Half breadth as a share of half the beam, at ``t`` of the length from the stem."""
    if t <= 0.56:
        return float(math.sin(math.pi / 2 * t / 0.56) ** 0.78)
    return float(1 - 0.36 * ((t - 0.56) / 0.44) ** 2.2)


def shape_of(boat: DrawnBoat) -> Shape:
    """The views of a boat whose length is known."""
    scale = SPAN / (boat.length_m or 1.0)
    half = _clamp(boat.beam_m * scale * 1.45 / 2, 60, 88)
    above = DECK + (ALOFT if any(place.level == "aloft" for place in boat.places) else 0)
    top = PLAN_TOP + 2 * half + BETWEEN
    sheer = top + above + SHEER_RISE
    water = sheer + _clamp(boat.beam_m * scale * 0.3, 26, 40)
    keel = water + _clamp(boat.draught_m * scale * 1.15, 56, 76)
    return Shape(PLAN_TOP + half, half, top, sheer, water, keel)


def outlines(shape: Shape) -> tuple[Points, Points]:
    """Plan and profile."""
    plan = _closed(0, 1, 48, _plan_edges(shape, "across", 0, 1))
    return plan, _closed(0, 1, 48, (shape.sheer, shape.bottom))


def cells(boat: DrawnBoat, shape: Shape) -> list[Cell]:
    """Every place in the view that shows it best: the cabin in the plan, all else in profile."""
    found = []
    for place, t0, t1, side, lane, of in _in_lanes(boat.places, boat.length_m or 1.0, flat=False):
        if place.level == "cabin":
            edges = _plan_edges(shape, side, lane, of)
        else:
            edges = _profile_edges(shape, place.level, lane, of)
        found.append(Cell(place, _closed(t0, t1, 8, edges)))
    return found


def level_cells(boat: DrawnBoat, shape: Shape, level: str) -> list[Cell]:
    """The places of one level, seen from above."""
    places = [place for place in boat.places if place.level == level]
    return [
        Cell(place, _closed(t0, t1, 8, _plan_edges(shape, side, lane, of)))
        for place, t0, t1, side, lane, of in _in_lanes(places, boat.length_m or 1.0, flat=True)
    ]


Laned = tuple[DrawnPlace, float, float, str, int, int]
_Band = tuple[DrawnPlace, float, float]


def _in_lanes(places: Sequence[DrawnPlace], length_m: float, *, flat: bool) -> list[Laned]:
    """Cells that share a side and level, and would overlap, share its room in lanes."""
    bands = [_band(place, length_m) for place in places]
    groups: defaultdict[tuple[str, str], list[_Band]] = defaultdict(list)
    for band in bands:
        groups[band[0].level, _side_in(band, bands, flat)].append(band)
    return [laned for (_, side), group in groups.items() for laned in _lanes(group, side)]


def _band(place: DrawnPlace, length_m: float) -> _Band:
    low, high = sorted((place.from_m / length_m, place.to_m / length_m))
    t0 = min(max(low, 0.0), 1 - THINNEST)
    return place, t0, min(max(high, t0 + THINNEST), 1.0)


def _side_in(band: _Band, others: Sequence[_Band], flat: bool) -> str:
    """What goes right across keeps the middle where something else lies at its side."""
    place = band[0]
    if not flat and place.level != "cabin":
        return "across"
    if place.side != "across":
        return place.side
    crowded = any(
        other[0].level == place.level
        and other[0].side != "across"
        and min(band[2], other[2]) - max(band[1], other[1]) > TOUCHING
        for other in others
    )
    return "centre" if crowded else "across"


def _lanes(group: Sequence[_Band], side: str) -> list[Laned]:
    found: list[Laned] = []
    cluster: list[tuple[_Band, int]] = []
    ends: list[float] = []
    for band in sorted(group, key=lambda band: band[1]):
        if ends and max(ends) - band[1] <= TOUCHING:
            found += [(*one, side, lane, len(ends)) for one, lane in cluster]
            cluster, ends = [], []
        lane = next((at for at, end in enumerate(ends) if end - band[1] <= TOUCHING), len(ends))
        ends[lane : lane + 1] = [band[2]]
        cluster.append((band, lane))
    return found + [(*one, side, lane, len(ends)) for one, lane in cluster]


def _plan_edges(shape: Shape, side: str, lane: int, of: int) -> Edges:
    """Seen from above, bow left: starboard is the upper side."""
    begin, end = SIDES[side]
    step = (end - begin) / of

    def at(share: float) -> Edge:
        return lambda t: shape.middle + shape.half * breadth_at(t) * share

    return at(begin + lane * step), at(begin + (lane + 1) * step)


def _profile_edges(shape: Shape, level: str, lane: int, of: int) -> Edges:
    top, bottom = _level_edges(shape, level)

    def between(share: float) -> Edge:
        return lambda t: top(t) + (bottom(t) - top(t)) * share

    return between(lane / of), between((lane + 1) / of)


def _level_edges(shape: Shape, level: str) -> Edges:
    def deck(t: float) -> float:
        return shape.sheer(t) - DECK

    if level == "aloft":
        return (lambda _: shape.top), deck
    if level == "deck":
        return deck, shape.sheer
    return (lambda t: min(shape.water + 4, shape.bottom(t))), shape.bottom


def _closed(t0: float, t1: float, steps: int, edges: Edges) -> Points:
    along = [t0 + (t1 - t0) * at / steps for at in range(steps + 1)]
    there = [(MARGIN + SPAN * t, edges[0](t)) for t in along]
    back = [(MARGIN + SPAN * t, edges[1](t)) for t in reversed(along)]
    return (*there, *back)


def _clamp(value: float, low: float, high: float) -> float:
    return min(high, max(low, value))
