"""Left to take out: what to put in a pocket for an evening in the boat."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from reportlab.platypus import Flowable, Spacer

from shedtally.domain.aboard.drawn import DrawnBoat
from shedtally.domain.lists import LeftGroup, LeftItem, LeftList
from shedtally.domain.records import tag
from shedtally.printing.boat_drawing import boat_section
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import CODE_WIDTH_MM, Bar, Tick, codes, trade_word, words
from shedtally.printing.paper import (
    ASKS,
    RIGHT,
    SMALL,
    SMALL_CAUTION,
    STRONG_BODY,
    Heading,
    document,
)
from shedtally.printing.tables import Cell, numbered_cautions, opening, section, table
from shedtally.printing.workbook import Page, workbook

_TITLE = "Left to take out"
_STANDING = "Local rules and licensed trades come first. Make safe before anything is loosened."
_MOST_WAITS = 4

_SHEET = "left"
_HEADS = (
    "compartment", "item", "kind", "system", "tag codes", "ready to take out (yes/no)",
    "waits for", "cautions",
)  # fmt: skip


def left_pdf(left: LeftList, heading: Heading, boat: DrawnBoat | None = None) -> bytes:
    """The list as PDF on A4: cautions, a table of systems, then compartment by compartment."""
    cautions = _cautions(left)
    numbers = {text: at for at, (text, _) in enumerate(cautions, start=1)}
    story = opening(_TITLE, heading, _lead(left))
    story += boat_section(boat) if boat else []
    if cautions:
        story += numbered_cautions(cautions, _STANDING)
    if left.by_system:
        story += [*section("By system"), _systems(left)]
    done = [group for group in left.by_compartment if not group.left]
    for group in left.by_compartment:
        if group.left:
            story += _compartment(group, numbers)
    if done:
        story += [
            *section("Nothing left in"),
            words("; ".join(_path(group) for group in done) + "."),
        ]
    return document(story, _TITLE, heading)


def left_csv(left: LeftList) -> str:
    """The list as CSV, one row an item, by compartment."""
    return csv_text(_HEADS, _csv_rows(left))


def left_xlsx(left: LeftList, heading: Heading) -> bytes:
    """The same table as a workbook."""
    page = Page(_SHEET, _HEADS, list(_csv_rows(left)))
    return workbook([page], f"{_TITLE}, {heading.boat_name}", heading.made_on)


def _csv_rows(left: LeftList) -> Iterator[list[Value]]:
    for group in left.by_compartment:
        for item in group.items:
            yield [
                _path(group), item.name, item.kind, item.system,
                several(tag.shown(code) for code in item.tags), item.ready,
                several(item.waits_for), several(item.cautions),
            ]  # fmt: skip


def _lead(left: LeftList) -> str:
    if not left.total:
        return (
            "Nothing is recorded yet. Walk round the boat and list what is aboard, "
            "then print again."
        )
    if not left.left:
        return f"Everything recorded is out: all {left.total} pieces."
    return (
        f"{left.left} of {left.total} pieces are still aboard, {left.out} are out. "
        f"{_are(left.ready)} ready to take out now; the others wait for something."
    )


def _are(count: int) -> str:
    return "1 is" if count == 1 else f"{count} are"


def _cautions(left: LeftList) -> list[tuple[str, str]]:
    found: dict[str, list[str]] = {}
    for group in left.by_compartment:
        for item in group.items:
            for text in item.cautions:
                found.setdefault(text, []).append(item.name)
    return [(text, _applies(names)) for text, names in found.items()]


def _applies(names: list[str]) -> str:
    shown = "; ".join(dict.fromkeys(names[:6]))
    more = len(names) - 6
    return f"{shown}; and {more} more" if more > 0 else shown


def _systems(left: LeftList) -> Flowable:
    rows: list[list[Cell]] = [
        [
            words(group.name, STRONG_BODY),
            Bar(group.out / group.total if group.total else 0, 76),
            words(str(group.out), RIGHT),
            words(str(group.left), RIGHT),
            words(str(group.total), RIGHT),
        ]
        for group in left.by_system
    ]
    return table(
        ["system", "share out", "out", "left", "in all"], [52, 81, 15, 15, 15], rows, right=3
    )


def _compartment(group: LeftGroup, numbers: Mapping[str, int]) -> list[Flowable]:
    pieces = "piece" if group.left == 1 else "pieces"
    counted = f"{group.left} {pieces} left of {group.total}"
    rows = [_row(item, numbers) for item in group.items]
    return [
        *section(_path(group), counted),
        table(
            ["done", "tag", "what", "ready, or what it waits for"],
            [11, CODE_WIDTH_MM + 4, 78, 62],
            rows,
        ),
    ]


def _row(item: LeftItem, numbers: Mapping[str, int]) -> list[Cell]:
    about = " · ".join(trade_word(word) for word in (item.kind, item.system) if word)
    what: list[Flowable] = [words(item.name, STRONG_BODY)]
    if about:
        what.append(words(about, SMALL))
    if item.cautions:
        listed = ", ".join(map(str, sorted({numbers[text] for text in item.cautions})))
        plural = "s" if len(item.cautions) > 1 else ""
        what.append(words(f"caution{plural} {listed}", SMALL_CAUTION))
    return [Tick(), codes(item.tags), what, _state(item)]


def _state(item: LeftItem) -> list[Flowable]:
    if item.ready:
        return [words("ready")]
    shown = item.waits_for[:_MOST_WAITS]
    more = len(item.waits_for) - len(shown)
    waits: list[Flowable] = [words(reason, ASKS) for reason in shown]
    if more:
        waits.append(words(f"and {more} more", SMALL))
    return waits or [Spacer(1, 1)]


def _path(group: LeftGroup) -> str:
    path = group.path if group.path and group.path[-1] == group.name else (*group.path, group.name)
    return " › ".join(path)
