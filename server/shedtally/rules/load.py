"""The one reader of the rules data: TOML in, checked frozen dataclasses out.

`load` refuses data that doesn't hold together: an unknown key, a source that isn't in
`sources.toml`, a reference to nothing, a spread out of order, a stream without a code for one
holder or one day. A server with bad rules must not start.
"""

from __future__ import annotations

import dataclasses
import functools
import hashlib
import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from shedtally.domain.rulebook import Kind, Rules, Survey
from shedtally.domain.tanks.liquid import temperatures
from shedtally.rules import (
    check,
    read,
    read_amounts,
    read_floating,
    read_liquids,
    read_renewal,
    read_waste,
    read_wiring,
    read_work,
)
from shedtally.rules.phone_waste import waste_for_phone

FOLDER = Path(__file__).parent

Toml = dict[str, Any]


@functools.cache
def load(folder: Path = FOLDER) -> Rules:
    """All rules, read and checked once.

    Raises: check.BadRules: what doesn't hold together, and where.
    """
    files = {path.relative_to(folder).as_posix(): path.read_bytes() for path in _paths(folder)}
    return build({name: tomllib.loads(text.decode()) for name, text in files.items()}, files)


def build(docs: Mapping[str, Toml], files: Mapping[str, bytes]) -> Rules:
    """Rules from parsed documents by file name; ``files`` are their bytes, for the version."""
    cautions = {row["id"]: row["text"] for row in docs["cautions.toml"]["caution"]}
    check.cited(docs)
    rules = Rules(
        version=_version(files),
        sources=_by("key", map(read.source, docs["sources.toml"]["source"])),
        systems=_by("id", map(read.system, docs["systems.toml"]["system"])),
        kinds=_by("id", _kinds(docs, cautions)),
        materials=_by("id", map(read.material, docs["materials.toml"]["material"])),
        streams=_by(
            "id", (read_waste.stream(row, cautions) for row in docs["streams.toml"]["stream"])
        ),
        rule_sets=_by("id", map(read_waste.rule_set, _in(docs, "sets/"))),
        sizes=read.sizes(docs["sizes.toml"]),
        renewing=read.renewing(docs["renewing.toml"]),
        efforts=read_work.efforts(docs["effort.toml"]),
        orders=tuple(map(read_work.order, docs["orders.toml"]["order"])),
        surveys=_by("id", map(read_work.survey, docs["surveys.toml"]["survey"])),
        trust={row["how"]: row["share"] for row in docs["trust.toml"]["trust"]},
        nothing_known=read.guess(docs["trust.toml"]["nothing_known"]["mass_kg"]),
        groups=tuple(map(read_waste.group, docs["groups.toml"]["group"])),
        signs=read_waste.signs(docs["signs.toml"]["sign"]),
        labels=read_waste.labels(docs["labels.toml"]["label"]),
        liquids=_by(
            "id",
            (read_liquids.liquid(row, cautions) for row in docs["liquids.toml"]["liquid"]),
        ),
        reading=read_liquids.reading(docs["liquids.toml"]["reading"], cautions),
        lifting=read_floating.lifting(docs["floating.toml"]["lifting"]),
        floating=read_floating.floating(docs["floating.toml"]["floating"]),
        renewal=read_renewal.renewal(docs["hoses.toml"], docs["threads.toml"], docs["parts.toml"]),
        wiring=read_wiring.wiring(docs["wiring.toml"], docs["sizes.toml"]["conductor"]),
        amounts=read_amounts.amounts(docs["amounts.toml"]),
        paths=tuple(map(read_waste.danger_path, docs["paths.toml"]["path"])),
        apart=tuple(map(read_waste.apart, docs["apart.toml"]["apart"])),
        stream_sets=read_waste.stream_sets(docs["apart.toml"]["set"]),
        contradictions=read_waste.contradictions(
            docs["contradictions.toml"]["contradiction"],
            [row["id"] for row in docs["streams.toml"]["stream"]],
        ),
    )
    check.hangs_together(rules)
    return rules


def rules_for_phone(rules: Rules) -> dict[str, object]:
    """What a phone needs of the rules while it is offline, ready to be sent as JSON."""
    return {
        "version": rules.version,
        "systems": [
            {"id": row.id, "name": row.name, "make_safe": row.make_safe, "strict": row.strict}
            for row in rules.systems.values()
        ],
        "kinds": [
            {
                "id": kind.id,
                "name": kind.name,
                "system": kind.system,
                "words": list(kind.words),
                "usual_in": list(kind.usual_in),
                "default_fate": kind.default_fate,
                "is_run": kind.is_run,
                "make_safe": list(kind.make_safe),
                "cautions": list(kind.cautions),
                "prompts": list(kind.prompts),
                "material": kind.material,
                "waste": kind.waste,
            }
            for kind in rules.kinds.values()
        ],
        "spark_tasks": [
            task for task, rows in rules.efforts.tasks.items() if any(row.sparks for row in rows)
        ],
        "surveys": [_survey_for_phone(row) for row in rules.surveys.values()],
        **waste_for_phone(rules),
        "materials": [{"id": row.id, "name": row.name} for row in rules.materials.values()],
        "tank_cautions": [*rules.reading.cautions, rules.reading.standing],
        "lifting": {"most_angle_deg": rules.lifting.most_angle_deg},
        "liquids": [
            {
                "id": row.id,
                "name": row.name,
                "cautions": list(row.cautions),
                "kinds": list(row.kinds),
                "sludge_kinds": list(row.sludge_kinds),
                "lightest": row.lightest,
                "heaviest": row.heaviest,
                "coldest": temperatures(row)[0],
                "warmest": temperatures(row)[1],
            }
            for row in rules.liquids.values()
        ],
        "renewal": read_renewal.renewal_for_phone(rules.renewal),
        "wiring": read_wiring.wiring_for_phone(rules.wiring),
    }


def _survey_for_phone(survey: Survey) -> dict[str, object]:
    """A survey as JSON, without its source."""
    rest = {key: value for key, value in dataclasses.asdict(survey).items() if key != "source"}
    rows = {name: [dict(row) for row in rest[name]] for name in ("compartments", "orders")}
    return {**rest, **rows}


def _paths(folder: Path) -> list[Path]:
    return sorted(folder.rglob("*.toml"))


def _version(files: Mapping[str, bytes]) -> str:
    digest = hashlib.sha256()
    for name in sorted(files):
        digest.update(name.encode() + b"\0" + files[name] + b"\0")
    return digest.hexdigest()[:12]


def _in(docs: Mapping[str, Toml], folder: str) -> Iterable[Toml]:
    return (docs[name] for name in sorted(docs) if name.startswith(folder))


def _kinds(docs: Mapping[str, Toml], cautions: Mapping[str, str]) -> Iterable[Kind]:
    """Kinds in the order of the systems that they belong to."""
    for system in docs["systems.toml"]["system"]:
        for row in docs[f"kinds/{system['id']}.toml"]["kind"]:
            yield read.kind(row, system["id"], cautions)


def _by(key: str, rows: Iterable[Any]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for row in rows:
        name = getattr(row, key)
        if name in found:
            raise check.BadRules(f"{name} is there twice")
        found[name] = row
    return found
