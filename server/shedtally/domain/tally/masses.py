"""The list of masses: every item with its mass and why, sums, and what to weigh next."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import get_args

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import is_out, pieces, system_of
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import Basis, Spread
from shedtally.domain.masses.estimate import spread_of, tally
from shedtally.domain.masses.item_mass import why_not
from shedtally.domain.masses.weighing import Masses
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Rules
from shedtally.domain.tally.lists import MassGroup, MassLine, MassList, Uncounted, WeighNext
from shedtally.domain.tally.weigh_next import weigh_next
from shedtally.domain.tanks.contents import Contents, of_tank, with_contents

NOT_PLACED, NO_SYSTEM = "Not placed", "No system"
WHERE = ("aboard", "ashore", "gone")


@dataclass(frozen=True, slots=True)
class Case:
    """What every line and group is made from."""

    boat: BoatRecords
    rules: Rules
    masses: Masses


def mass_list(boat: BoatRecords, rules: Rules) -> MassList:
    """Every item of a boat with its mass, gone ones too, what is still in tanks, and the sums.

    Returns: systems in the order of systems.toml, compartments by path, *Not placed* last; items
        from the heaviest to the lightest.
    """
    contents = with_contents(boat, rules)
    case = Case(contents.boat, rules, contents.masses)
    items = list(case.boat.items.values())
    whole = tally(case.masses.estimates.values())
    whys: dict[str, int] = {}
    lines = [_line(case, item, whys) for item in items]
    return MassList(
        total=whole.spread(),
        weighed_share=whole.weighed_share(),
        by_system=_by_system(case, items),
        by_compartment=_by_compartment(case, items),
        by_basis=_by_basis(case, items),
        by_whereabouts=_by_whereabouts(case, items),
        weigh_next=_weigh_next(case),
        uncounted=(*_uncounted(case), *_unknown(contents)),
        items=tuple(sorted(lines, key=lambda row: (-row.mass.likely, row.key))),
        whys=tuple(whys),
        sources=_sources(case),
    )


def where_is(item: Item) -> str:
    """Aboard, ashore or gone; what nobody has said to be out is aboard."""
    return item.whereabouts or ("ashore" if is_out(item) else "aboard")


def _line(case: Case, item: Item, whys: dict[str, int]) -> MassLine:
    kind = case.rules.kinds.get(item.kind or "")
    estimate = case.masses.estimates[item.key]
    return MassLine(
        key=item.key,
        name=name_of(item, kind),
        kind=item.kind or "",
        tags=case.boat.codes.get(f"item/{item.key}", ()),
        count=pieces(item),
        system=system_of(item, kind),
        compartment=_compartment(case, item),
        whereabouts=where_is(item),
        mass=_to_the_gram(spread_of(estimate)),
        why=whys.setdefault(estimate[1].why, len(whys)),
        not_used=why_not(item, case.rules, estimate[1].basis),
    )


def _compartment(case: Case, item: Item) -> str:
    key = item.compartment or ""
    return key if key in case.boat.compartments else ""


def _to_the_gram(mass: Spread) -> Spread:
    """A line is read by people and sent to phones by the thousand; sums are made from the exact."""
    return Spread(round(mass.low, 3), round(mass.likely, 3), round(mass.high, 3), mass.basis)


def _group(case: Case, key: str, name: str, path: tuple[str, ...], items: list[Item]) -> MassGroup:
    of_group = tally(case.masses.estimates[item.key] for item in items)
    return MassGroup(
        key=key,
        name=name,
        path=path,
        count=sum(map(pieces, items)),
        mass=of_group.spread(),
        weighed_share=of_group.weighed_share(),
    )


def _sorted_by(items: Iterable[Item], sort: Callable[[Item], str]) -> Mapping[str, list[Item]]:
    found: defaultdict[str, list[Item]] = defaultdict(list)
    for item in items:
        found[sort(item)].append(item)
    return found


def _by_system(case: Case, items: list[Item]) -> tuple[MassGroup, ...]:
    def system(item: Item) -> str:
        said = system_of(item, case.rules.kinds.get(item.kind or ""))
        return said if said in case.rules.systems else ""

    found = _sorted_by(items, system)
    names = {key: row.name for key, row in case.rules.systems.items()} | {"": NO_SYSTEM}
    return tuple(_group(case, key, names[key], (), found[key]) for key in names if key in found)


def _by_compartment(case: Case, items: list[Item]) -> tuple[MassGroup, ...]:
    known = case.boat.compartments
    found = _sorted_by(items, lambda item: _compartment(case, item))
    groups = [
        _group(case, key, known[key].name or "unnamed", case.boat.path(key), inside)
        if key
        else _group(case, "", NOT_PLACED, (), inside)
        for key, inside in found.items()
    ]
    return tuple(sorted(groups, key=lambda row: (not row.key, row.path, row.key)))


def _by_basis(case: Case, items: list[Item]) -> tuple[MassGroup, ...]:
    found = _sorted_by(items, lambda item: case.masses.estimates[item.key][1].basis)
    return tuple(
        _group(case, basis, basis, (), found[basis]) for basis in get_args(Basis) if basis in found
    )


def _by_whereabouts(case: Case, items: list[Item]) -> tuple[MassGroup, ...]:
    found = _sorted_by(items, where_is)
    return tuple(_group(case, key, key, (), found[key]) for key in WHERE if key in found)


def _weigh_next(case: Case) -> tuple[WeighNext, ...]:
    """Only what is still here: nobody can weigh what has gone, or what lies in a tank."""
    here = {
        key: estimate
        for key, estimate in case.masses.estimates.items()
        if where_is(case.boat.items[key]) != "gone" and of_tank(key) is None
    }
    found = []
    for step in weigh_next(here, case.rules.trust["weighed"]):
        item = case.boat.items[step.key]
        found.append(
            WeighNext(
                key=step.key,
                name=name_of(item, case.rules.kinds.get(item.kind or "")),
                tags=case.boat.codes.get(f"item/{item.key}", ()),
                mass=spread_of(here[step.key]),
                after=step.after,
                narrower_kg=step.narrower_kg,
            )
        )
    return tuple(found)


def _uncounted(case: Case) -> tuple[Uncounted, ...]:
    return tuple(
        Uncounted(row.weighing, row.of, _called(case, row.of), row.reason)
        for row in case.masses.not_counted
    )


def _unknown(contents: Contents) -> tuple[Uncounted, ...]:
    return tuple(Uncounted("", f"tank/{row.item}", row.name, row.reason) for row in contents.open)


def _called(case: Case, target: str) -> str:
    table, _, key = target.partition("/")
    if table == "item" and key in case.boat.items:
        item = case.boat.items[key]
        return name_of(item, case.rules.kinds.get(item.kind or ""))
    row = case.boat.places.get(key) or case.boat.containers.get(key)
    return (row.name if row else None) or "Something that is not here"


def _sources(case: Case) -> tuple[str, ...]:
    keys: dict[str, None] = {}
    for _, origin in case.masses.estimates.values():
        keys.update(dict.fromkeys(origin.sources))
    return tuple(sorted(case.rules.sources[key].title for key in keys))
