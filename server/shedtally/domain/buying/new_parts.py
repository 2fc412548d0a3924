"""New parts that take the place of old ones, and how far buying has got with them.

A new part is an item of its own, with a tag of its own, that names the old one. It says that it
arrived by being there, and that it is fitted by being aboard.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from shedtally.domain.aboard.out import is_out
from shedtally.domain.boat import BoatRecords
from shedtally.domain.buying.lists import OrderState
from shedtally.domain.lists import RenewalLine
from shedtally.domain.records import Item, Purchase
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.rulebook import Rules


def new_parts(boat: BoatRecords) -> Mapping[str, Item]:
    """The new part by the key of each old one; the newest of several, also of one renewed twice."""
    direct = {
        item.replaces: item
        for _, item in sorted(boat.items.items())
        if item.replaces and item.replaces != item.key
    }
    return {old: _newest(new, direct) for old, new in direct.items()}


def _newest(new: Item, direct: Mapping[str, Item]) -> Item:
    seen = {new.key}
    while (newer := direct.get(new.key)) is not None and newer.key not in seen:
        seen.add(newer.key)
        new = newer
    return new


def own_items(line: RenewalLine, boat: BoatRecords, rules: Rules) -> Sequence[str]:
    """The items that the line itself is bought for: not the hoses that its clamps are for.

    Of another kind where one line is bought as another.
    """
    if line.runs:
        return line.items
    kinds = ((key, rules.kinds.get(boat.items[key].kind or "")) for key in line.items)
    return [key for key, kind in kinds if kind is None or not kind.is_run]


def buying(boat: BoatRecords, rules: Rules) -> Mapping[str, OrderState]:
    """How far buying has got for each item that is renewed, by its own line."""
    if not boat.purchases:
        return {}
    return {
        item: state_of(boat.purchases.get(line.id))
        for line in renewals(boat, rules).lines
        for item in own_items(line, boat, rules)
    }


def state_of(purchase: Purchase | None) -> OrderState:
    """The furthest step that a day was written for."""
    if purchase is None:
        return "to buy"
    if purchase.fitted_at:
        return "fitted"
    if purchase.arrived_at:
        return "arrived"
    return "bought" if purchase.bought_at else "to buy"


def state_with(state: OrderState, parts: Sequence[Item], items: int) -> OrderState:
    """The state of a line, no less far than its new parts show once all of them are there.

    Args: parts: the new parts that are there; items: of how many old ones.
    """
    if not items or len(parts) < items:
        return state
    if all(not is_out(part) for part in parts):
        return "fitted"
    return "arrived" if state in {"to buy", "bought"} else state
