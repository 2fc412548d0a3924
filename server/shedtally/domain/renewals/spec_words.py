"""What a person fixed for a line of the renewals list, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shedtally.domain.records.renewal import Spec
from shedtally.domain.rulebook import Rules
from shedtally.domain.rulebook.renewing import RenewalRules


@dataclass(frozen=True, slots=True)
class Added:
    """What is added to the length of a run: a share of it, and millimetres for each end."""

    share: float
    each_end_mm: float

    def cut_mm(self, length_mm: float) -> float:
        """One piece with its share and both ends, not rounded."""
        return length_mm * (1 + self.share) + 2 * self.each_end_mm


def added_to(spec: Spec | None, rules: Rules) -> Added:
    """What was fixed for the line, else what renewing.toml allows."""
    share = spec.allowance if spec else None
    each_end = spec.each_end_mm if spec else None
    return Added(
        rules.renewing.share if share is None else share,
        rules.renewing.each_end_mm if each_end is None else each_end,
    )


def details(spec: Spec, rules: RenewalRules) -> Iterator[str]:
    """The fixed details as short sentences, in the order of the screen that fixes them."""
    service = rules.services.get(spec.service or "")
    if spec.service:
        yield f"For {service.name.lower() if service else spec.service}."
    yield from _measures(spec)
    yield from _thread(spec, rules)
    if spec.clamps_each_end is not None:
        yield f"Clamps at each end: {spec.clamps_each_end}."
    yield from _cable(spec)
    if spec.allowance is not None:
        yield f"{spec.allowance * 100:g} % more than the runs measure."
    if spec.each_end_mm is not None:
        yield f"{spec.each_end_mm:g} mm more for each end."
    if spec.substitute:
        yield f"May be replaced by: {spec.substitute}."
    if spec.note:
        yield spec.note


def _measures(spec: Spec) -> Iterator[str]:
    if spec.size:
        yield f"Size {spec.size}."
    if spec.bore_mm:
        yield f"Bore {spec.bore_mm:g} mm."
    if spec.outside_mm:
        yield f"Outside {spec.outside_mm:g} mm."
    if spec.material:
        yield f"Made of {spec.material}."


def _thread(spec: Spec, rules: RenewalRules) -> Iterator[str]:
    family = rules.families.get(spec.thread_family or "")
    name = family.name if family else spec.thread_family or ""
    said = " ".join(part for part in (name, spec.thread_size) if part)
    if said:
        tight = f", tight {family.tight}" if family else ""
        yield f"Thread {said}{tight}."


def _cable(spec: Spec) -> Iterator[str]:
    parts = [
        spec.conductor,
        f"{spec.cores} cores" if spec.cores and spec.cores > 1 else None,
        {True: "tinned", False: "not tinned"}.get(spec.tinned) if spec.tinned is not None else None,
        {True: "sheathed", False: "single"}[spec.sheathed] if spec.sheathed is not None else None,
        f"insulation for {spec.insulation_c} °C" if spec.insulation_c else None,
        spec.colour,
    ]
    said = ", ".join(part for part in parts if part)
    if said:
        yield f"{said[:1].upper()}{said[1:]}."
