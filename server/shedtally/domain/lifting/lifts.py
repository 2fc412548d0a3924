"""The list of lifts: what hangs on the hook, how it hangs, and what each leg pulls."""

from __future__ import annotations

import itertools
from dataclasses import replace

from shedtally.domain.aboard.named import name_of
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lifting.lists import LiftLeg, LiftLine, LiftList
from shedtally.domain.lifting.on_hook import load_of
from shedtally.domain.lifting.rig import Centre, Rig, centre_of, eyes_of, hook_of, point_of
from shedtally.domain.lifting.sling import Hanging, NotHung, Point, hang
from shedtally.domain.masses.spread import NOTHING
from shedtally.domain.masses.weighing import Masses
from shedtally.domain.records import Eye, Item, Lift
from shedtally.domain.rulebook import Rules
from shedtally.domain.rulebook.floating import LiftRules
from shedtally.domain.tanks.contents import with_contents

WITHIN, OVER, NOT_SAID = "within its rating", "over its rating: not so", "no rating written"
UNSURE = (
    "The middle of mass may lie outside the eyes, as unsure as it is: lift a hand's breadth and "
    "look before anything else."
)


def lift_list(boat: BoatRecords, rules: Rules) -> LiftList:
    """Every lift that was written down, the latest first.

    Source: rules/floating.toml for limits, allowances and cautions.
    """
    contents = with_contents(boat, rules)
    boat, masses = contents.boat, contents.masses
    lines = [_line(lift, boat, rules, masses) for lift in boat.lifts.values()]
    lifting = rules.lifting
    return LiftList(
        lifts=tuple(sorted(lines, key=lambda row: (row.on, row.key), reverse=True)),
        cautions=lifting.cautions,
        dynamic=lifting.dynamic,
        sources=tuple(rules.sources[key].title for key in lifting.sources),
    )


def _line(lift: Lift, boat: BoatRecords, rules: Rules, masses: Masses) -> LiftLine:
    item = boat.items.get(lift.of or "")
    blank = _blank(lift, item, boat, rules)
    if item is None:
        return replace(blank, refused="What is lifted is not here: pick the item.")
    load = load_of(item, boat, rules, masses.estimates)
    blank = replace(
        blank,
        mass=load.mass,
        why=masses.estimates[item.key][1].why,
        parts=load.parts,
        asks=load.asks,
        hook_kg=load.mass.high * rules.lifting.dynamic,
    )
    try:
        return _hung(blank, Rig(lift, item, load, boat, rules.lifting))
    except NotHung as why:
        return replace(blank, refused=str(why))


def _blank(lift: Lift, item: Item | None, boat: BoatRecords, rules: Rules) -> LiftLine:
    named = name_of(item, rules.kinds.get(item.kind or "")) if item else ""
    return LiftLine(
        key=lift.key,
        name=lift.name or (f"Lift of {named}" if named else "Lift"),
        item=lift.of or "",
        item_name=named,
        tags=boat.codes.get(f"item/{lift.of}", ()),
        on=lift.on or "",
        refused="",
        mass=NOTHING,
        why="",
        parts=(),
        centre=(),
        centre_how="",
        hook=(),
        measured_from=lift.measured_from or "",
        hook_kg=0.0,
        hook_rated_kg=lift.hook_rated_kg,
        hook_verdict="",
        tilt_deg=0.0,
        swing_m=0.0,
        legs=(),
        outside="",
        warnings=(),
        asks=(),
    )


def _hung(blank: LiftLine, rig: Rig) -> LiftLine:
    lift, load, rules = rig.lift, rig.load, rig.rules
    if not load.known or load.mass.likely <= 0:
        raise NotHung(
            "Nobody knows what it weighs: weigh it, read its plate, or choose its kind. A lift "
            "takes a mass of more than 0 kg."
        )
    eyes = eyes_of(lift, rig.boat)
    points = [point_of(eye) for eye in eyes]
    centre = centre_of(rig, points)
    hook = hook_of(lift, centre.at, points)
    hanging = hang(load.mass.likely, centre.at, hook, points)
    _allowed(hanging, rules)
    most, unsure = _worst(blank.hook_kg, centre, hook, points)
    legs = tuple(
        LiftLeg(
            eye=eye.key,
            name=eye.name or f"Eye {at}",
            aft_m=point.aft,
            off_m=point.off,
            up_m=point.up,
            length_m=leg.length_m,
            angle_deg=leg.angle_deg,
            tension_kg=leg.tension_kg,
            most_kg=kg,
            rated_kg=_rating(lift, eye),
            verdict=_verdict(kg, _rating(lift, eye)),
        )
        for at, (eye, point, leg, kg) in enumerate(
            zip(eyes, points, hanging.legs, most, strict=True), start=1
        )
    )
    return replace(
        blank,
        centre=centre.reaches(),
        centre_how=centre.how,
        hook=tuple(hook),
        hook_verdict=_verdict(blank.hook_kg, lift.hook_rated_kg),
        tilt_deg=hanging.tilt_deg,
        swing_m=hanging.swing_m,
        legs=legs,
        outside=_outside(lift, hanging, blank.hook_kg, rules),
        warnings=(*_warnings(hanging, centre, points, rules), *((UNSURE,) if unsure else ())),
    )


def _allowed(hanging: Hanging, rules: LiftRules) -> None:
    widest = max(leg.angle_deg for leg in hanging.legs)
    if widest > rules.most_angle_deg + 1e-6:
        raise NotHung(
            f"A leg stands {widest:.0f}° from the vertical: 0 to {rules.most_angle_deg:.0f}° is "
            "allowed. Take longer slings, so that the hook is higher, or a spreader."
        )
    if hanging.tilt_deg > rules.most_tilt_deg:
        raise NotHung(
            f"It would hang {hanging.tilt_deg:.0f}° out of level: up to {rules.most_tilt_deg:.0f}° "
            "is reckoned. Bring the hook or the eyes over the middle of mass."
        )


def _worst(kg: float, centre: Centre, hook: Point, eyes: list[Point]) -> tuple[list[float], bool]:
    """The most that each leg may pull, the middle of mass anywhere in its spread.

    Returns: also whether it might lie where the load can't hang so.
    """
    most, unsure = [0.0] * len(eyes), False
    for signs in itertools.product((-1, 0, 1), repeat=2):
        aside = Point(signs[0] * centre.sure.aft, signs[1] * centre.sure.off, 0.0)
        try:
            legs = hang(kg, centre.at.plus(aside), hook, eyes).legs
        except NotHung:
            unsure = True
            continue
        most = [max(old, leg.tension_kg) for old, leg in zip(most, legs, strict=True)]
    return most, unsure


def _rating(lift: Lift, eye: Eye) -> float | None:
    """The weaker of an eye and the leg on it."""
    known = [kg for kg in (eye.rated_kg, lift.leg_rated_kg) if kg is not None]
    return min(known, default=None)


def _verdict(kg: float, rated: float | None) -> str:
    if rated is None:
        return NOT_SAID
    return WITHIN if kg <= rated else OVER


def _outside(lift: Lift, hanging: Hanging, kg: float, rules: LiftRules) -> str:
    """The same by the factors of the standard, which know nothing of where the middle is."""
    if lift.leg_rated_kg is None:
        return ""
    widest = max(leg.angle_deg for leg in hanging.legs)
    times = uniform_times(rules, len(hanging.legs), widest)
    if times is None:
        return ""
    may = times * lift.leg_rated_kg
    return (
        f"By the standard's factor of {times:g} these slings may carry {may:.0f} kg, and "
        f"{kg:.0f} kg may hang on them: {'enough' if kg <= may else 'not enough'}."
    )


def uniform_times(rules: LiftRules, legs: int, angle_deg: float) -> float | None:
    """Times the rating of one leg that slings may carry; None beyond the angles of the standard."""
    rows = [row for row in rules.uniform if row.legs == legs and angle_deg <= row.to_deg + 1e-6]
    return min(rows, key=lambda row: row.to_deg).times if rows else None


def _warnings(hanging: Hanging, centre: Centre, eyes: list[Point], rules: LiftRules) -> list[str]:
    legs = len(eyes)
    found = []
    if legs == 4:
        found.append(
            "Four legs: which of them carry can't be told, so each two that are opposite are "
            "reckoned to carry all of it."
        )
    if max(leg.angle_deg for leg in hanging.legs) > rules.wide_angle_deg:
        found.append(
            f"A leg stands more than {rules.wide_angle_deg:.0f}° from the vertical: each degree "
            "more costs a lot, longer slings are better."
        )
    if hanging.tilt_deg > rules.tilt_said_deg:
        found.append(
            f"It will hang {hanging.tilt_deg:.0f}° out of level and its middle moves "
            f"{hanging.swing_m * 100:.0f} cm sideways as it comes free."
        )
    if legs > 2 and centre.at.up > max(eye.up for eye in eyes):
        found.append("The middle of mass is above the eyes: the load may turn over. Lash it.")
    return found
