"""One TOML row into one dataclass of the rulebook; a missing or unknown key is an error."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from shedtally.domain.lists import Spread
from shedtally.domain.rulebook import (
    ClampSize,
    Conductor,
    HoseSize,
    Kind,
    Material,
    PipeSize,
    Renewing,
    Sizes,
    Source,
    System,
    Three,
)
from shedtally.rules.check import BadRules

Row = dict[str, Any]

COPPER_OHM_MM2_PER_KM = 17.241
USUAL_COPPER_SHARE = 0.97


def source(row: Row) -> Source:
    """A row of sources.toml."""
    return Source(**row)


def system(row: Row) -> System:
    """A row of systems.toml."""
    return System(**row)


def kind(row: Row, system_id: str, cautions: Mapping[str, str]) -> Kind:
    """A row of kinds/<system>.toml; its cautions come as texts."""
    rest = {key: value for key, value in row.items() if key not in {"mass_kg", "cautions"}}
    return Kind(
        system=system_id,
        mass=guess(row["mass_kg"]),
        cautions=texts(row.get("cautions", []), cautions),
        **frozen(rest),
    )


def material(row: Row) -> Material:
    """A row of materials.toml."""
    rest = {key: value for key, value in row.items() if key not in {"density", "kg_per_wh"}}
    return Material(
        density=three(row["density"]) if "density" in row else None,
        kg_per_wh=three(row["kg_per_wh"]) if "kg_per_wh" in row else None,
        **frozen(rest),
    )


def sizes(doc: Row) -> Sizes:
    """The file sizes.toml."""
    sections = doc["sections"]
    return Sizes(
        hoses=tuple(
            HoseSize(row["bore_mm"], row["shown"], three(row["outside_mm"]), row["source"])
            for row in doc["hose"]
        ),
        clamps=tuple(_clamp(row) for row in doc["clamp"]),
        pipes=tuple(_pipe(row) for row in doc["pipe"]),
        conductors=tuple(_conductor(row) for row in doc["conductor"]),
        insulation=tuple((row["up_to_mm2"], row["wall_mm"]) for row in doc["insulation"]),
        wire_rope_fill=three(sections["wire_rope_fill"]),
        rope_fill=three(sections["rope_fill"]),
        chain_kg_per_m_mm2=three(sections["chain_kg_per_m_mm2"]),
        pipe_wall_mm=three(sections["pipe_wall_mm"]),
        sheath_share=three(sections["sheath_share"]),
        sources=_sources_by_section(doc),
    )


def renewing(doc: Row) -> Renewing:
    """The file renewing.toml."""
    allowance, clamps = doc["allowance"], doc["clamps"]
    return Renewing(
        share=allowance["share"],
        each_end_mm=allowance["each_end_mm"],
        kerf_mm=doc["cutting"]["kerf_mm"],
        round_up_to_mm=allowance["round_up_to_mm"],
        clamp_words=tuple(clamps["words"]),
        two_words=tuple(clamps["two_words"]),
        cautions=tuple(row["text"] for row in doc["caution"]),
        standards={kind_id: row["ask_for"] for row in doc["standard"] for kind_id in row["kinds"]},
    )


def guess(values: Sequence[float]) -> Spread:
    """A spread that was estimated."""
    return Spread(*three(values), basis="guessed")


def three(values: Sequence[float]) -> Three:
    """Low, likely, high, in that order and not below zero."""
    if len(values) != 3 or not 0 <= values[0] <= values[1] <= values[2]:
        raise BadRules(f"{values} is not low, likely, high")
    return Three(*map(float, values))


def _pipe(row: Row) -> PipeSize:
    return PipeSize(
        dn=row.get("dn", ""),
        inch=row.get("inch", ""),
        outside_mm=row["outside_mm"],
        wall_mm=three(row["wall_mm"]),
        materials=tuple(row["materials"]),
        source=row["source"],
    )


def _conductor(row: Row) -> Conductor:
    """The largest resistance allows a smallest area; what is sold lies between it and the name."""
    smallest = COPPER_OHM_MM2_PER_KM / row["ohm_per_km"]
    likely = max(smallest, USUAL_COPPER_SHARE * row["mm2"])
    return Conductor(row["mm2"], three([smallest, likely, row["mm2"]]), row["source"])


def _sources_by_section(doc: Row) -> dict[str, tuple[str, ...]]:
    """Keys of sources by section of a run, each named once."""
    sections = doc["sections"]["source"]
    covers = (row["source"] for row in doc["insulation"])
    found = {
        "hose": [row["source"] for row in doc["hose"]],
        "pipe": [sections],
        "cable": [*doc["formulas"]["sources"][:2], *covers],
        "chain": [doc["sections"]["chain_source"]],
        "wire-rope": [sections],
        "rope": [sections],
        "bar": [],
    }
    return {section: tuple(dict.fromkeys(keys)) for section, keys in found.items()}


def _clamp(row: Row) -> ClampSize:
    closed_mm, open_mm = row["closed_open_mm"]
    return ClampSize(row["number"], closed_mm, open_mm, row["source"])


def texts(keys: Sequence[str], cautions: Mapping[str, str]) -> tuple[str, ...]:
    """The texts of cautions by their ids; an unknown id is an error."""
    missing = [key for key in keys if key not in cautions]
    if missing:
        raise BadRules(f"no caution is called {', '.join(missing)}")
    return tuple(cautions[key] for key in keys)


def frozen(row: Row) -> Row:
    """The row with tuples for lists, as frozen dataclasses hold them."""
    return {key: tuple(value) if isinstance(value, list) else value for key, value in row.items()}
