"""Tanks: what each holds by its last sounding, what was drawn off into cans, what is still in it.

How a sounding is read is in `sounding.py`, cans and balances are in `drawn_off.py`; `contents.py`
puts what is still in tanks beside the items, so that every litre is counted once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.aboard.named import name_of
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import Spread
from shedtally.domain.masses.estimate import Estimate
from shedtally.domain.masses.section import OutOfRange
from shedtally.domain.masses.spread import total
from shedtally.domain.masses.weighing import masses_of
from shedtally.domain.records import Item, Sounding, Tank
from shedtally.domain.rulebook import Rules
from shedtally.domain.tanks.claims import PARTS, Claims, claims_of
from shedtally.domain.tanks.drawn_off import balance_of, cans_of, density_of
from shedtally.domain.tanks.level import Tilt, litres_at, pipe_at
from shedtally.domain.tanks.lists import DipLine, DipTable, Sounded, TankLine, TankList
from shedtally.domain.tanks.shape import TankShape
from shedtally.domain.tanks.sounding import less, rest_of, shape_or_why, sounded, soundings_of

TWICE = "This tank is described twice: only the description sounded last counts"


@dataclass(frozen=True, slots=True)
class Held:
    """What is in a tank now: liquid and sludge, litres and kilograms; None is not known."""

    liquid: Spread | None = None
    sludge: Spread | None = None
    liquid_kg: Spread | None = None
    sludge_kg: Spread | None = None


def tank_list(boat: BoatRecords, rules: Rules) -> TankList:
    """Every tank that was described, by name."""
    lines = tank_lines(boat, rules, masses_of(boat, rules).estimates)
    here = [line for line in lines if not line.gone]
    of_liquids = (caution for line in lines for caution in line.cautions)
    cautions = dict.fromkeys([*of_liquids, *rules.reading.cautions]) if lines else {}
    return TankList(
        tanks=tuple(sorted(lines, key=lambda line: (line.name, line.key))),
        litres=total(line.still_in for line in here if line.still_in),
        kg=total(line.still_in_kg for line in here if line.still_in_kg),
        open=tuple(sorted(line.name for line in here if line.still_in is None)),
        cautions=tuple(cautions),
        standing=rules.reading.standing,
    )


def tank_lines(
    boat: BoatRecords, rules: Rules, masses: Mapping[str, Estimate]
) -> tuple[TankLine, ...]:
    """A line for each tank. Args: masses: of the items of the boat, as `weighing.masses_of`."""
    claims = claims_of(boat, rules)
    return tuple(
        _line(boat, rules, tank, claims.get(key), masses)
        for key, tank in sorted(boat.tanks.items())
    )


def _line(
    boat: BoatRecords, rules: Rules, tank: Tank, claims: Claims | None,
    masses: Mapping[str, Estimate],
) -> TankLine:  # fmt: skip
    item = boat.items.get(tank.of or "") or Item(key=tank.of or "")
    liquid = rules.liquids.get(tank.liquid or "")
    shape, refused = shape_or_why(boat, tank)
    soundings = soundings_of(boat, tank)
    read = [sounded(boat, rules, tank, sounding) for sounding in soundings]
    mine = claims or Claims()
    cans = cans_of(mine, density_of(liquid, read), boat, rules, masses)
    balance = balance_of(boat, mine, read, cans)
    last = read[-1] if read else None
    once = claims is not None or tank.of not in boat.items
    still = balance.left if once else None
    counts = next((row for row in reversed(read) if row.full), None)
    held = held_now(still, counts)
    stand_ins = [row for part in PARTS for row in mine.stands[part]]
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
        rest_l=rest_of(tank, shape, rules) if shape else None,
        refused=refused if once else TWICE,
        last=last,
        counts=counts,
        cans=cans,
        balance=balance,
        still_in=still,
        still_in_kg=total([held.liquid_kg, held.sludge_kg])
        if held.liquid_kg and held.sludge_kg
        else None,
        sludge_in=held.sludge,
        counted_as=tuple(name_of(row, rules.kinds.get(row.kind or "")) for row in stand_ins),
        dips=_dips(tank, shape, soundings),
        cautions=liquid.cautions if liquid else (),
    )


def held_now(still: Spread | None, last: Sounded | None) -> Held:
    """Liquid and sludge of what is still in; what is drawn off is liquid while there is any."""
    if still is None or last is None or last.liquid is None or last.sludge is None:
        return Held()
    sludge = _part(last.sludge, min(1.0, _share(still.likely, last.sludge.likely)))
    left = max(0.0, still.likely - sludge.likely)
    liquid = less(still, sludge.likely)
    liquid_kg = last.kg
    if last.kg and last.liquid.likely > 0:
        liquid_kg = _like(liquid, last.kg, left / last.liquid.likely)
    sludge_kg = last.sludge_kg and _part(last.sludge_kg, _share(sludge.likely, last.sludge.likely))
    return Held(liquid, sludge, liquid_kg, sludge_kg)


def _share(part: float, whole: float) -> float:
    return part / whole if whole > 0 else 1.0


def _part(of: Spread, share: float) -> Spread:
    return Spread(of.low * share, of.likely * share, of.high * share, of.basis)


def _like(litres: Spread, kg: Spread, share: float) -> Spread:
    """Kilograms of what is left: off by as many kilograms as before, for cans are measured well."""
    likely = kg.likely * share
    down, up = kg.likely - kg.low, kg.high - kg.likely
    low = max(0.0, likely - down) if litres.low > 0 else 0.0
    return Spread(low, likely, likely + up, "calculated")


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
