"""Where the eyes, the hook and the middle of mass of a lift are."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shedtally.domain.aboard.position import position_of
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lifting.lists import Reach
from shedtally.domain.lifting.on_hook import Load
from shedtally.domain.lifting.sling import NotHung, Point
from shedtally.domain.records import Eye, Item, Lift
from shedtally.domain.rulebook.floating import LiftRules

LEAST_SURE_M = 0.03
SHIFTED = " The parts that came off or are still on have moved it."


@dataclass(frozen=True, slots=True)
class Rig:
    """A lift with what hangs on it."""

    lift: Lift
    item: Item
    load: Load
    boat: BoatRecords
    rules: LiftRules


@dataclass(frozen=True, slots=True)
class Centre:
    """The middle of mass, how far it may be off each way, and where that comes from."""

    at: Point
    sure: Point
    how: str

    def reaches(self) -> tuple[Reach, ...]:
        """Aft, to starboard, up."""
        return tuple(
            Reach(at - sure, at, at + sure) for at, sure in zip(self.at, self.sure, strict=True)
        )


def eyes_of(lift: Lift, boat: BoatRecords) -> list[Eye]:
    """The eyes of a lift, by name. Raises: NotHung."""
    eyes = sorted((eye for eye in boat.eyes.values() if eye.lift == lift.key), key=_by_name)
    if not eyes:
        raise NotHung("No eye is written down: add each eye that a leg goes to, 1 to 4.")
    for eye in eyes:
        if eye.aft_m is None or eye.off_m is None or eye.up_m is None:
            raise NotHung(
                f"{eye.name or 'An eye'} has no place yet: measure along, across and up to it."
            )
    return eyes


def _by_name(eye: Eye) -> tuple[str, str]:
    return eye.name or "", eye.key


def point_of(eye: Eye) -> Point:
    """Where an eye is."""
    return Point(eye.aft_m or 0.0, eye.off_m or 0.0, eye.up_m or 0.0)


def centre_of(rig: Rig, eyes: list[Point]) -> Centre:
    """Where the middle of mass is now, after what came off has moved it. Raises: NotHung."""
    lift, item = rig.lift, rig.item
    size = max((one.less(other).length for one in eyes for other in eyes), default=0.0)
    usual = max(LEAST_SURE_M, size * rig.rules.centre_sure_share)
    sure = usual if lift.centre_sure_m is None else lift.centre_sure_m
    if None not in (lift.centre_aft_m, lift.centre_off_m, lift.centre_up_m):
        start = Point(lift.centre_aft_m or 0.0, lift.centre_off_m or 0.0, lift.centre_up_m or 0.0)
        how = "As measured, or found by a trial lift."
    elif lift.measured_from or None in (item.aft_m, item.off_m, item.up_m):
        raise NotHung(
            "Nobody said where the load's middle of mass is: write how far along, across and up "
            "from the point that you measure from. Of an engine with its gearbox it is usually "
            "near the rear of the block; a trial lift by a hand's breadth shows it."
        )
    else:
        start = Point(item.aft_m or 0.0, item.off_m or 0.0, item.up_m or 0.0)
        how = "Where the item sits in the boat."
    return _moved(rig, start, sure, how)


def _moved(rig: Rig, start: Point, sure: float, how: str) -> Centre:
    """Parts that came off or were added shift the middle, by where they sit beside the item."""
    load, boat = rig.load, rig.boat
    here = position_of(rig.item, boat)
    whole, shift, squares = load.mass.likely, Point(0.0, 0.0, 0.0), [sure**2] * 3
    for part in (part for part in load.parts if part.sign):
        there = position_of(boat.items[part.key], boat)
        sides = (there.aft_m, there.off_m, there.up_m), (here.aft_m, here.off_m, here.up_m)
        arms = [other.likely - own.likely for other, own in zip(*sides, strict=True)]
        share = part.sign * part.mass.likely / whole
        unsure = (part.mass.high - part.mass.low) / 2 / whole
        written = len(there.written) == len(here.written) == len(arms)
        if not written:
            squares = [at + (share * 0.5) ** 2 for at in squares]
            continue
        shift = shift.plus(Point(*arms).times(share))
        squares = [at + (arm * unsure) ** 2 for at, arm in zip(squares, arms, strict=True)]
        how = how.removesuffix(SHIFTED) + SHIFTED
    return Centre(start.plus(shift), Point(*map(math.sqrt, squares)), how)


def hook_of(lift: Lift, centre: Point, eyes: list[Point]) -> Point:
    """Where the hook is; plumb over the middle of mass where nobody said. Raises: NotHung."""
    if lift.hook_up_m is None:
        raise NotHung("How high is the hook with the slings taut? Measure it, or hold them up.")
    over = centre
    if len(eyes) == 1:
        over = eyes[0]
    elif len(eyes) == 2:
        line = eyes[1].less(eyes[0])
        flat = Point(line.aft, line.off, 0.0)
        if flat.length > 0:
            share = centre.less(eyes[0]).dot(flat) / flat.dot(flat)
            over = eyes[0].plus(flat.times(share))
    aft = over.aft if lift.hook_aft_m is None else lift.hook_aft_m
    off = over.off if lift.hook_off_m is None else lift.hook_off_m
    return Point(aft, off, lift.hook_up_m)
