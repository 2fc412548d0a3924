"""Tanks: what each holds by its last sounding, what was drawn off into cans, what is still in it.

A can is an item whose ``drawn_from`` is the tank's item. What is in cans is counted by the items;
`still_in_tank` gives the rest, so that every litre is counted once.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shedtally.domain.boat import BoatRecords
from shedtally.domain.classify import name_of
from shedtally.domain.liquid import BASE_C, density_at
from shedtally.domain.lists import Spread
from shedtally.domain.records import Item, Sounding, Tank
from shedtally.domain.rulebook import Liquid, Rules, Three
from shedtally.domain.section import OutOfRange
from shedtally.domain.spread import total
from shedtally.domain.tank_level import Level, Tilt, level_of, litres_at, pipe_at, shape_of
from shedtally.domain.tank_lists import (
    Balance,
    Can,
    DipLine,
    DipTable,
    Sounded,
    TankLine,
    TankList,
)
from shedtally.domain.tank_shape import TankShape

STANDING = "Local rules and licensed trades come first."
ENTRY = "Nobody enters or leans into a tank without a tested atmosphere and a competent person."
_FLOOR_LITRES = 0.05


@dataclass(frozen=True, slots=True)
class Still:
    """What is still in one tank and stands for no item: litres and kilograms, None if not known."""

    item: str
    name: str
    liquid: str
    litres: Spread | None
    kg: Spread | None


def still_in_tank(boat: BoatRecords, rules: Rules) -> tuple[Still, ...]:
    """What is in the tanks that have not gone, less what was drawn into cans.

    A tank that nobody sounded, or whose sounding gives no litres, is there with None: an open
    quantity. One that was found empty is left out.
    """
    return tuple(
        Still(line.item, line.name, line.liquid, line.still_in, line.still_in_kg)
        for line in tank_list(boat, rules).tanks
        if not line.gone and (line.still_in is None or line.still_in.high > _FLOOR_LITRES)
    )


def tank_list(boat: BoatRecords, rules: Rules) -> TankList:
    """Every tank that was described, by name."""
    lines = [_line(boat, rules, tank) for _, tank in sorted(boat.tanks.items())]
    here = [line for line in lines if not line.gone]
    cautions = dict.fromkeys(caution for line in lines for caution in line.cautions)
    return TankList(
        tanks=tuple(sorted(lines, key=lambda line: (line.name, line.key))),
        litres=total(line.still_in for line in here if line.still_in),
        kg=total(line.still_in_kg for line in here if line.still_in_kg),
        open=tuple(sorted(line.name for line in here if line.still_in is None)),
        cautions=(*cautions, ENTRY, STANDING) if lines else (),
    )


def _line(boat: BoatRecords, rules: Rules, tank: Tank) -> TankLine:
    item = boat.items.get(tank.of or "") or Item(key=tank.of or "")
    liquid = rules.liquids.get(tank.liquid or "")
    shape, refused = _shape(boat, tank)
    soundings = _soundings(boat, tank)
    read = [_sounded(boat, rules, tank, sounding) for sounding in soundings]
    cans = _cans(boat, rules, item, liquid, read)
    balance = _balance(boat, read, cans)
    last = read[-1] if read else None
    still = balance.left
    return TankLine(
        key=tank.key,
        item=item.key,
        name=name_of(item, rules.kinds.get(item.kind or "")),
        tags=boat.codes.get(f"item/{item.key}", ()),
        where=boat.path(item.compartment),
        gone=item.whereabouts == "gone",
        shape=tank.shape or "",
        liquid=liquid.name if liquid else (tank.liquid or ""),
        capacity_l=shape.capacity_l if shape else None,
        rest_l=_rest(tank, shape, rules) if shape else None,
        refused=refused,
        last=last,
        cans=cans,
        balance=balance,
        still_in=still,
        still_in_kg=_now_kg(still, last),
        dips=_dips(tank, shape, soundings),
        cautions=liquid.cautions if liquid else (),
    )


def _shape(boat: BoatRecords, tank: Tank) -> tuple[TankShape | None, str]:
    try:
        return shape_of(tank, boat.dip_marks.values()), ""
    except OutOfRange as why:
        return None, str(why)


def _soundings(boat: BoatRecords, tank: Tank) -> list[Sounding]:
    """In order of time; one without a time counts by when its record was made."""
    mine = [sounding for sounding in boat.soundings.values() if sounding.tank == tank.key]
    return sorted(mine, key=lambda sounding: (sounding.on or "", sounding.key))


def _rest(tank: Tank, shape: TankShape, rules: Rules) -> float:
    if tank.unpumpable_l is not None:
        return min(tank.unpumpable_l, shape.capacity_l)
    return rules.reading.rest_share * shape.capacity_l


def _sounded(boat: BoatRecords, rules: Rules, tank: Tank, sounding: Sounding) -> Sounded:
    shape, refused = _shape(boat, tank)
    level: Level | None = None
    if shape:
        try:
            level = level_of(tank, shape, sounding, rules.reading)
        except OutOfRange as why:
            refused = str(why)
    density, why_not = _density(rules, tank, sounding)
    kg = _times(level.liquid, density) if level and density else None
    sludge_kg = _times(level.sludge, rules.reading.sludge_density) if level else None
    rest = _rest(tank, shape, rules) if shape else 0.0
    return Sounded(
        key=sounding.key,
        on=sounding.on or "",
        read=_read(sounding),
        full=level.full if level else None,
        liquid=level.liquid if level else None,
        sludge=level.sludge if level else None,
        usable=_less(level.full, max(rest, level.sludge.likely)) if level else None,
        kg=kg,
        sludge_kg=sludge_kg,
        density_kg_m3=density.likely if density else None,
        refused="; ".join(part for part in (refused, why_not) if part),
        assumed=_assumed(rules, tank, sounding, level),
    )


def _read(sounding: Sounding) -> str:
    level = "no level" if sounding.level_mm is None else f"{sounding.level_mm:g} mm"
    parts = [f"{sounding.how or 'dip'} {level}"]
    if sounding.sludge_mm:
        parts.append(f"sludge {sounding.sludge_mm:g} mm")
    if sounding.temperature_c is not None:
        parts.append(f"{sounding.temperature_c:g} °C")
    return ", ".join(parts)


def _density(rules: Rules, tank: Tank, sounding: Sounding) -> tuple[Three | None, str]:
    """kg/m3 at the liquid's temperature, low, likely and high."""
    liquid = rules.liquids.get(tank.liquid or "")
    if liquid is None:
        return None, "" if not tank.liquid else f"no densities are known for {tank.liquid}"
    at_15 = liquid.density
    if sounding.density_kg_m3 is not None:
        likely, off = sounding.density_kg_m3, rules.reading.density_share
        at_15 = Three(likely * (1 - off), likely, likely * (1 + off))
        if not liquid.lightest <= likely <= liquid.heaviest:
            return None, (
                f"density {likely:g} kg/m3 is none of {liquid.name.lower()}; "
                f"{liquid.lightest:g} to {liquid.heaviest:g} kg/m3 at 15 °C"
            )
    try:
        return _density_three(rules, liquid, at_15, sounding.temperature_c), ""
    except OutOfRange as why:
        return None, str(why)


def _density_three(rules: Rules, liquid: Liquid, at_15: Three, measured: float | None) -> Three:
    cold, now, warm = rules.reading.temperature_unknown
    likely = density_at(liquid, at_15.likely, now if measured is None else measured)
    if measured is None:
        heavy, light = (density_at(liquid, at_15.likely, t) for t in (cold, warm))
    else:
        # Near the end of the table the doubt of the thermometer is taken on the inside only.
        off = rules.reading.temperature_k * (-1 if measured > BASE_C else 1)
        swing = abs(density_at(liquid, at_15.likely, measured + off) - likely)
        heavy, light = likely + swing, likely - swing
    scale = likely / at_15.likely
    down = math.hypot((at_15.likely - at_15.low) * scale, max(0.0, likely - min(heavy, light)))
    up = math.hypot((at_15.high - at_15.likely) * scale, max(0.0, max(heavy, light) - likely))
    return Three(likely - down, likely, likely + up)


def _assumed(rules: Rules, tank: Tank, sounding: Sounding, level: Level | None) -> tuple[str, ...]:
    found = list(level.assumed) if level else []
    liquid = rules.liquids.get(tank.liquid or "")
    if liquid and sounding.density_kg_m3 is None:
        found.append(f"Density {liquid.density.likely:g} kg/m3 at 15 °C, as is usual.")
    if liquid and sounding.temperature_c is None:
        low, likely, high = rules.reading.temperature_unknown
        found.append(f"Temperature {likely:g} °C, {low:g} to {high:g}.")
    if tank.unpumpable_l is None:
        found.append(f"The pump leaves {rules.reading.rest_share * 100:g} % (common practice).")
    return tuple(found)


def _times(litres: Spread, density: Three) -> Spread:
    """Kilograms; independent relative errors add in squares on each side."""
    likely = litres.likely * density.likely / 1000
    if not likely:
        return Spread(0.0, 0.0, litres.high * density.high / 1000, "calculated")
    down = math.hypot(1 - litres.low / litres.likely, 1 - density.low / density.likely)
    up = math.hypot(litres.high / litres.likely - 1, density.high / density.likely - 1)
    return Spread(likely * max(0.0, 1 - down), likely, likely * (1 + up), "calculated")


def _less(litres: Spread, taken: float) -> Spread:
    low, likely, high = (
        max(0.0, litres.low - taken),
        max(0.0, litres.likely - taken),
        max(0.0, litres.high - taken),
    )
    return Spread(low, likely, high, litres.basis)


def _cans(
    boat: BoatRecords, rules: Rules, item: Item, liquid: Liquid | None, read: Sequence[Sounded]
) -> tuple[Can, ...]:
    density = next((row.density_kg_m3 for row in reversed(read) if row.density_kg_m3), None)
    if density is None and liquid:
        density = liquid.density.likely
    drawn = [
        can for can in boat.items.values() if item.key and can.drawn_from == item.key != can.key
    ]
    return tuple(
        Can(
            key=can.key,
            name=name_of(can, rules.kinds.get(can.kind or "")),
            tags=boat.codes.get(f"item/{can.key}", ()),
            litres=_litres(can, density),
            kg=_kilograms(can, density),
        )
        for can in sorted(drawn, key=lambda can: (can.out_at or "", can.key))
    )


def _litres(can: Item, density: float | None) -> float | None:
    if can.volume_l is not None:
        return can.volume_l * (can.count or 1)
    if can.mass_kg is not None and density:
        return can.mass_kg * (can.count or 1) / density * 1000
    return None


def _kilograms(can: Item, density: float | None) -> float | None:
    if can.mass_kg is not None:
        return can.mass_kg * (can.count or 1)
    if can.volume_l is not None and density:
        return can.volume_l * (can.count or 1) * density / 1000
    return None


def _balance(boat: BoatRecords, read: Sequence[Sounded], cans: Sequence[Can]) -> Balance:
    """What the soundings before and after the drawing off say beside the cans."""
    told = [row for row in read if row.full]
    drawn = math.fsum(can.litres for can in cans if can.litres is not None)
    if not told:
        return Balance(None, drawn, None, None, "")
    times = sorted(out for can in cans if (out := boat.items[can.key].out_at))
    first = next((row for row in reversed(told) if times and row.on <= times[0]), told[0])
    last = told[-1]
    after = last.on > (times[-1] if times else first.on) and last is not first
    before = first.full
    if not cans:
        return Balance(last.full, 0.0, last.full, None, "")
    if before is None:  # not reached: `told` has litres; for the types
        return Balance(None, drawn, None, None, "")
    over = drawn > before.high
    said = (
        f"The cans hold {drawn:.0f} L, more than the {before.high:.0f} L at most that the tank "
        "held: look at the cans and the sounding again."
        if over
        else ""
    )
    if first is last and times and last.on > times[-1]:
        # Sounded only when all cans were full: what it held before was never read.
        return Balance(None, drawn, last.full, None, "")
    if after and last.full:
        missing = before.likely - drawn - last.full.likely
        return Balance(
            before, drawn, last.full, missing, said or _adds_up(before, last.full, missing)
        )
    return Balance(before, drawn, _less(before, drawn), None, said)


def _adds_up(before: Spread, left: Spread, missing: float) -> str:
    doubt = math.hypot(before.high - before.low, left.high - left.low) / 2
    if abs(missing) <= doubt:
        return f"Adds up within what the soundings can tell ({doubt:.0f} L)."
    if missing > 0:
        return f"{missing:.0f} L are in no can: look for a can not entered yet, a leak or a spill."
    return f"{-missing:.0f} L more than it held: was it filled again, or a can counted twice?"


def _now_kg(still: Spread | None, last: Sounded | None) -> Spread | None:
    """Kilograms of what is still in: the sludge stays, and the liquid over it shrinks."""
    if still is None or last is None or not last.sludge or not last.sludge_kg:
        return None
    if last.density_kg_m3 is None or not last.kg or not last.liquid:
        return None
    if last.liquid.likely <= 0:
        return last.sludge_kg
    share = max(0.0, still.likely - last.sludge.likely) / last.liquid.likely
    liquid = Spread(last.kg.low * share, last.kg.likely * share, last.kg.high * share, "calculated")
    return total([liquid, last.sludge_kg]) if last.sludge_kg.likely else liquid


def _dips(tank: Tank, shape: TankShape | None, soundings: Sequence[Sounding]) -> DipTable | None:
    """Litres by centimetre of stick, for the tilt of the last sounding."""
    if shape is None:
        return None
    last = soundings[-1] if soundings else Sounding(key="")
    tilt = Tilt(last.bow_up_deg or 0.0, last.starboard_down_deg or 0.0)
    try:
        from_mm = shape.floor_mm(*pipe_at(tank, shape))
        levels = [*range(0, int(shape.height_mm - from_mm) + 1, 10)]
        lines = tuple(DipLine(mm, litres_at(tank, shape, from_mm + mm, tilt)) for mm in levels)
    except OutOfRange:
        return None
    return DipTable(tilt.bow_up_deg, tilt.starboard_down_deg, shape.capacity_l, lines)
