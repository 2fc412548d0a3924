"""The masses: sums with their doubt, what to weigh next, then every item and why."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable

from shedtally.domain.records import tag
from shedtally.domain.tally.lists import MassGroup, MassLine, MassList, Uncounted, WeighNext
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import (
    CODE_WIDTH_MM,
    Bar,
    codes,
    kilograms,
    mass,
    range_words,
    trade_word,
    words,
)
from shedtally.printing.paper import (
    ASKS,
    RIGHT,
    SMALL,
    SMALL_RIGHT,
    STRONG_BODY,
    Heading,
    day,
    document,
)
from shedtally.printing.tables import Cell, opening, part, table

_TITLE = "Masses"
_MARK = "\ufffc"  # stands in no text that is printed
_MARKED = re.compile(rf"\(?({_MARK}\d+(?:; {_MARK}\d+)*)\)?")
_DAY = re.compile(r"\b\d{4}-\d\d-\d\d\b")
_BASIS = {
    "weighed": "weighed",
    "plate": "read off a plate",
    "calculated": "calculated from sizes",
    "guessed": "guessed",
}


def masses_pdf(masses: MassList, heading: Heading) -> bytes:
    """The list as PDF on A4: the sum, what to weigh next, sums by four sorts, every item."""
    story = opening(_TITLE, heading, _lead(masses))
    if masses.weigh_next:
        story += [
            *part("Weigh next", "These few would make the total surest, in this order."),
            _next(masses.weigh_next),
        ]
    if masses.uncounted:
        story += [
            *part("Not counted", "What was typed is kept; put it right, or sound the tank."),
            _uncounted(masses.uncounted),
        ]
    story += _groups("How the masses were got", masses.by_basis)
    story += _groups("Where it is", masses.by_whereabouts)
    story += _groups("By system", masses.by_system)
    story += _groups("By compartment", masses.by_compartment)
    if masses.items:
        story += [
            *part(
                "Every item",
                "From the heaviest to the lightest. A number in [ ] is a source, at the end.",
            ),
            _items(masses),
        ]
    if masses.sources:
        story += part("Sources")
        story += [words(f"{at}. {text}", SMALL) for at, text in enumerate(masses.sources, start=1)]
    return document(story, _TITLE, heading)


def masses_csv(masses: MassList) -> str:
    """The list as CSV, one row an item, the heaviest first."""
    heads = [
        "item", "kind", "system", "compartment", "tag codes", "whereabouts", "count (pieces)",
        "mass low (kg)", "mass likely (kg)", "mass high (kg)", "mass got by", "why", "not used",
    ]  # fmt: skip
    return csv_text(heads, _csv_rows(masses))


def _csv_rows(masses: MassList) -> Iterator[list[Value]]:
    paths = {group.key: _path(group) for group in masses.by_compartment if group.key}
    for item in masses.items:
        yield [
            item.name, item.kind, item.system, paths.get(item.compartment, ""),
            several(tag.shown(code) for code in item.tags), item.whereabouts, item.count,
            item.mass.low, item.mass.likely, item.mass.high, item.mass.basis, masses.whys[item.why],
            item.not_used,
        ]  # fmt: skip


def _lead(masses: MassList) -> str:
    if not masses.items:
        return "Nothing is recorded yet: list what is aboard, then print again."
    return (
        f"{kilograms(masses.total.likely)} kg in all, {range_words(masses.total)} kg. "
        f"{round(100 * masses.weighed_share)} % of the mass was weighed; the rest is read off "
        "plates, calculated or guessed. Low and high hold about 95 of 100 cases. A mass is no "
        "clearance to lift: rated gear and a competent person come first."
    )


def _next(steps: Sequence[WeighNext]) -> Flowable:
    rows: list[list[Cell]] = [
        [
            words(str(at), RIGHT),
            codes(step.tags),
            words(step.name, STRONG_BODY),
            mass(step.mass),
            words(f"{kilograms(step.narrower_kg)} kg", RIGHT),
            words(f"{range_words(step.after)} kg", RIGHT),
        ]
        for at, step in enumerate(steps, start=1)
    ]
    heads = ["", "tag", "what", "mass now", "narrows by", "total then"]
    return table(heads, [6, CODE_WIDTH_MM + 4, 55, 34, 25, 34], rows, right=3)


def _uncounted(rows: Sequence[Uncounted]) -> Flowable:
    cells: list[list[Cell]] = [
        [words(row.name, STRONG_BODY), words(row.reason, ASKS)] for row in rows
    ]
    return table(["what", "why, and what would do"], [60, 118], cells)


def _groups(title: str, groups: Sequence[MassGroup]) -> list[Flowable]:
    if not groups:
        return []
    rows: list[list[Cell]] = [
        [
            words(_BASIS.get(group.key, _path(group)), STRONG_BODY),
            Bar(group.weighed_share, 36),
            words(str(group.count), RIGHT),
            words(f"{kilograms(group.mass.likely)} kg", RIGHT),
            words(range_words(group.mass), SMALL_RIGHT),
        ]
        for group in groups
    ]
    heads = ["", "share weighed", "pieces", "mass", "low to high"]
    return [*part(title), table(heads, [72, 41, 15, 22, 28], rows, right=3)]


def _items(masses: MassList) -> Flowable:
    whys = [cited(why, masses.sources) for why in masses.whys]
    rows = [_row(item, whys[item.why]) for item in masses.items]
    return table(["tag", "what, and where its mass is from", "pieces", "mass"],
                 [CODE_WIDTH_MM + 4, 102, 15, 34], rows, right=2)  # fmt: skip


def cited(why: str, sources: Sequence[str]) -> str:
    """``why`` with each source by its number in brackets, from 1, and each day in words.

    Said in full beside each of hundreds of items, the sources would be half of the paper.
    """
    # The longest first: one may begin like another.
    for text, at in sorted(zip(sources, range(1, len(sources) + 1), strict=True),
                           key=lambda pair: -len(pair[0])):  # fmt: skip
        why = why.replace(text, f"{_MARK}{at}")
    why = _MARKED.sub(_numbers, why)
    return _DAY.sub(lambda found: day(dt.date.fromisoformat(found[0])), why)


def _numbers(found: re.Match[str]) -> str:
    return f"[{found[1].replace(_MARK, '').replace('; ', ', ')}]"


def _row(item: MassLine, why: str) -> list[Cell]:
    about = " · ".join(trade_word(word) for word in (item.kind, item.system) if word)
    what: list[Flowable] = [words(item.name, STRONG_BODY)]
    if about:
        what.append(words(about, SMALL))
    what.append(words(why, SMALL))
    if item.not_used:
        what.append(words(item.not_used, ASKS))
    return [codes(item.tags), what, words(str(item.count), RIGHT), mass(item.mass)]


def _path(group: MassGroup) -> str:
    return " › ".join(group.path) if group.path else group.name
