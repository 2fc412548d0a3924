"""One sounding read: litres and kilograms with their spread, or the reason and range why not."""

from __future__ import annotations

import math

from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import Spread
from shedtally.domain.masses.section import OutOfRange
from shedtally.domain.records import Sounding, Tank
from shedtally.domain.records.moments import seconds_of
from shedtally.domain.rulebook import Liquid, Rules, Three
from shedtally.domain.tanks.level import Level, level_of, shape_of
from shedtally.domain.tanks.liquid import BASE_C, density_at
from shedtally.domain.tanks.lists import Sounded
from shedtally.domain.tanks.shape import TankShape


def shape_or_why(boat: BoatRecords, tank: Tank) -> tuple[TankShape | None, str]:
    """The inside of a tank, or why its sizes give none."""
    try:
        return shape_of(tank, boat.dip_marks.values()), ""
    except OutOfRange as why:
        return None, str(why)


def soundings_of(boat: BoatRecords, tank: Tank) -> list[Sounding]:
    """The soundings of a tank in order of time; without a time they come first."""
    mine = [sounding for sounding in boat.soundings.values() if sounding.tank == tank.key]
    return sorted(mine, key=lambda sounding: (seconds_of(sounding.on), sounding.key))


def rest_of(tank: Tank, shape: TankShape, rules: Rules) -> float:
    """Litres that the pump leaves."""
    if tank.unpumpable_l is not None:
        return min(tank.unpumpable_l, shape.capacity_l)
    return rules.reading.rest_share * shape.capacity_l


def sounded(boat: BoatRecords, rules: Rules, tank: Tank, sounding: Sounding) -> Sounded:
    """What a sounding came to: litres, sludge and kilograms, or why not."""
    shape, refused = shape_or_why(boat, tank)
    level: Level | None = None
    if shape:
        try:
            level = level_of(tank, shape, sounding, rules.reading)
        except OutOfRange as why:
            refused = str(why)
    density, why_not = _density(rules, tank, sounding)
    kg = _times(level.liquid, density) if level and density else None
    sludge_kg = _times(level.sludge, rules.reading.sludge_density) if level else None
    rest = rest_of(tank, shape, rules) if shape else 0.0
    return Sounded(
        key=sounding.key,
        on=sounding.on or "",
        read=_read(sounding),
        full=level.full if level else None,
        liquid=level.liquid if level else None,
        sludge=level.sludge if level else None,
        usable=less(level.full, max(rest, level.sludge.likely)) if level else None,
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


def less(litres: Spread, taken: float) -> Spread:
    """Litres less what was taken, never under none."""
    low, likely, high = (
        max(0.0, litres.low - taken),
        max(0.0, litres.likely - taken),
        max(0.0, litres.high - taken),
    )
    return Spread(low, likely, high, litres.basis)
