"""Circuits on paper: cautions, a table of all runs, each that was sized, and the parts to buy."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable, KeepTogether

from shedtally.domain.records import tag
from shedtally.domain.wiring.lists import CircuitLine, CircuitList, WireFit, WirePart
from shedtally.domain.wiring.load import shown
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import codes, number, words
from shedtally.printing.paper import ASKS, RIGHT, SMALL, STRONG_BODY, Heading, document
from shedtally.printing.tables import Cell, facts, numbered_cautions, opening, part, table

_TITLE = "Circuits"
_FAILS = ("the old one fails", "the taken one fails")


def circuits_pdf(circuits: CircuitList, heading: Heading) -> bytes:
    """The list as PDF on A4."""
    story = opening(_TITLE, heading, _lead(circuits))
    # What the list is and is not comes first, and stands alone.
    standing, *others = circuits.cautions
    story += numbered_cautions([(text, "") for text in others], standing)
    if circuits.circuits:
        story += [*part("All runs of cable"), _overview(circuits.circuits)]
    for line in circuits.circuits:
        if line.sizing.amps or line.sizing.refused:
            story.append(KeepTogether(_sized(line)))
    if circuits.parts:
        story += [
            *part("At the ends", "Rings for the size on the order, both ends of every run."),
            _parts(circuits.parts),
        ]
    story += part("What this covers")
    story += [words(text, SMALL) for text in circuits.ranges]
    story += [*part("Sources"), *(words(source, SMALL) for source in circuits.sources)]
    return document(story, _TITLE, heading)


def circuits_csv(circuits: CircuitList) -> str:
    """The list as CSV, one row a run."""
    heads = [
        "run", "tag codes", "system", "current", "from", "to", "old size", "old fuse (A)",
        "length (mm)", "load (A)", "there and back (m)", "drop allowed (%)", "least gauge",
        "least mm2", "least: bears (A)", "least: drop (%)", "fuse from (A)", "fuse to (A)",
        "old: bears (A)", "old: drop (%)", "verdict", "why", "counted at its worst", "on the order",
        "how", "conductors", "ring at one end", "ring at the other", "trunking",
    ]  # fmt: skip
    return csv_text(heads, map(_csv_row, circuits.circuits))


def _csv_row(line: CircuitLine) -> list[Value]:
    sizing, ends = line.sizing, [*line.ends, None, None]
    one, other = ends[0], ends[1]
    least = sizing.metric or sizing.gauge
    return [
        line.name, several(tag.shown(code) for code in line.tags), line.system, line.current,
        one.to if one else "", other.to if other else "", line.old_size, line.fuse_a,
        line.length_mm, _places(sizing.amps, 2), _places(sizing.there_and_back_m, 3),
        _places(100 * sizing.allowed_share, 1), sizing.gauge.name if sizing.gauge else "",
        sizing.metric.name if sizing.metric else "", _places(least.bears_a if least else 0, 1),
        _places(100 * least.drop_share if least else 0, 2), _places(sizing.fuse_from_a, 2),
        _places(least.bears_a if least else 0, 1),
        _places(sizing.old.bears_a if sizing.old else 0, 1),
        _places(100 * sizing.old.drop_share if sizing.old else 0, 2), line.verdict,
        several([sizing.refused, *sizing.asks, sizing.old_words, sizing.taken_words]),
        several(sizing.assumed), line.order_size, line.order_how, line.conductors,
        one.ring if one else "", other.ring if other else "", line.trunking,
    ]  # fmt: skip


def _places(value: float, places: int) -> float | None:
    return round(value, places) or None


def _lead(circuits: CircuitList) -> str:
    lines = circuits.circuits
    if not lines:
        return "No run of cable is written down yet: enter one on the phone, then print again."
    sized = sum(1 for line in lines if line.sizing.amps)
    failing = sum(1 for line in lines if line.verdict in _FAILS)
    words_of = "1 run" if len(lines) == 1 else f"{len(lines)} runs"
    return (
        f"{words_of} of cable, {sized} sized. {failing} "
        f"{'has' if failing == 1 else 'have'} a wire that fails its load; runs that nobody sized "
        "are copied as they were."
    )


def _overview(lines: Sequence[CircuitLine]) -> Flowable:
    rows: list[list[Cell]] = [
        [
            [words(line.name, STRONG_BODY), *codes(line.tags)],
            words(" – ".join(end.to for end in line.ends) or "ends open", SMALL),
            words(line.old_size or "–"),
            [words(line.verdict, ASKS if line.verdict != "the old one passes" else SMALL)],
            words(_takes(line)),
            [words(line.order_size or "–", STRONG_BODY), words(line.order_how, SMALL)],
        ]
        for line in lines
    ]
    heads = ["run", "from – to", "was", "", "takes", "on the order"]
    return table(heads, [41, 36, 25, 22, 26, 28], rows)


def _takes(line: CircuitLine) -> str:
    found = [fit.name for fit in (line.sizing.metric, line.sizing.gauge) if fit]
    return " or ".join(found) or "–"


def _sized(line: CircuitLine) -> list[Flowable]:
    sizing = line.sizing
    story = part(line.name, line.old_size and f"was {line.old_size}")
    if sizing.refused:
        story.append(words(f"Outside the method. {sizing.refused}", ASKS))
    if not sizing.amps:
        return story
    carried = (
        f"{shown(sizing.amps, 1)} A over {shown(sizing.there_and_back_m, 1)} m there and back; "
        f"at most {shown(100 * sizing.allowed_share, 1)} % or {shown(sizing.allowed_v, 2)} V lost"
    )
    around = (
        f"air of {shown(sizing.ambient_c, 0)} °C, insulation for {sizing.insulation_c} °C: "
        f"{shown(100 * sizing.ambient_share * sizing.bundle_share, 0)} % of the table counts"
    )
    story.append(
        facts(
            [
                ("carries", carried),
                ("lies in", around),
                ("at its worst", "; ".join(sizing.assumed)),
                ("compared", sizing.old_words),
                ("taken", sizing.taken_words),
            ]
        )
    )
    story += [words(text, ASKS) for text in sizing.notes]
    fits = (("least in mm2", sizing.metric), ("least gauge", sizing.gauge), ("was", sizing.old))
    story.append(_fits([(name, fit) for name, fit in fits if fit], sizing.fuse_from_a))
    return story


def _fits(fits: Sequence[tuple[str, WireFit]], fuse_from_a: float) -> Flowable:
    rows: list[list[Cell]] = [
        [
            words(name),
            words(fit.name, STRONG_BODY),
            words(
                "passes" if not fit.fails else "; ".join(fit.fails), ASKS if fit.fails else SMALL
            ),
            words(_fuse(fit, fuse_from_a), SMALL),
            words(f"{shown(fit.bears_a, 1)} A", RIGHT),
            words(f"{shown(fit.drop_v, 2)} V", RIGHT),
            words(f"{shown(100 * fit.drop_share, 1)} %", RIGHT),
        ]
        for name, fit in fits
    ]
    heads = ["", "wire", "", "fuse", "bears", "drops", ""]
    return table(heads, [24, 24, 44, 42, 17, 14, 13], rows, right=3)


def _fuse(fit: WireFit, fuse_from_a: float) -> str:
    if not fit.fuses:
        return "none fits"
    ratings = " to ".join(dict.fromkeys(f"{fuse:g}" for fuse in (fit.fuses[0], fit.fuses[-1])))
    return (
        f"{ratings} A: the load asks for {shown(fuse_from_a, 1)} A, "
        f"the wire bears no more than {shown(fit.bears_a, 1)} A"
    )


def _parts(parts: Sequence[WirePart]) -> Flowable:
    rows: list[list[Cell]] = [
        [
            words(part.sort),
            [
                words(part.name, STRONG_BODY),
                *([words(part.fill, ASKS if part.too_full else SMALL)] if part.fill else []),
            ],
            words(", ".join(part.runs), SMALL),
            words(_amount(part), RIGHT),
        ]
        for part in parts
    ]
    return table(["part", "which", "for", "amount"], [27, 58, 73, 20], rows, right=1)


def _amount(part: WirePart) -> str:
    if part.sort != "trunking":
        return str(part.count)
    return f"{number(part.length_mm / 1000, 1)} m" if part.length_mm else "length open"
