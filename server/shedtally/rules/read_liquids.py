"""The file liquids.toml into the dataclasses of the rulebook."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shedtally.domain.rulebook import Liquid, Reading
from shedtally.rules.read import texts, three

Row = dict[str, Any]

_THREES = ("temperature_unknown", "sludge_density")


def liquid(row: Row, cautions: Mapping[str, str]) -> Liquid:
    """A row of liquids.toml; its cautions come as texts."""
    own = {key: row[key] for key in ("id", "name", "method", "lightest", "heaviest")}
    return Liquid(
        density=three(row["density"]),
        points=tuple((float(at), float(density)) for at, density in row.get("points", [])),
        cautions=tuple(cautions[caution] for caution in row["cautions"]),
        sources=tuple(row["sources"]),
        kinds=tuple(row.get("kinds", ())),
        sludge_kinds=tuple(row.get("sludge_kinds", ())),
        **own,
    )


def reading(row: Row, cautions: Mapping[str, str]) -> Reading:
    """How far off readings may be, and what is said beside each."""
    own = {*_THREES, "source", "why", "always", "standing"}
    rest = {key: value for key, value in row.items() if key not in own}
    said = {
        "cautions": texts(row["always"], cautions),
        "standing": texts([row["standing"]], cautions)[0],
    }
    return Reading(**rest, **said, **{key: three(row[key]) for key in _THREES})  # type: ignore[arg-type]
