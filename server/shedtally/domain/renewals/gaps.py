"""What is still open about a line of the renewals list, said plainly and with the way out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shedtally.domain.aboard.out import pieces
from shedtally.domain.lists import Question, RunLength
from shedtally.domain.masses.recipe import readable_size
from shedtally.domain.records import Spec
from shedtally.domain.renewals.parts import Parts, Wanted
from shedtally.domain.renewals.plain_parts import missing
from shedtally.domain.rulebook import Kind, Rules
from shedtally.domain.wiring.cable_size import NOT_SIZED, order_size

GIVEN_UP = frozenset({"scrap", "waste"})
# Kinds that are screwed together by pipe threads, so that the family must be known.
THREADED = frozenset({"seacock", "skin-fitting", "hose-tail"})


def wants_size(kind: Kind | None) -> bool:
    """Whether a thing of this kind can't be ordered without a size."""
    return kind is not None and "size" in kind.prompts


def is_range(text: str) -> bool:
    """``20-32 mm``: what a clamp closes on."""
    first, dash, second = text.partition("-")
    return bool(dash) and first.strip().isdigit() and readable_size(second) is not None


def gaps(
    group: Sequence[Wanted], runs: Sequence[RunLength], spec: Spec | None, rules: Rules
) -> Iterator[str]:
    """The open questions of a line, as sentences."""
    parts = group[0].parts
    count = sum(pieces(want.item) for want in group)
    if parts.plain is None:
        yield from _size(parts, spec, rules)
    elif ask := missing(group[0].item, parts.plain, spec):
        yield ask
    yield from _service(parts, spec, rules)
    yield from _thread(parts, spec)
    yield from _lengths(runs, count)
    yield from _copied(group, spec)
    given_up = sum(pieces(want.item) for want in group if want.item.fate in GIVEN_UP)
    if given_up:
        asks = "is it to be replaced" if count == 1 else "are they to be replaced"
        yield f"{so_many(given_up, count, 'are marked')} as scrap or waste: {asks}?"


def questions(want: Wanted, length: RunLength | None) -> Iterator[Question]:
    """What only a person can answer about one item before it can be ordered."""
    item, parts = want.item, want.parts
    name = item.name or parts.name
    if wants_size(parts.kind) and not parts.typed:
        yield Question(item.key, name, "size", "Which size is it?", "left out of the order")
    if length is not None and length.how != "measured":
        assumed = "left out of the length"
        if length.length_mm is not None:
            assumed = f"taken for {length.length_mm / 1000:.1f} m, from where its ends sit"
        yield Question(item.key, name, "length_mm", "How long is it?", assumed)
    if parts.kind is None:
        yield Question(item.key, name, "kind", "What is it?", "ordered by its name")


def _size(parts: Parts, spec: Spec | None, rules: Rules) -> Iterator[str]:
    fixed = spec is not None and (spec.bore_mm or spec.conductor or spec.thread_size)
    if fixed:
        yield from _least_bore(parts, spec.bore_mm if spec else None)
        return
    if not parts.typed and wants_size(parts.kind):
        yield "The size is missing: measure it on the fitting."
    elif parts.typed and parts.read is None and not is_range(parts.typed):
        yield f"The size {parts.typed} can't be read as a measure: check it."
    elif parts.kind and parts.kind.section == "hose" and parts.read and parts.read.thread:
        yield (
            f"{parts.read.shown} is a thread, and a hose is bought by its inside: measure the tail "
            "and write it like 19 mm; the thread belongs to what is screwed."
        )
    elif parts.kind and parts.kind.section == "hose" and parts.read:
        yield from _no_such_bore(parts, rules)
        yield from _least_bore(parts, parts.read.mm)


def _no_such_bore(parts: Parts, rules: Rules) -> Iterator[str]:
    mm = parts.read.mm if parts.read else None
    bores = rules.renewal.bores
    if mm is None or any(row.least_mm <= mm <= row.most_mm for row in bores):
        return
    near = sorted(bores, key=lambda row: abs(row.nominal_mm - mm))[:2]
    sold = " and ".join(f"{size:g}" for size in sorted(row.nominal_mm for row in near))
    yield (
        f"{mm:.3g} mm is no bore of ISO 1307; next to it are {sold} mm: measure the tail, and fix "
        "the bore or ask for this one."
    )


def _least_bore(parts: Parts, mm: float | None) -> Iterator[str]:
    service = parts.service
    # A tenth less: a hose of 1 1/2 in is 38.1 mm by name and 36.5 to 39.7 as made.
    if service and mm and service.least_bore_mm and mm < service.least_bore_mm * 0.96:
        yield f"{mm:g} mm is narrow: {service.least_bore_say}."


def _service(parts: Parts, spec: Spec | None, rules: Rules) -> Iterator[str]:
    if parts.kind is None or parts.service or (spec and spec.service):
        return
    able = [row for row in rules.renewal.services.values() if parts.kind.id in row.kinds]
    if able:
        names = " or ".join(row.name.lower() for row in able)
        yield f"What flows in it: {names}? The hose and its clamps differ; fix it for the line."


def _thread(parts: Parts, spec: Spec | None) -> Iterator[str]:
    if spec and spec.thread_family:
        return
    if parts.thread_fault:
        yield f"Thread: {parts.thread_fault}."
    elif parts.cut is not None and not parts.cut.family:
        yield (
            f"{parts.thread} may be parallel (G, Rp) or taper (R, Rc), and one is not tight in "
            "every other: look whether it gets thinner, and fix the family."
        )
    elif parts.cut is None and parts.kind and parts.kind.id in THREADED:
        yield (
            "The thread is not known, and BSP and NPT don't go together: measure outside and "
            "threads to the inch, write them like 33.2 mm, 11 tpi, or fix the family."
        )


def _copied(group: Sequence[Wanted], spec: Spec | None) -> Iterator[str]:
    parts = group[0].parts
    is_cable = parts.kind is not None and parts.kind.section == "cable"
    if not is_cable or not parts.typed or (spec and spec.conductor):
        return
    count = sum(pieces(want.item) for want in group)
    copied = sum(pieces(want.item) for want in group if order_size(want.item)[1] == NOT_SIZED)
    if copied:
        some = so_many(copied, count, "copied")
        yield f"{some}, not sized: size the wire on the run before you order."


def _lengths(runs: Sequence[RunLength], count: int) -> Iterator[str]:
    missing = sum(run.count for run in runs if run.how == "not known")
    if missing:
        if count == 1:
            yield "No length is known, so it is not in the total."
        else:
            yield f"{so_many(missing, count, 'have')} no length, and are not in the total."
    worked = [run for run in runs if run.how == "worked out from the compartments"]
    if worked:
        low, likely, high = (
            sum((getattr(run, name) or 0) * run.count for run in worked) / 1000
            for name in ("low_mm", "length_mm", "high_mm")
        )
        pieces_of = sum(run.count for run in worked)
        yield (
            f"{so_many(pieces_of, count, 'not measured')}: {likely:.1f} m worked out from the "
            f"compartments ({low:.1f} to {high:.1f} m). Measure before you cut."
        )


def so_many(some: int, count: int, said: str) -> str:
    """``1 of 3 copied``, ``Both copied``, ``All 6 copied``; of a single one just ``Copied``."""
    if count == 1:
        word = said.removeprefix("are ")
        return word[:1].upper() + word[1:]
    if some < count:
        return f"{some} of {count} {said}"
    return f"Both {said}" if count == 2 else f"All {count} {said}"
