"""The list of trim: how the boat floats now, and how she will once the work is done.

She stands ashore, so the figures are what will be seen at launch.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shedtally.domain.boat import BoatRecords
from shedtally.domain.floating import ledger
from shedtally.domain.floating.hydrostatics import at_the_ends, list_deg
from shedtally.domain.floating.ledger import Entry
from shedtally.domain.floating.lists import BoatShape, Floats, TrimList
from shedtally.domain.floating.waterplane import Waterplane, faults_of, missing_of, waterplane_of
from shedtally.domain.lifting.lists import Reach
from shedtally.domain.records import Boat
from shedtally.domain.rulebook import Rules, Three
from shedtally.domain.rulebook.floating import FloatRules
from shedtally.domain.tanks.contents import Contents, with_contents


@dataclass(frozen=True, slots=True)
class Case:
    """What both states are reckoned with; ``plane`` None where nothing can be."""

    boat: BoatRecords
    rules: Rules
    plane: Waterplane | None
    why_not: tuple[str, ...]


def trim_list(boat: BoatRecords, rules: Rules) -> TrimList:
    """How she floats now and after the work, against how she floated with everything aboard.

    Source: rules/floating.toml for what stands in for her lines, and for the limits.
    """
    contents = with_contents(boat, rules)
    boat, masses = _with_their_tanks(contents), contents.masses
    record, floating = boat.boat, rules.floating
    water = record.afloat_in or "sea"
    faults, missing = faults_of(record), missing_of(record)
    plane = None
    if not faults and not missing:
        plane = waterplane_of(record, floating, floating.water[water])
    wants = (f"Not known: {'; '.join(missing)}. Enter it on the boat's page.",) if missing else ()
    case = Case(boat, rules, plane, (*faults, *wants))
    return TrimList(
        water=water,
        facts=plane.facts if plane else (),
        states=(
            _floats(case, "now", "As she stands now", ledger.as_she_stands(boat, masses)),
            _floats(case, "after", "After the work", ledger.after_the_work(boat, masses)),
        ),
        shape=_shape(record, plane),
        missing=(*faults, *missing),
        warnings=_warnings(record, plane),
        sources=tuple(rules.sources[key].title for key in floating.sources),
    )


def _with_their_tanks(contents: Contents) -> BoatRecords:
    """The boat with what is still in tanks, which comes off, leaves or goes in with its tank."""
    items = contents.boat.items
    moved = {}
    for key in contents.rests:
        holder = items[items[key].part_of or ""]
        moved[key] = replace(items[key], fate=holder.fate, never_aboard=holder.never_aboard)
    return replace(contents.boat, items={**items, **moved})


def _floats(case: Case, state: str, name: str, entries: Sequence[Entry]) -> Floats:
    mass = ledger.mass_of_all(entries)
    moved = ledger.lines(entries, case.boat, case.rules)
    blank = Floats(state, name, mass, None, None, None, None, None, None, None, case.why_not, moved)
    if case.plane is None:
        return blank
    record, limits = case.boat.boat, case.rules.floating
    sunk = over(mass, case.plane.per_cm)
    trimmed = over(ledger.moment_aft(entries, case.plane.centre_m), case.plane.moment)
    refused = _too_much(case, mass, sunk, trimmed)
    if refused:
        return Floats(state, name, mass, None, None, None, None, None, None, None, refused, moved)
    fore, aft = _ends(sunk, trimmed, case.plane)
    heel, why = _list(record, limits, entries, mass)
    return Floats(
        id=state,
        name=name,
        mass=mass,
        sinkage_cm=sunk,
        trim_cm=trimmed,
        fore_cm=fore,
        aft_cm=aft,
        draught_fore_m=_deeper(record.draught_fore_m, fore),
        draught_aft_m=_deeper(record.draught_aft_m, aft),
        list_deg=heel,
        refused=(why,) if why else (),
        moved=moved,
    )


def over(top: Reach, bottom: Three) -> Reach:
    """A quotient whose two parts are unsure by themselves; each side adds in squares.

    Args: bottom: above 0 throughout.
    """
    likely = top.likely / bottom.likely
    by = sorted(
        (likely * (bottom.likely / bottom.low - 1), likely * (bottom.likely / bottom.high - 1))
    )
    down = math.hypot((top.likely - top.low) / bottom.likely, by[0])
    up = math.hypot((top.high - top.likely) / bottom.likely, by[1])
    return Reach(likely - down, likely, likely + up)


def _ends(sunk: Reach, trimmed: Reach, plane: Waterplane) -> tuple[Reach, Reach]:
    length = plane.waterline_m.likely
    at = min(length, max(0.0, plane.centre_m.likely - plane.overhang_m.likely))
    fore, aft = at_the_ends(sunk.likely, trimmed.likely, length, at)
    sinks = (sunk.likely - sunk.low, sunk.high - sunk.likely)
    trims = (trimmed.likely - trimmed.low, trimmed.high - trimmed.likely)
    # By the stern the bow comes up: what makes the trim more makes the bow less deep.
    return (
        _around(fore, sinks, (trims[1] * at / length, trims[0] * at / length)),
        _around(aft, sinks, (trims[0] * (1 - at / length), trims[1] * (1 - at / length))),
    )


def _around(likely: float, *sides: tuple[float, float]) -> Reach:
    down, up = (math.hypot(*column) for column in zip(*sides, strict=True))
    return Reach(likely - down, likely, likely + up)


def _deeper(draught_m: float | None, by_cm: Reach) -> float | None:
    return None if draught_m is None else draught_m + by_cm.likely / 100


def _too_much(case: Case, mass: Reach, sunk: Reach, trimmed: Reach) -> tuple[str, ...]:
    """Why the plain formulas say nothing any more; empty where they do."""
    record, limits, plane = case.boat.boat, case.rules.floating, case.plane
    found = []
    if record.displacement_kg:
        most = record.displacement_kg * limits.share_of_displacement
        if abs(mass.likely) > most:
            found.append(
                f"{abs(mass.likely):.0f} kg is too much of her {record.displacement_kg:.0f} kg: "
                f"small changes only, up to {most:.0f} kg."
            )
    if record.draught_m:
        most = record.draught_m * limits.share_of_draught * 100
        if abs(sunk.likely) > most:
            found.append(
                f"{abs(sunk.likely):.0f} cm is too much of her draught: up to {most:.0f} cm."
            )
    length = plane.waterline_m.likely if plane else 1.0
    angle = math.degrees(math.atan(trimmed.likely / 100 / length))
    if abs(angle) > limits.trim_deg:
        found.append(
            f"She would trim {abs(angle):.1f}°: up to {limits.trim_deg:g}° is reckoned. Check "
            "where the heaviest things sat."
        )
    return tuple(found)


def _list(
    record: Boat, limits: FloatRules, entries: Sequence[Entry], mass: Reach
) -> tuple[Reach | None, str]:
    """The list to starboard, or why there is none."""
    gm, displacement = record.gm_m, record.displacement_kg
    if gm is None or displacement is None:
        lacks = " and ".join(
            name for name, value in (("GM", gm), ("displacement", displacement)) if value is None
        )
        return (
            None,
            f"No list: her {lacks} is not known, and can't be guessed from her size. Enter it.",
        )
    if gm <= 0:
        return None, f"No list: a GM of {gm:g} m is not stable; it must be more than 0 m."
    left = displacement + mass.likely
    moment = ledger.moment_off(entries)
    found = Reach(
        *(list_deg(value, left, gm) for value in (moment.low, moment.likely, moment.high))
    )
    if abs(found.likely) > limits.list_deg:
        return None, (
            f"No list: {abs(found.likely):.0f}° is beyond small angles, up to "
            f"{limits.list_deg:g}° is reckoned. Check where the heaviest things sat."
        )
    if (found.high - found.low) / 2 > limits.list_spread_deg:
        return None, (
            f"No list: {found.likely:.1f}° may be {(found.high - found.low) / 2:.0f}° off, at most "
            f"{limits.list_spread_deg:g}° is shown. Write where the heaviest things sat."
        )
    return found, ""


def _shape(record: Boat, plane: Waterplane | None) -> BoatShape:
    return BoatShape(
        length_m=record.length_m or (plane.waterline_m.likely if plane else None),
        beam_m=record.beam_m or record.waterline_beam_m,
        draught_m=record.draught_m,
        overhang_m=plane.overhang_m.likely if plane else None,
        waterline_m=plane.waterline_m.likely if plane else None,
    )


def _warnings(record: Boat, plane: Waterplane | None) -> tuple[str, ...]:
    found = ["She stands ashore: these are the changes that will be seen at launch."]
    if plane and any("estimated" in fact.how for fact in plane.facts):
        found.append(
            "Some figures are estimated from length and beam: those of her lines plan are better."
        )
    if record.gm_m is not None:
        found.append(
            "GM is taken as entered. Weight taken off low down, like ballast, tanks or an engine, "
            "lessens it."
        )
    found.append(
        "This is no check of stability: ask a naval architect before a launch with ballast off."
    )
    return tuple(found)
