"""`hoses.toml`, `threads.toml` and `parts.toml` as the calculations read them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from shedtally.domain.rulebook.renewing import (
    Bore,
    Family,
    Fit,
    PartSize,
    PlainPart,
    RenewalRules,
    Service,
    ThreadSize,
)

Toml = dict[str, Any]
INCH_MM = 25.4


def renewal(hoses: Toml, threads: Toml, parts: Toml) -> RenewalRules:
    """What renewing knows of hoses, threads and plain parts."""
    services = map(_service, hoses["service"])
    families = map(_family, threads["family"])
    return RenewalRules(
        services={row.id: row for row in services},
        bores=tuple(Bore(row["nominal_mm"], *row["inside_mm"]) for row in hoses["bore"]),
        families={row.id: row for row in families},
        fits={
            (row["male"], row["female"]): Fit(row["tight"], row["say"], row["source"])
            for row in threads["fit"]
        },
        series={
            frozenset((row["first"], row["second"])): Fit(False, row["say"], row["source"])
            for row in threads["series"]
        },
        sizes=(*map(_bsp, threads["bsp"]), *map(_np, threads["np"])),
        parts={kind: part for part in _parts(parts) for kind in part.kinds},
    )


def renewal_for_phone(rules: RenewalRules) -> dict[str, object]:
    """What a phone offers while it fixes a spec: services with their standards, thread families."""
    return {
        "services": [
            {
                "id": row.id,
                "name": row.name,
                "kinds": list(row.kinds),
                "standards": list(row.standards),
                "clamps": row.clamps,
                "kind_clamps": dict(row.kind_clamps),
                "least_bore_mm": row.least_bore_mm,
                "least_bore_say": row.least_bore_say,
                "caution": row.caution,
            }
            for row in rules.services.values()
        ],
        "bores_mm": [row.nominal_mm for row in rules.bores],
        "threads": [
            {
                "id": row.id,
                "name": row.name,
                "tight": row.tight,
                "series": row.series,
                "sex": row.sex,
                "words": list(row.words),
                "classes": list(row.classes),
            }
            for row in rules.families.values()
        ],
        "thread_sizes": [
            {
                "series": row.series,
                "size": row.size,
                "per_inch": row.per_inch,
                "major_mm": row.major_mm,
            }
            for row in rules.sizes
        ],
        "thread_fits": [
            {"male": male, "female": female, "tight": fit.tight, "say": fit.say}
            for (male, female), fit in rules.fits.items()
        ],
        "thread_series": [
            {"series": sorted(pair), "say": fit.say} for pair, fit in rules.series.items()
        ],
        "parts": [
            {
                "kinds": list(row.kinds),
                "by": list(row.by),
                "ask": row.ask,
                "measure": row.measure,
                "standards": list(row.standards),
                "sizes": [{"name": size.name, "about": size.about} for size in row.sizes],
            }
            for row in {row.id: row for row in rules.parts.values()}.values()
        ],
    }


def _service(row: Toml) -> Service:
    return Service(
        id=row["id"],
        name=row["name"],
        kinds=tuple(row["kinds"]),
        standards=tuple(row["standards"]),
        clamps=row["clamps"],
        kind_clamps=dict(row.get("kind_clamps", {})),
        least_bore_mm=row.get("least_bore_mm", 0.0),
        least_bore_say=row.get("least_bore_say", ""),
        caution=row.get("caution", ""),
        sources=tuple(row["sources"]),
    )


def _parts(doc: Toml) -> Iterator[PlainPart]:
    for row in doc["part"]:
        yield PlainPart(
            id=row["id"],
            kinds=tuple(row["kinds"]),
            called=row.get("called", ""),
            by=tuple(row["by"]),
            numbers=tuple(row.get("numbers", ())),
            named=row.get("named", False),
            within_mm=row.get("within_mm", 0.0),
            flow=row.get("flow", False),
            ask=row["ask"],
            measure=row["measure"],
            standards=tuple(row["standards"]),
            sources=tuple(row["sources"]),
            sizes=tuple(_sizes(doc, row["id"])),
        )


def _sizes(doc: Toml, part: str) -> Iterator[PartSize]:
    for table in doc["size"]:
        for row in table["rows"] if table["part"] == part else ():
            yield PartSize(
                name=row["name"],
                words=(row["name"].lower(), *row["words"]),
                measures=tuple(row["measures"]),
                about=table["about"].format(*row["measures"]),
                span=table.get("span", False),
                source=table["source"],
            )


def _family(row: Toml) -> Family:
    return Family(
        id=row["id"],
        name=row["name"],
        series=row["series"],
        taper=row["taper"],
        sex=row.get("sex", ""),
        words=tuple(row["words"]),
        tight=row["tight"],
        source=row["source"],
        classes=tuple(row.get("classes", ())),
    )


def _bsp(row: Toml) -> ThreadSize:
    return ThreadSize(
        "BSP", row["size"], row["per_inch"], row["major_mm"], row["pitch_diameter_mm"],
        row["gauge_mm"],
    )  # fmt: skip


def _np(row: Toml) -> ThreadSize:
    return ThreadSize(
        "NP", row["size"], row["per_inch"], row["major_mm"], row["pitch_diameter_in"] * INCH_MM,
        row["hand_tight_in"] * INCH_MM,
    )  # fmt: skip
