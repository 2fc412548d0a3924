"""The mass of an item from what is known of it: the best knowledge first.

1. ``mass_kg``: weighed, read off a plate, worked out or guessed by a person.
2. Sizes and material: a run by size and length, a board by three sizes, a liquid by litres, a
   battery by its energy.
3. What things of this kind weigh.
4. Nothing known: a wide guess, so that a total is never silently too small.

``count``: a person puts the lot on the scale, so ``mass_kg`` is that of all pieces together,
except off a plate, which speaks of one. Sizes and the guess by kind are of one piece and are
multiplied.
"""

from __future__ import annotations

import functools

from shedtally.domain.lists import Basis, Spread
from shedtally.domain.measure import Size, parse_size
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Kind, Material, Rules, Three
from shedtally.domain.section import OutOfRange, kg_per_m
from shedtally.domain.spread import around, exactly, product, times, total
from shedtally.domain.unreadable import Unreadable

__all__ = ["mass_of", "total"]

USUAL_VOLTAGE_V = 12.0


def mass_of(item: Item, rules: Rules) -> Spread:
    """Kilograms of an item, all pieces of it together, with spread and basis.

    Source: shares each way in rules/trust.toml, densities in rules/materials.toml, sections in
    rules/sizes.toml, guesses in rules/kinds/; each row names its own.
    """
    pieces = max(1, item.count or 1)
    if item.mass_kg is not None:
        how = item.mass_how or "guessed"
        said = around(item.mass_kg, rules.trust[how], how)
        return times(said, pieces) if how == "plate" else said
    kind = rules.kinds.get(item.kind or "")
    found = _calculated(item, kind, rules)
    if found is None:
        found = kind.mass if kind else rules.nothing_known
    return times(found, pieces)


def material_of(item: Item, kind: Kind | None, rules: Rules) -> Material | None:
    """The material of an item: as written on it (id or name), else that of its kind."""
    if item.material:
        written = item.material.strip().lower()
        by_name = (row for row in rules.materials.values() if row.name.lower() == written)
        return rules.materials.get(written) or next(by_name, None)
    return rules.materials.get(kind.material) if kind else None


@functools.lru_cache(maxsize=4096)
def readable_size(text: str | None) -> Size | None:
    """The size, or None where there is none or it can't be read."""
    if not text:
        return None
    try:
        return parse_size(text)
    except Unreadable:
        return None


def _calculated(item: Item, kind: Kind | None, rules: Rules) -> Spread | None:
    """One piece by its sizes; None where something needed is missing."""
    material = material_of(item, kind, rules)
    if material is None:
        return None
    if kind and kind.section and item.length_mm:
        return _run(item, kind, material, rules)
    if material.kg_per_wh and item.capacity_ah:
        return _battery(item, material.kg_per_wh)
    if material.density is None:
        return None
    if material.liquid and item.volume_l is not None:
        litres = exactly(item.volume_l, rules.trust["measured sizes"])
        return _spread(product(litres, material.density, exactly(0.001)), "calculated")
    if item.length_mm and item.width_mm and item.thickness_mm:
        tape = rules.trust["measured sizes"]
        volume = item.length_mm * item.width_mm * item.thickness_mm / 1e9
        return _spread(product(exactly(volume, tape), material.density), "calculated")
    return None


def _run(item: Item, kind: Kind, material: Material, rules: Rules) -> Spread | None:
    size = readable_size(item.size)
    if size is None or not item.length_mm:
        return None
    try:
        rate = kg_per_m(kind.section, size, material, item.thickness_mm or 0.0, rules.sizes)
    except OutOfRange:
        return None
    length = exactly(item.length_mm / 1000, rules.trust["measured sizes"])
    return _spread(product(rate, length), "calculated")


def _battery(item: Item, kg_per_wh: Three) -> Spread:
    """By its energy; a voltage that nobody wrote down is taken for 12 V, and is then a guess."""
    volts = item.voltage_v or USUAL_VOLTAGE_V
    energy = exactly(volts * (item.capacity_ah or 0.0))
    return _spread(product(energy, kg_per_wh), "calculated" if item.voltage_v else "guessed")


def _spread(three: Three, basis: Basis) -> Spread:
    return Spread(*three, basis=basis)
