"""Statics of one to four sling legs between a hook and the eyes of a load.

Lengths in metres, masses in kilograms; a tension is the mass that would pull as hard, because
ratings are in kilograms too. Angles are from the vertical, in degrees. The load hangs freely: its
middle of mass comes to rest plumb under the hook, so the pull of the earth points from the hook
to the middle of mass, seen from the load.

Source: equilibrium of forces; checked against published tables in tests/outside.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple


class NotHung(ValueError):
    """The load can't hang so; the text says why and what would do."""


class Point(NamedTuple):
    """A place in metres: aft, to starboard, up."""

    aft: float
    off: float
    up: float

    def less(self, other: Point) -> Point:
        """The way here from another place."""
        return Point(self.aft - other.aft, self.off - other.off, self.up - other.up)

    def times(self, share: float) -> Point:
        """The same direction, longer or shorter."""
        return Point(self.aft * share, self.off * share, self.up * share)

    def plus(self, other: Point) -> Point:
        """The place that one reaches by going on by another."""
        return Point(self.aft + other.aft, self.off + other.off, self.up + other.up)

    def dot(self, other: Point) -> float:
        """Scalar product."""
        return self.aft * other.aft + self.off * other.off + self.up * other.up

    def cross(self, other: Point) -> Point:
        """Vector product."""
        return Point(
            self.off * other.up - self.up * other.off,
            self.up * other.aft - self.aft * other.up,
            self.aft * other.off - self.off * other.aft,
        )

    @property
    def length(self) -> float:
        """How long the way is."""
        return math.sqrt(self.dot(self))

    @property
    def unit(self) -> Point:
        """The same direction, one metre long. Raises: NotHung for a way of no length."""
        if self.length < TOO_NEAR_M:
            raise NotHung("The hook is in the eye or the middle of mass: put it higher.")
        return self.times(1 / self.length)


TOO_NEAR_M = 0.02
NONE_LEFT = 1e-9
MOST_LEGS = 4


@dataclass(frozen=True, slots=True)
class Leg:
    """One leg in the load as it hangs."""

    length_m: float
    angle_deg: float
    tension_kg: float


@dataclass(frozen=True, slots=True)
class Hanging:
    """A load at rest: its legs in the order of the eyes, and how far it hangs out of level.

    ``swing_m`` is how far the middle of mass moves sideways as the load comes free.
    """

    legs: tuple[Leg, ...]
    tilt_deg: float
    swing_m: float


def hang(mass_kg: float, centre: Point, hook: Point, eyes: Sequence[Point]) -> Hanging:
    """The legs of a load at rest.

    Args: mass_kg: above 0; hook: as rigged, slings taut; eyes: 1 to 4, as measured with the load
        standing level.
    Returns: by statics for one to three legs. With four no statics can say which carry, so each
        is reckoned as if only it and the one opposite did.
    Raises: NotHung.
    """
    _usable(mass_kg, centre, hook, eyes)
    if len(eyes) == 1:
        return _one(mass_kg, centre, hook, eyes[0])
    flat = math.hypot(centre.aft - hook.aft, centre.off - hook.off)
    if len(eyes) == 2:
        centre, swing = _in_plane(centre, eyes[0], eyes[1])
    else:
        swing = 0.0
    down = centre.less(hook).unit
    tensions = _tensions(mass_kg, down, hook, eyes)
    if min(tensions) < -NONE_LEFT * mass_kg:
        raise NotHung(
            "The middle of mass is not between the eyes: a leg would have to push. Move the eyes "
            "so that it lies inside them, or the hook over it."
        )
    along = math.degrees(math.acos(_within(-down.up)))
    legs = tuple(_leg(hook, eye, down, kg) for eye, kg in zip(eyes, tensions, strict=True))
    return Hanging(legs, math.hypot(along, swing), flat)


def two_legs(mass_kg: float, first_deg: float, second_deg: float) -> tuple[float, float]:
    """Tensions of two legs in one plane from their angles to the vertical, either side of plumb.

    Raises: NotHung where both are 0.
    """
    first, second = math.radians(first_deg), math.radians(second_deg)
    across = math.sin(first + second)
    if across < NONE_LEFT:
        raise NotHung("Two plumb legs on one hook are one leg: spread them.")
    return mass_kg * math.sin(second) / across, mass_kg * math.sin(first) / across


def equal_legs(mass_kg: float, legs: int, angle_deg: float) -> float:
    """The tension of each of equal legs that share a load evenly.

    Args: angle_deg: from the vertical, 0 to under 90.
    """
    return mass_kg / (legs * math.cos(math.radians(angle_deg)))


def _usable(mass_kg: float, centre: Point, hook: Point, eyes: Sequence[Point]) -> None:
    if not 1 <= len(eyes) <= MOST_LEGS:
        raise NotHung(f"{len(eyes)} eyes: this reckons 1 to 4 legs. Write down each eye used.")
    if mass_kg <= 0:
        raise NotHung("Nothing hangs on the hook: the mass must be more than 0 kg. Weigh it.")
    for at, eye in enumerate(eyes):
        if any(eye.less(other).length < TOO_NEAR_M for other in eyes[:at]):
            raise NotHung(
                "Two eyes are at the same place: they must be at least 2 cm apart. Measure again."
            )
        if hook.up - eye.up < TOO_NEAR_M:
            raise NotHung(
                f"The hook, {hook.up:g} m up, is not above an eye, {eye.up:g} m up: the hook must "
                "be higher than every eye."
            )
    if hook.up - centre.up < TOO_NEAR_M:
        raise NotHung("The hook is not above the middle of mass: put it higher.")


def _one(mass_kg: float, centre: Point, hook: Point, eye: Point) -> Hanging:
    """One leg hangs plumb; the load turns until its middle is under the eye."""
    drop = eye.up - centre.up
    if drop < TOO_NEAR_M:
        raise NotHung(
            "The only eye is not above the middle of mass: the load would turn over. Take an eye "
            "that is higher, or two or more."
        )
    aside = math.hypot(centre.aft - eye.aft, centre.off - eye.off)
    leg = Leg(hook.less(eye).length, 0.0, mass_kg)
    return Hanging((leg,), math.degrees(math.atan2(aside, drop)), aside)


def _in_plane(centre: Point, first: Point, second: Point) -> tuple[Point, float]:
    """The middle of mass after the load has swung about the line between two eyes, and by how much.

    The slings stay as they are; the load turns about its two eyes as about a hinge.
    """
    line = second.less(first).unit
    from_first = centre.less(first)
    foot = first.plus(line.times(from_first.dot(line)))
    arm = centre.less(foot)
    plumb = Point(0.0, 0.0, -1.0).less(line.times(-line.up))
    if plumb.length < TOO_NEAR_M:
        raise NotHung("The two eyes are above each other: choose eyes beside each other.")
    drop = arm.dot(plumb.unit)
    if drop < TOO_NEAR_M:
        raise NotHung(
            "The two eyes are not above the middle of mass: the load would turn over. Take higher "
            "eyes, or three or four."
        )
    return foot.plus(plumb.unit.times(arm.length)), math.degrees(
        math.acos(_within(drop / arm.length))
    )


def _tensions(mass_kg: float, down: Point, hook: Point, eyes: Sequence[Point]) -> list[float]:
    ways = [hook.less(eye).unit for eye in eyes]
    pull = down.times(-mass_kg)
    if len(eyes) == 2:
        return list(_pair(mass_kg, down, ways[0], ways[1]))
    if len(eyes) == 3:
        return _three(pull, ways)
    found = [0.0] * 4
    ring = _round(eyes)
    for one, other in ((ring[0], ring[2]), (ring[1], ring[3])):
        found[one], found[other] = _pair(mass_kg, down, ways[one], ways[other])
    return found


def _pair(mass_kg: float, down: Point, first: Point, second: Point) -> tuple[float, float]:
    """Two legs that carry all of it in their own plane."""
    normal = first.cross(second)
    if normal.length < NONE_LEFT:
        raise NotHung("Two legs lie in one line: move the hook or an eye.")
    flat = normal.times(1 / normal.length)
    up = down.times(-1).less(flat.times(-flat.dot(down)))
    pull = up.unit.times(mass_kg)
    whole = normal.dot(normal)
    return pull.cross(second).dot(normal) / whole, first.cross(pull).dot(normal) / whole


def _three(pull: Point, ways: Sequence[Point]) -> list[float]:
    """Three forces that make a fourth, by Cramer's rule."""
    first, second, third = ways
    whole = first.dot(second.cross(third))
    if abs(whole) < NONE_LEFT:
        raise NotHung("The three eyes stand in one line: move one of them aside, or use two.")
    return [
        pull.dot(second.cross(third)) / whole,
        first.dot(pull.cross(third)) / whole,
        first.dot(second.cross(pull)) / whole,
    ]


def _round(eyes: Sequence[Point]) -> list[int]:
    """Eyes in the order round their middle, so that opposite ones are two apart."""
    aft = math.fsum(eye.aft for eye in eyes) / len(eyes)
    off = math.fsum(eye.off for eye in eyes) / len(eyes)
    return sorted(
        range(len(eyes)), key=lambda at: math.atan2(eyes[at].off - off, eyes[at].aft - aft)
    )


def _leg(hook: Point, eye: Point, down: Point, kg: float) -> Leg:
    way = eye.less(hook)
    angle = math.degrees(math.acos(_within(way.unit.dot(down))))
    return Leg(way.length, angle, max(0.0, kg))


def _within(cosine: float) -> float:
    return min(1.0, max(-1.0, cosine))
