"""The masses of a boat: what scales showed first, then what `item_mass.py` knows of each item.

Of several weighings of one thing the latest counts; the earlier ones stay as its history. What was
weighed together is shared out: items that were also weighed alone keep that, and the rest goes to
the others in the proportion of their estimates. The parts add up to what the scale showed, and
their sum is as sure as the scale; how it is divided is as unsure as the estimates were.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.boat import BoatRecords
from shedtally.domain.masses.estimate import Cause, Crate, Estimate, Origin, Slice, spread_of
from shedtally.domain.masses.item_mass import Estimator
from shedtally.domain.records import Weighing
from shedtally.domain.records.moments import seconds_of
from shedtally.domain.rulebook import Rules

LEAST_KG = 1e-6


@dataclass(frozen=True, slots=True)
class NotCounted:
    """A weighing that gives no mass, and why; the entry itself is kept as it was typed."""

    weighing: str
    of: str
    reason: str


@dataclass(frozen=True, slots=True)
class Masses:
    """The mass of every item by its key, with its origin, and the weighings that don't count."""

    estimates: Mapping[str, Estimate]
    not_counted: tuple[NotCounted, ...]


def masses_of(boat: BoatRecords, rules: Rules) -> Masses:
    """The masses of all items of a boat.

    Source: how far scales are trusted, rules/trust.toml; the rest as `item_mass.mass_of`.
    """
    estimates = dict(zip(boat.items, Estimator(rules).estimates(boat.items.values()), strict=True))
    if not boat.weighings:
        return Masses(estimates, ())
    bench = _Bench(boat, rules.trust["weighed"], estimates)
    return Masses(bench.weigh(), tuple(bench.not_counted))


def net_kg(weighing: Weighing) -> float | None:
    """Gross less empty, in kilograms; None where `refusal` has something to say."""
    if refusal(weighing):
        return None
    return (weighing.gross_kg or 0.0) - (weighing.tare_kg or 0.0)


def refusal(weighing: Weighing) -> str:
    """Why a weighing can't be a mass, and what would do; '' where it can."""
    gross, tare, division = weighing.gross_kg, weighing.tare_kg or 0.0, weighing.division_kg or 0.0
    if gross is None:
        return "What the scale showed is missing: it takes a gross mass of more than 0 kg."
    if gross < tare:
        return (
            f"{gross:g} kg gross is less than {tare:g} kg empty: the gross must be more than "
            f"{tare:g} kg, or the empty mass less than {gross:g} kg."
        )
    if gross == tare:
        return f"Nothing was on the scale: the gross must be more than {tare:g} kg."
    if division > gross - tare:
        return (
            f"A scale that counts in {division:g} kg can't weigh {gross - tare:g} kg: use one "
            f"that counts in {gross - tare:g} kg or less."
        )
    return ""


def in_order(weighings: Iterable[Weighing]) -> list[Weighing]:
    """Weighings from the first to the latest; without a moment they come first."""
    return sorted(weighings, key=lambda row: (seconds_of(row.on), row.key))


class _Bench:
    """The scale's side of a boat: its weighings, laid over the estimates."""

    def __init__(self, boat: BoatRecords, share: float, estimates: Mapping[str, Estimate]) -> None:
        self._boat, self._share, self._known = boat, share, estimates
        self.not_counted: list[NotCounted] = []
        self._members: defaultdict[str, list[str]] = defaultdict(list)
        for row in boat.weighed.values():
            if row.weighing and row.item and row.item in boat.items:
                self._members[row.weighing].append(row.item)

    def weigh(self) -> dict[str, Estimate]:
        """The estimates with the scale's word in the place of what it knows better."""
        usable = [row for row in in_order(self._boat.weighings.values()) if self._counts(row)]
        alone = dict(self._alone(usable))
        found = {**self._known, **alone}
        kept = alone | {
            key: (kg, origin)
            for key, (kg, origin) in self._known.items()
            if origin.basis == "weighed" and key not in alone
        }
        for row in usable:
            if self._is_crate(row):
                shared = self._shared(row, kept)
                found.update((key, mass) for key, mass in shared.items() if key not in alone)
        return found

    def _counts(self, row: Weighing) -> bool:
        reason = refusal(row)
        if not reason and not self._is_crate(row) and not self._exists(row.of or ""):
            reason = "What was on the scale isn't here: pick the item, crate or container."
        if not reason and (row.of or "").startswith("place/") and not self._members[row.key]:
            reason = "No item is ticked as being in it: tick what lay in it."
        if reason:
            self.not_counted.append(NotCounted(row.key, row.of or "", reason))
        return not reason

    def _is_crate(self, row: Weighing) -> bool:
        return bool(self._members.get(row.key)) and not (row.of or "").startswith("item/")

    def _exists(self, target: str) -> bool:
        table, _, key = target.partition("/")
        tables: Mapping[str, Mapping[str, object]] = {
            "item": self._boat.items,
            "container": self._boat.containers,
            "place": self._boat.places,
        }
        return key in tables.get(table, {})

    def _alone(self, rows: Iterable[Weighing]) -> Iterator[tuple[str, Estimate]]:
        for row in rows:
            table, _, key = (row.of or "").partition("/")
            if table == "item" and key in self._boat.items:
                net = (row.gross_kg or 0.0) - (row.tare_kg or 0.0)
                origin = Origin(
                    "weighed",
                    f"Weighed{_day(row)}: {_reading(row)}.",
                    (Cause("scale", self._share, self._share),),
                    own_kg=_reading_kg(row),
                    sources=("practice",),
                )
                yield key, (net, origin)

    def _shared(self, row: Weighing, kept: Mapping[str, Estimate]) -> dict[str, Estimate]:
        """What a crate's items weigh; empty where each was weighed alone anyway."""
        members = sorted(set(self._members[row.key]))
        net = (row.gross_kg or 0.0) - (row.tare_kg or 0.0)
        others = [key for key in members if key not in kept]
        if not others:
            return {}
        rest = net - math.fsum(kept[key][0] for key in members if key in kept)
        if rest <= 0:
            reason = (
                f"What was weighed alone is already more than the {net:g} kg together: all of it "
                "was shared out anew. Weigh one of them again."
            )
            self.not_counted.append(NotCounted(row.key, row.of or "", reason))
            others, rest = members, net
        return share_out(rest, {key: self._known[key] for key in others}, row, self._share)


def share_out(
    net: float, estimates: Mapping[str, Estimate], row: Weighing, scale: float
) -> dict[str, Estimate]:
    """A mass in kilograms over items in the proportion of their estimates.

    Args: net: above 0; scale: share by which every scale may be off.
    Returns: as many masses; their sum is ``net``, exactly. Estimates that are nothing together,
        less than a milligram, give no proportion and are taken as equal.
    """
    spreads = {key: spread_of(mass) for key, mass in estimates.items()}
    slices = {
        key: (one.likely, (one.likely - one.low) ** 2, (one.high - one.likely) ** 2)
        for key, one in spreads.items()
    }
    if math.fsum(kg for kg, _, _ in slices.values()) < LEAST_KG:
        slices = dict.fromkeys(slices, (1.0, 1.0, 1.0))
    crate = Crate(net, *(math.fsum(column) for column in zip(*slices.values(), strict=True)))
    parts = _exact(net, [kg for kg, _, _ in slices.values()])
    reading = _reading_kg(row) / net
    causes = (Cause("scale", scale, scale), Cause(f"weighing/{row.key}", reading, reading))
    why = (
        f"Weighed{_day(row)} together with {len(slices) - 1} more and shared out by estimate: "
        f"{_reading(row)}."
    )
    return {
        key: (
            kg,
            Origin("weighed", why, causes, part=Slice(crate, *slices[key]), sources=("practice",)),
        )
        for key, kg in zip(slices, parts, strict=True)
    }


def _exact(net: float, weights: Sequence[float]) -> list[float]:
    """Parts in the proportion of weights; the largest takes what rounding leaves over."""
    whole = math.fsum(weights)
    parts = [net * (weight / whole) for weight in weights]
    largest = max(range(len(parts)), key=parts.__getitem__)
    for _ in range(4):
        over = net - math.fsum(parts)
        if not over:
            break
        parts[largest] += over
    return parts


def _reading_kg(row: Weighing) -> float:
    """How far a reading may be off: half a division, once for the gross, once for the tare."""
    half = (row.division_kg or 0.0) / 2
    return math.hypot(half, half) if row.tare_kg else half


def _reading(row: Weighing) -> str:
    said = f"{row.gross_kg:g} kg"
    if row.tare_kg:
        said += f" gross less {row.tare_kg:g} kg empty"
    return f"{said}, read to {row.division_kg:g} kg" if row.division_kg else said


def _day(row: Weighing) -> str:
    return f" on {row.on[:10]}" if row.on else ""
