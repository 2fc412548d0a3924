"""`wiring.toml` as the calculations read it; metric resistances come from `sizes.toml`."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator
from typing import Any

from shedtally.domain.measures.gauge import gauge_diameter_mm, gauge_from_text, round_area_mm2
from shedtally.domain.rulebook.wiring import (
    Bundle,
    FillRules,
    GaugeRow,
    MetricRow,
    Ring,
    WireLimits,
    WireRules,
)

Toml = dict[str, Any]
# A phone is sent the areas, so that both reckon with the same figures to the last place.
PLACES = 6


def wiring(doc: Toml, conductors: Iterable[Toml]) -> WireRules:
    """Everything that wires are sized by."""
    ambient, drop, least = doc["ambient"], doc["drop"], doc["least"]
    return WireRules(
        insulation_c=tuple(doc["ampacity"]["insulation_c"]),
        at_c=doc["ampacity"]["at_c"],
        gauges=tuple(
            GaugeRow(row["name"], _gauge_mm2(row["name"]), tuple(map(float, row["amperes"])))
            for row in doc["gauge"]
        ),
        metric=tuple(MetricRow(row["mm2"], row["ohm_per_km"]) for row in conductors),
        hot_c=ambient["hot_c"],
        most_c=ambient["most_c"],
        below_insulation_k=ambient["below_insulation_k"],
        at_hot=tuple(ambient["at_hot"]),
        bundles=tuple(Bundle(row["from_n"], row["share"]) for row in doc["bundle"]),
        ohm_mm2_per_m=drop["ohm_mm2_per_m"],
        unnamed_ohm_mm2_per_km=drop["unnamed"]["ohm_mm2_per_km"],
        per_k=drop["per_k"],
        critical=drop["critical"],
        other=drop["other"],
        duties={row["name"]: row["times"] for row in doc["duty"]},
        alone_gauge_mm2=_gauge_mm2(least["alone_gauge"]),
        sheathed_gauge_mm2=_gauge_mm2(least["sheathed_gauge"]),
        alone_mm2=least["alone_mm2"],
        sheathed_mm2=least["sheathed_mm2"],
        limits=_limits(doc["limits"]),
        fuses=tuple(map(float, doc["fuses"]["amperes"])),
        feeds=tuple(doc["feeds"]["kinds"]),
        rings=tuple(
            Ring(row["up_to_mm2"], row["barrel"], tuple(row["studs"])) for row in doc["ring"]
        ),
        ring_over_mm=doc["rings"]["over_mm"],
        fill=FillRules(
            trunking=doc["fill"]["trunking"],
            conduit=doc["fill"]["conduit"],
            cores=tuple((row["mm2"], row["space_mm2"]) for row in doc["core"]),
            lay_up=tuple(map(float, doc["fill"]["lay_up"])),
            sheath_mm=doc["fill"]["sheath_mm"],
        ),
        cautions=tuple(row["text"] for row in doc["caution"]),
        sources=tuple(dict.fromkeys(_sources(doc))),
    )


def wiring_for_phone(rules: WireRules) -> dict[str, object]:
    """What a phone sizes wires by, as JSON."""
    return {
        name: value
        for name, value in dataclasses.asdict(rules).items()
        if name not in ("sources", "rings", "ring_over_mm", "feeds", "fill")
    }


def _limits(doc: Toml) -> WireLimits:
    return WireLimits(
        dc_v=(doc["dc_v"][0], doc["dc_v"][1]),
        ac_v=(doc["ac_v"][0], doc["ac_v"][1]),
        most_a=doc["most_a"],
        most_m=doc["most_m"],
        most_bundled=doc["most_bundled"],
        ac_mm2=doc["ac_mm2"],
        ac_gauge_mm2=_gauge_mm2(doc["ac_gauge"]),
        loads_differ=doc["loads_differ"],
    )


def _gauge_mm2(name: str) -> float:
    return round(round_area_mm2(gauge_diameter_mm(gauge_from_text(name)[0])), PLACES)


def _sources(node: object) -> Iterator[str]:
    """Keys of every source, in the order of the file."""
    if isinstance(node, dict):
        for key, value in node.items():
            if key == "source" or (key.endswith("_source") and isinstance(value, str)):
                yield str(value)
            else:
                yield from _sources(value)
    elif isinstance(node, list):
        for value in node:
            yield from _sources(value)
