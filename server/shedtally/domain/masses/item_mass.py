"""The mass of an item from what is known of it: the best knowledge first.

1. Weighed: alone, or with others in a crate (`weighing.py`), or as written in ``mass_kg``.
2. Read off a plate, worked out or guessed by a person, in ``mass_kg``; 0 kg is none.
3. Sizes and material: a plate, bar, pipe, hose, cable, board, panel, cylinder or tank shell, a
   liquid by litres, a battery by its energy.
4. What things of this kind weigh.
5. Nothing known: a wide guess, so that a total is never silently too small.

``count``: a person puts the lot on the scale, so ``mass_kg`` is that of all pieces together,
except off a plate, which speaks of one. Sizes and the guess by kind are of one piece and are
multiplied; what is wrong of one piece is wrong of all.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeAlias

from shedtally.domain.lists import Basis, Spread
from shedtally.domain.masses.estimate import Cause, Estimate, Origin, spread_of
from shedtally.domain.masses.forms import Measure, not_used
from shedtally.domain.masses.recipe import diameter_of, subject, ways_of
from shedtally.domain.records import Item
from shedtally.domain.records.words import MassHow
from shedtally.domain.rulebook import Rules

Key: TypeAlias = tuple[object, ...]
# A way as a plain tuple: named ones take three times as long to unpack.
Plain: TypeAlias = tuple[Measure, float, Origin]


class Estimator:
    """Masses of many items: what items have in common is looked up once."""

    def __init__(self, rules: Rules) -> None:
        self._rules = rules
        self._ways: dict[Key, Sequence[Plain]] = {}
        self._said: dict[MassHow, Origin] = {
            how: _said(how, rules.trust[how])
            for how in ("weighed", "plate", "calculated", "guessed")
        }

    def estimates(self, items: Iterable[Item]) -> list[Estimate]:
        """The mass of every item, all its pieces together, in their order.

        This loop runs once for each item of a boat, a hundred thousand at worst: it makes plain
        tuples, calls nothing but the measure, and looks ways up by no more than decides them; sizes
        that are only multiplied don't. Most items have a kind and perhaps a size.
        """
        found: list[Estimate] = []
        add, known = found.append, self._ways
        for item in items:
            if item.mass_kg:
                add(self._as_said(item, item.mass_kg))
                continue
            sort: Key = (item.kind, item.size)
            if (
                item.form is not None
                or item.material is not None
                or item.diameter_mm is not None
                or item.core_mm is not None
            ):
                sort = _rare(item)
            try:
                ways = known[sort]
            except KeyError:
                ways = self._new(sort, item)
            for measure, kg_per_unit, origin in ways:
                measured = measure(item)
                if measured is not None:
                    add((measured * kg_per_unit * (item.count or 1), origin))
                    break
        return found

    def estimate(self, item: Item) -> Estimate:
        """The mass of one item."""
        return self.estimates((item,))[0]

    def _as_said(self, item: Item, kg: float) -> Estimate:
        how = item.mass_how or "guessed"
        return kg * (item.count or 1) if how == "plate" else kg, self._said[how]

    def _new(self, sort: Key, item: Item) -> Sequence[Plain]:
        ways = ways_of(item, self._rules)
        self._ways[sort] = tuple((way.measure, way.kg_per_unit, way.origin) for way in ways)
        return self._ways[sort]


def _rare(item: Item) -> Key:
    """What decides the ways of an item that says more of itself than kind and size."""
    found = (item.kind, item.size, item.form, item.material, item.diameter_mm, item.core_mm)
    if item.core_mm is None:
        return found
    # How much of a panel is core goes by its thickness, too.
    return (*found, item.core_material, item.thickness_mm)


def estimate_of(item: Item, rules: Rules) -> Estimate:
    """The mass of one item with its origin, weighings left out."""
    return Estimator(rules).estimate(item)


def as_weighed(kg: float, rules: Rules) -> Estimate:
    """A mass in kilograms that a scale showed, of something that is no item."""
    return kg, _said("weighed", rules.trust["weighed"])


def mass_of(item: Item, rules: Rules) -> Spread:
    """Kilograms of an item, all pieces of it together, with spread and basis.

    What `Weighing` records say is left out; `weighing.masses_of` has it.

    Source: shares each way in rules/trust.toml, densities in rules/materials.toml, sections in
    rules/sizes.toml, guesses in rules/kinds/; each row names its own.
    """
    return spread_of(estimate_of(item, rules))


def why_not(item: Item, rules: Rules, basis: Basis) -> str:
    """Why an item's sizes gave no mass, and what would do; '' where they did or none are given.

    Args: basis: of the mass that the item has all the same.
    """
    if item.mass_kg == 0:
        return "0 kg as written is no mass: it must be more than 0 kg. Weigh it, or leave it empty."
    if item.mass_kg is not None or basis != "guessed":
        return ""
    about = subject(item, rules)
    if item.material and about.material is None:
        return f"No material is called {item.material} here: choose one from the list."
    if about.form is None or about.material is None:
        return ""
    if about.material.density is None and about.form not in ("cable",):
        return f"{about.material.name} has no density here: choose a material, or weigh it."
    return not_used(item, about.form, diameter_of(item))


def _said(how: MassHow, share: float) -> Origin:
    """What a person wrote down. One scale is off for all that it weighed; the rest stands alone."""
    why = {
        "weighed": f"Weighed; the scale is trusted to {share * 100:.0f} %.",
        "plate": f"Read off its plate, which may be {share * 100:.0f} % off.",
        "calculated": f"Worked out by hand, to {share * 100:.0f} %.",
        "guessed": f"Guessed by a person, to {share * 100:.0f} %.",
    }[how]
    if how == "weighed":
        return Origin(how, why, (Cause("scale", share, share),), sources=("practice",))
    return Origin(how, why, own=(share, share), sources=("practice",))
