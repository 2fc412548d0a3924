"""The size that a line is bought in once a person fixed one, which need not be the old one."""

from __future__ import annotations

from shedtally.domain.masses.section import nominal_hose
from shedtally.domain.records.renewal import Spec
from shedtally.domain.renewals.parts import Parts
from shedtally.domain.renewals.plain_parts import sized
from shedtally.domain.rulebook import HoseSize, Rules
from shedtally.domain.wiring.size import conductor

# Families that are written before the size; American and unified ones stand behind it.
BSP = ("BSP", "G", "R", "Rp", "Rc")


def fixed_size(parts: Parts, spec: Spec | None, rules: Rules) -> str:
    """The size that was fixed, shown as a list shows it; empty where the old one stands."""
    if spec is None:
        return ""
    if spec.bore_mm:
        hose = fixed_hose(spec, rules)
        return hose.shown if hose else f"{spec.bore_mm:g} mm"
    if spec.conductor:
        return _cable(spec.conductor, spec.cores or (parts.read.cores if parts.read else 1))
    if spec.size:
        return sized(spec.size, parts.plain)[0] if parts.plain else spec.size
    return ""


def fixed_hose(spec: Spec | None, rules: Rules) -> HoseSize | None:
    """The hose that is sold for the bore that was fixed; None where none was, or none is sold."""
    return nominal_hose(spec.bore_mm, rules.sizes) if spec and spec.bore_mm else None


def fixed_thread(parts: Parts, spec: Spec | None) -> str:
    """The thread that it is bought with: as fixed, family or size or both, else the old one."""
    if spec is None or not (spec.thread_family or spec.thread_size):
        return parts.thread
    cut = parts.cut
    family = str(spec.thread_family or (cut.family or cut.series if cut else ""))
    size = spec.thread_size or (cut.size if cut else "")
    if family == "metric":
        return size if size.upper().startswith("M") else f"M{size}"
    words = (family, size) if family in BSP else (size, family)
    return " ".join(word for word in words if word)


def _cable(text: str, cores: int) -> str:
    """``2 x 2.5 mm2``: a conductor alone has the cores that were fixed, else those of the old."""
    size = conductor(text)
    if isinstance(size, str) or size.cores > 1 or cores < 2:
        return text.strip()
    return f"{cores} x {size.shown}"
