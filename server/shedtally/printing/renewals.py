"""Renewals: what to order, system by system, with room for the prices."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable

from shedtally.domain.lists import RenewalLine, RenewalList, RunLength
from shedtally.domain.records import tag
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import (
    MOST_CODES,
    Line,
    capital,
    codes_in_words,
    counted,
    number,
    spec_without,
    trade_word,
    words,
)
from shedtally.printing.paper import ASKS, RIGHT, SMALL, SMALL_RIGHT, STRONG_BODY, Heading, document
from shedtally.printing.tables import (
    Cell,
    numbered_cautions,
    opening,
    questions,
    section,
    table,
)
from shedtally.printing.workbook import Page, workbook

_TITLE = "Renewals"
_STANDING = "Local rules and licensed trades come first. Check every type and size before ordering."

_SHEET = "renewals"
_HEADS = (
    "system", "spec", "kind", "size", "standard", "count (pieces)", "length (m)",
    "allowance (%)", "order length (m)", "price", "tag codes", "open questions", "fixed details",
    "does not fit", "how the lengths were got", "line",
)  # fmt: skip
_RUNS_SHEET = "runs"
_RUNS_HEADS = (
    "line", "spec", "run", "tag codes", "count (pieces)", "length (m)", "shortest (m)",
    "longest (m)", "cut length (m)", "how the length was got", "ends",
)  # fmt: skip


def renewals_pdf(renewals: RenewalList, heading: Heading) -> bytes:
    """The list as PDF on A4: cautions, a table for each system, open questions."""
    story: list[Flowable] = opening(_TITLE, heading, _lead(renewals))
    if renewals.cautions:
        story += numbered_cautions([(text, "") for text in renewals.cautions], _STANDING)
    story += _mismatches(renewals.mismatches)
    for system, lines in itertools.groupby(renewals.lines, key=lambda line: line.system):
        story += _system(system, list(lines))
    story += questions(renewals.questions)
    return document(story, _TITLE, heading)


def renewals_csv(renewals: RenewalList) -> str:
    """The list as CSV, one row a spec; the price is left to fill in."""
    return csv_text(_HEADS, _csv_rows(renewals))


def renewals_xlsx(renewals: RenewalList, heading: Heading) -> bytes:
    """The same table as a workbook, and a second one with every run and its length."""
    page = Page(_SHEET, _HEADS, list(_csv_rows(renewals)))
    runs = Page(_RUNS_SHEET, _RUNS_HEADS, list(_run_rows(renewals)))
    return workbook([page, runs], f"{_TITLE}, {heading.boat_name}", heading.made_on)


def _csv_rows(renewals: RenewalList) -> Iterator[list[Value]]:
    for line in renewals.lines:
        yield [
            line.system, line.spec, line.kind, line.size, line.standard, line.count,
            _metres(line.length_mm), round(100 * line.allowance, 3), _metres(line.order_mm), None,
            several(tag.shown(code) for code in line.tags), several(line.open_questions),
            several(line.details), several(line.mismatches),
            several(f"{run.name} {_length_words(run)}" for run in line.runs), line.id,
        ]  # fmt: skip


def _run_rows(renewals: RenewalList) -> Iterator[list[Value]]:
    for line in renewals.lines:
        for run in line.runs:
            yield [
                line.id, line.spec, run.name, several(tag.shown(code) for code in run.tags),
                run.count, _metres(run.length_mm), _metres(run.low_mm), _metres(run.high_mm),
                _metres(run.cut_mm), run.how, several(end for end in run.ends if end),
            ]  # fmt: skip


def _metres(length_mm: float | None) -> float | None:
    return None if length_mm is None else length_mm / 1000


def _lead(renewals: RenewalList) -> str:
    if not renewals.lines:
        return (
            "Nothing is to be renewed yet. An item is listed here once its fate is renew; "
            "set it on the item, then print again."
        )
    lines, pieces = len(renewals.lines), sum(line.count for line in renewals.lines)
    order_m = sum(line.order_mm or 0 for line in renewals.lines) / 1000
    runs = f" {number(order_m, 1)} m of hose and cable to order." if order_m else ""
    return f"{counted(lines, 'spec')}, {counted(pieces, 'piece')}.{runs}"


def _mismatches(says: Sequence[str]) -> list[Flowable]:
    """What is joined on the boat and doesn't go together, also where it stays."""
    if not says:
        return []
    return [*section("Joined, and doesn't fit"), *(words(say, ASKS) for say in says)]


def _system(system: str, lines: list[RenewalLine]) -> list[Flowable]:
    heads = ["what", "size", "pieces", "length", "with allowance", "price"]
    return [
        *section(capital(trade_word(system)) or "No system"),
        table(heads, [68, 34, 14, 18, 22, 22], [_row(line) for line in lines], right=4),
    ]


def _row(line: RenewalLine) -> list[Cell]:
    what: list[Flowable] = [words(spec_without(line.spec, line.standard, line.size), STRONG_BODY)]
    if line.standard:
        what.append(words(line.standard, SMALL))
    if line.tags:
        what.append(words("for " + codes_in_words(line.tags), SMALL))
    what += [words(say, SMALL) for say in line.details]
    what += [words(text, SMALL) for text in _how_long(line.runs)]
    what += [words(f"doesn't fit: {say}", ASKS) for say in line.mismatches]
    what += [words(f"ask first: {question}", ASKS) for question in line.open_questions]
    order = [_length(line.order_mm)]
    if line.order_mm is not None:
        order.append(words(_allowance(line), SMALL_RIGHT))
    return [
        what,
        words(line.size or "not known"),
        words(number(line.count), RIGHT),
        _length(line.length_mm),
        order,
        Line(22, above=10),
    ]


def _how_long(runs: Sequence[RunLength]) -> Iterator[str]:
    """How the lengths were got: in a sentence, and by name where one wasn't measured."""
    measured = sum(run.count for run in runs if run.how == "measured")
    if measured:
        whole = measured == sum(run.count for run in runs)
        yield "measured" if whole else f"{number(measured)} measured"
    others = [run for run in runs if run.how != "measured"]
    for run in others[:MOST_CODES]:
        yield f"{run.name}: {_length_words(run)}"
    if len(others) > MOST_CODES:
        yield f"and {len(others) - MOST_CODES} more that nobody measured: see the workbook"


def _length_words(run: RunLength) -> str:
    if run.length_mm is None:
        return "length not known"
    said = f"{number(run.length_mm / 1000, 2)} m"
    if run.how != "measured" and run.low_mm is not None and run.high_mm is not None:
        said += f" ({number(run.low_mm / 1000, 2)} to {number(run.high_mm / 1000, 2)} m)"
    return f"{said} {run.how}"


def _allowance(line: RenewalLine) -> str:
    """What was added: a share of the length, and more for the ends of every run."""
    share = f"+ {100 * line.allowance:.3g} %"
    by_share = (line.length_mm or 0) * (1 + line.allowance)
    return f"{share} and ends" if (line.order_mm or 0) > by_share + 1 else share


def _length(length_mm: float | None) -> Flowable:
    return words("" if length_mm is None else f"{number(length_mm / 1000, 2)} m", RIGHT)
