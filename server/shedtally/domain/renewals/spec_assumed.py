"""What a line counts with where nobody fixed anything, each with its reason, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from shedtally.domain.records import Spec
from shedtally.domain.renewals.parts import Parts
from shedtally.domain.renewals.spec_words import added_to
from shedtally.domain.rulebook import Rules


def assumed(parts: Parts, spec: Spec | None, standard: str, rules: Rules) -> Iterator[str]:
    """What was taken for the line and why, in the order of the screen that fixes it."""
    fixed = spec or Spec(key="")
    if standard and not fixed.standard:
        yield f"Asked for: {standard}. That is the usual for this kind."
    if parts.kind and parts.kind.section == "hose":
        yield from _hose(parts, fixed, rules)
    if parts.kind and parts.kind.section == "cable":
        yield from _cable(parts, fixed)
    if parts.thread and not fixed.thread_family:
        yield f"Thread {parts.thread}: as it is written on what comes out."
    if parts.is_run and (fixed.allowance is None or fixed.each_end_mm is None):
        added = added_to(spec, rules)
        yield (
            f"Each run is ordered {added.share * 100:g} % longer, and {added.each_end_mm:g} mm "
            "more for each end: common practice, to be cut to fit on the boat."
        )


def _hose(parts: Parts, fixed: Spec, rules: Rules) -> Iterator[str]:
    service = rules.renewal.services.get(fixed.service or "") or parts.service
    hose = parts.hose
    if service and not fixed.service:
        yield f"For {service.name.lower()}: a hose of this kind carries nothing else."
    if parts.size and not fixed.bore_mm:
        yield f"Inside {parts.size}: the size that is written on what comes out."
    if hose and not fixed.outside_mm:
        outside = hose.outside_mm
        yield (
            f"Outside about {outside.likely:g} mm ({outside.low:g} to {outside.high:g} mm), by the "
            "table of sizes: the clamps go by it."
        )
    if service and fixed.clamps_each_end is None:
        count = service.kind_clamps.get(parts.kind.id if parts.kind else "", service.clamps)
        said = {0: "No clamps", 1: "One clamp", 2: "Two clamps"}.get(count, f"{count} clamps")
        yield f"{said} at each end: what is usual for {service.name.lower()}."


def _cable(parts: Parts, fixed: Spec) -> Iterator[str]:
    if parts.size and not fixed.conductor:
        yield f"Conductor {parts.size}: as it was taken for each run, or copied from the old one."
    if fixed.tinned is None:
        yield "Tinned or not: nobody said; tinned copper is the practice on boats."
    if fixed.insulation_c is None:
        yield "Insulation: as written on each run; where nothing is, wires are sized as for 60 °C."
