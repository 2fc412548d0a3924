"""`floating.toml` as the calculations read it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from shedtally.domain.rulebook.floating import FloatRules, LiftRules, Share, Uniform

Toml = dict[str, Any]


def lifting(doc: Toml) -> LiftRules:
    """Slings and hooks."""
    return LiftRules(
        most_angle_deg=doc["most_angle_deg"],
        wide_angle_deg=doc["wide_angle_deg"],
        dynamic=doc["dynamic"],
        centre_sure_share=doc["centre_sure_share"],
        tilt_said_deg=doc["tilt_said_deg"],
        most_tilt_deg=doc["most_tilt_deg"],
        uniform=tuple(Uniform(row["legs"], row["to_deg"], row["times"]) for row in doc["uniform"]),
        cautions=tuple(row["text"] for row in doc["caution"]),
        sources=tuple(_sources(doc)),
    )


def floating(doc: Toml) -> FloatRules:
    """How a boat floats."""
    limits = doc["limits"]
    return FloatRules(
        waterline_of_length=Share(*doc["waterline_of_length"]),
        waterline_of_beam=Share(*doc["waterline_of_beam"]),
        area_share=Share(*doc["area_share"]),
        centre_aft=Share(*doc["centre_aft"]),
        inertia=Share(*doc["inertia"]),
        entered_sure=doc["entered_sure"],
        list_deg=limits["list_deg"],
        trim_deg=limits["trim_deg"],
        share_of_displacement=limits["share_of_displacement"],
        share_of_draught=limits["share_of_draught"],
        list_spread_deg=limits["list_spread_deg"],
        water={row["name"]: Share(*row["kg_m3"]) for row in doc["water"]},
        sources=tuple(_sources(doc)),
    )


def _sources(doc: Toml) -> Iterator[str]:
    names = ("source", "habits", "dynamic_source", "inertia_source")
    yield from dict.fromkeys(doc[name] for name in names if name in doc)
