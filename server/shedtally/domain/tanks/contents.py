"""What is still in tanks, as lines beside the items, so that sums hold every litre once.

Where an item stands for a tank's liquid or sludge (`claims.py`) the item is the line; if nobody
wrote how much it is, the sounding says it. Otherwise the rest stands as a line of its own, keyed
``tank/`` or ``sludge/`` with the key of the tank's item. A can weighs its litres at the density of
the tank it was filled from, so that drawing off makes no mass.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from shedtally.domain.aboard.out import is_out
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import Spread
from shedtally.domain.masses.estimate import Cause, Estimate, Origin
from shedtally.domain.masses.section import density_cause
from shedtally.domain.masses.weighing import Masses, masses_of
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Kind, Liquid, Rules
from shedtally.domain.tanks.claims import PARTS, Claims, Part, claims_of
from shedtally.domain.tanks.drawn_off import density_of
from shedtally.domain.tanks.held import held_now, tank_lines
from shedtally.domain.tanks.lists import TankLine

LEAST_LITRES = 0.05
# Less than this reads 0.0 kg on every list, and says nothing but that the tank is empty.
LEAST_KG = 0.05
KEYS: Mapping[Part, str] = {"liquid": "tank", "sludge": "sludge"}


@dataclass(frozen=True, slots=True)
class Open:
    """A tank of which nobody knows what it holds, and what to do: ``item`` is the tank's."""

    item: str
    name: str
    reason: str


@dataclass(frozen=True, slots=True)
class Contents:
    """A boat with a line more for each tank's rest, the masses of all lines, and what is open."""

    boat: BoatRecords
    masses: Masses
    open: tuple[Open, ...]
    rests: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Tank:
    """One tank with all that its rest is made from; ``usual``: nobody measured the density."""

    line: TankLine
    claims: Claims
    holder: Item
    liquid: Liquid | None
    usual: bool

    def litres_and_kg(self, part: Part) -> tuple[Spread | None, Spread | None]:
        """What is left of a part."""
        held = held_now(self.line.still_in, self.line.counts)
        if part == "liquid":
            return held.liquid, held.liquid_kg
        return held.sludge, held.sludge_kg

    @property
    def sources(self) -> tuple[str, ...]:
        """The keys of what the liquid's figures rest on."""
        return self.liquid.sources if self.liquid else ()


def with_contents(boat: BoatRecords, rules: Rules) -> Contents:
    """The items of a boat and what is still in its tanks, with the mass of each.

    Returns: without tanks the boat as it is. A tank that has gone took its rest along.
    """
    masses = masses_of(boat, rules)
    if not boat.tanks:
        return Contents(boat, masses, (), ())
    estimates, rests, nobody_knows = dict(masses.estimates), dict[str, Item](), list[Open]()
    for tank in _tanks(boat, rules, masses.estimates):
        estimates |= _cans(tank, rules, estimates)
        if tank.line.gone:
            continue
        nobody_knows += _unsounded(tank)
        for part in PARTS:
            rest = _rest(part, tank, rules)
            if rest is None:
                continue
            if tank.claims.stands[part]:
                estimates |= _said_by_sounding(tank.claims.stands[part], rest, estimates)
            elif rest[0] >= LEAST_KG:
                item = _item(part, tank, rules)
                rests[item.key], estimates[item.key] = item, rest
    whole = replace(boat, items={**boat.items, **rests})
    return Contents(whole, replace(masses, estimates=estimates), tuple(nobody_knows), tuple(rests))


def of_tank(key: str) -> str | None:
    """The tank's item whose rest a line is, by the line's key; None: it is an item of the boat."""
    table, slash, item = key.partition("/")
    return item if slash and table in KEYS.values() else None


def _tanks(boat: BoatRecords, rules: Rules, masses: Mapping[str, Estimate]) -> Iterator[_Tank]:
    lines = {line.key: line for line in tank_lines(boat, rules, masses)}
    for key, claims in claims_of(boat, rules).items():
        line, tank = lines[key], boat.tanks[key]
        usual = line.counts is None or boat.soundings[line.counts.key].density_kg_m3 is None
        liquid = rules.liquids.get(tank.liquid or "")
        yield _Tank(line, claims, boat.items[tank.of or ""], liquid, usual)


def _unsounded(tank: _Tank) -> Iterator[Open]:
    line = tank.line
    why = (line.last.refused if line.last else "") or line.refused
    if line.still_in is None:
        if not tank.claims.stands["liquid"]:
            said = f" ({why})" if why else ""
            yield Open(line.item, line.name, f"Nobody knows what is in it{said}: sound it.")
    elif line.still_in_kg is None and line.still_in.likely > LEAST_LITRES:
        litres = f"{line.still_in.likely:.0f} L in it have no mass"
        yield Open(line.item, line.name, f"{litres}: {why or 'say what liquid it is'}.")


def _rest(part: Part, tank: _Tank, rules: Rules) -> Estimate | None:
    """Kilograms of what is left, with the density as the cause that it shares."""
    line = tank.line
    litres, kg = tank.litres_and_kg(part)
    if kg is None or litres is None or line.counts is None:
        return None
    when = f" of {line.counts.on[:10]}" if line.counts.on else ""
    since = " less what was drawn since" if line.balance.left != line.counts.full else ""
    why = f"Calculated: {litres.likely:.1f} L by the sounding{when}{since}."
    if kg.likely <= 0:
        return 0.0, Origin("calculated", why, own_kg=kg.high)
    causes = () if part == "sludge" else _density(tank, rules)
    down = _apart(1 - kg.low / kg.likely, *(cause.down for cause in causes))
    up = _apart(kg.high / kg.likely - 1, *(cause.up for cause in causes))
    return kg.likely, Origin("calculated", why, causes, (down, up), sources=tank.sources)


def _apart(whole: float, *known: float) -> float:
    """What of a relative error is left beside the causes in it."""
    return math.sqrt(max(0.0, whole**2 - math.fsum(one**2 for one in known)))


def _density(tank: _Tank, rules: Rules) -> tuple[Cause, ...]:
    """The usual density, which is wrong for all of a liquid at once; a measured one is not."""
    if tank.liquid is None or not tank.usual:
        return ()
    kind = _kind("liquid", tank.liquid, rules)
    material = rules.materials.get(kind.material) if kind else None
    name = density_cause(material) if material else f"density/{tank.liquid.id}"
    low, likely, high = tank.liquid.density
    return (Cause(name, 1 - low / likely, high / likely - 1),)


def _kind(part: Part, liquid: Liquid | None, rules: Rules) -> Kind | None:
    if liquid is None:
        return None
    kinds = liquid.kinds if part == "liquid" else liquid.sludge_kinds
    return rules.kinds.get(kinds[0]) if kinds else None


def _item(part: Part, tank: _Tank, rules: Rules) -> Item:
    """The rest as an item that no phone has: where the tank is, with what was found out of it."""
    holder, kind = tank.holder, _kind(part, tank.liquid, rules)
    litres, _ = tank.litres_and_kg(part)
    own = rules.kinds.get(holder.kind or "")
    what = "Sludge" if part == "sludge" else (tank.line.liquid or "Liquid")
    return Item(
        key=f"{KEYS[part]}/{holder.key}",
        name=f"{what} still in {tank.line.name}",
        kind=kind.id if kind else None,
        system=None if kind else (holder.system or (own.system if own else None)),
        compartment=holder.compartment,
        whereabouts=holder.whereabouts or ("ashore" if is_out(holder) else "aboard"),
        out_at=holder.out_at,
        volume_l=litres.likely if litres else None,
        flash_point_c=holder.flash_point_c,
        halogens_ppm=holder.halogens_ppm,
        part_of=holder.key,
        mass_apart=True,
        aft_m=holder.aft_m,
        off_m=holder.off_m,
        up_m=holder.up_m,
    )


def _said_by_sounding(
    stand_ins: list[Item], rest: Estimate, known: Mapping[str, Estimate]
) -> dict[str, Estimate]:
    """The mass of the one item that stands for a rest, where nobody measured or said it."""
    if len(stand_ins) != 1:
        return {}
    item = stand_ins[0]
    said = item.mass_kg is not None or known[item.key][1].basis != "guessed"
    return {} if said else {item.key: rest}


def _cans(tank: _Tank, rules: Rules, known: Mapping[str, Estimate]) -> dict[str, Estimate]:
    """Cans by their litres and the density of their tank, where nobody weighed them."""
    last, liquid = tank.line.counts, tank.liquid
    density = density_of(liquid, [last] if last else [])
    if density is None:
        return {}
    why = (
        f"Calculated from its litres at {density:g} kg/m3, the density of what is in "
        f"{tank.line.name}."
    )
    off = rules.trust["measured sizes"]
    causes = _density(tank, rules)
    origin = Origin("calculated", why, causes, (off, off), sources=tank.sources)
    sludge = liquid.sludge_kinds if liquid else ()
    return {
        can.key: (can.volume_l * (can.count or 1) * density / 1000, origin)
        for can in (*tank.claims.cans, *tank.claims.assumed)
        if can.volume_l is not None
        and can.mass_kg is None
        and can.kind not in sludge
        and known[can.key][1].basis != "weighed"
    }
