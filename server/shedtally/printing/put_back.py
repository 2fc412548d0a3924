"""How it goes back: a sheet for each compartment, to be ticked off beside the boat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.platypus import CondPageBreak, Flowable

from shedtally.domain.records import tag
from shedtally.domain.work.put_back import BackGroup, BackItem, BackJoin, PutBackList
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import CODE_WIDTH_MM, Tick, codes, words
from shedtally.printing.letters import MM
from shedtally.printing.paper import (
    ASKS,
    HEIGHT_MM,
    LARGE,
    SMALL,
    STRONG_BODY,
    Heading,
    OnSheet,
    document,
)
from shedtally.printing.pinned import Picture, pictures_with
from shedtally.printing.tables import FRESH_MM, Cell, height, opening, section, table

_TITLE = "Put back"
_STANDING = (
    "Gas, shore power and whatever carries fuel is put back and tested by people who are "
    "licensed for it where the local rules say so."
)


def put_back_pdf(back: PutBackList, heading: Heading, pictures: Sequence[Picture] = ()) -> bytes:
    """The list as PDF on A4, compartment by compartment, each in the order of putting back.

    ``pictures`` are photographs with pins; each stands where items of it are listed.
    """
    story = opening(_TITLE, heading, _lead(back))
    story.append(words(_STANDING, STRONG_BODY))
    for ring in back.rings:
        text = " before ".join([*ring, ring[0]])
        story.append(words(f"Orders in a ring, mend one of them: {text}", ASKS))
    for group in back.by_compartment:
        story += _compartment(group, pictures)
    return document(story, _TITLE, heading)


def put_back_csv(back: PutBackList) -> str:
    """The list as CSV, one row an item, in the order of putting back."""
    heads = [
        "order", "item", "tag codes", "system", "compartment", "sat", "count (pieces)", "fastened",
        "joined to", "after", "lies in", "state", "missing", "note", "in the place of",
    ]  # fmt: skip
    return csv_text(heads, _csv_rows(back))


def _csv_rows(back: PutBackList) -> Iterator[list[Value]]:
    items = [item for group in back.by_system for item in group.items]
    for item in sorted(items, key=lambda item: item.order):
        yield [
            item.order, item.name, several(tag.shown(code) for code in item.tags), item.system,
            " › ".join(item.path), item.sat, item.count, item.fastened,
            several(_join_words(join) for join in item.joins), several(item.after),
            " › ".join(item.place), item.state, item.missing, item.note,
            _old(item),
        ]  # fmt: skip


def _lead(back: PutBackList) -> str:
    if not back.total:
        return "Nothing that goes back has come out yet."
    said = f"{back.total} pieces go back, {back.back} of them are back already."
    if back.missing:
        said += f" {back.missing} are missing or not decided: they are marked."
    return f"{said} Each compartment is in its order; the numbers run through the whole boat."


def _compartment(group: BackGroup, pictures: Sequence[Picture]) -> list[Flowable]:
    path = group.path if group.path and group.path[-1] == group.name else (*group.path, group.name)
    name = " › ".join(path)
    rows = [_row(item) for item in group.items]
    shown = pictures_with(
        pictures, {item.in_place_of or item.key: item.order for item in group.items}
    )
    heads = ["", "no.", "tag", "what and where it sat", "fastened, joined", "lies in, after"]
    widths = [9, 10, CODE_WIDTH_MM + 3, 53, 43, 40]
    above = section(name, f"{group.back} of {group.total} pieces back", needs_mm=0)
    # A heading without its first item would head nothing.
    needs = height([*above[1:], *shown, table(heads, widths, rows[:1])]) / MM
    return [
        CondPageBreak(min(needs, HEIGHT_MM - FRESH_MM) * MM),
        OnSheet("", name),
        *above[1:],
        *shown,
        table(heads, widths, rows),
    ]


def _row(item: BackItem) -> list[Cell]:
    name = item.name if item.count == 1 else f"{item.name}, {item.count} pieces"
    what: list[Flowable] = [words(name, STRONG_BODY)]
    what += [words(text, SMALL) for text in (_in_place(item), item.sat, item.note) if text]
    if item.missing:
        what.append(words(item.missing, ASKS))
    how: list[Flowable] = [words(item.fastened)] if item.fastened else []
    how += [words(_join_words(join), SMALL) for join in item.joins]
    where: list[Flowable] = [words(" › ".join(item.place))] if item.place else []
    if item.after:
        where.append(words(f"after: {'; '.join(item.after)}", ASKS))
    done = words("back", ASKS) if item.state == "back" else Tick()
    return [done, words(str(item.order), LARGE), codes(item.tags), what, how, where]


def _in_place(item: BackItem) -> str:
    """Which old one a new part stands for."""
    if not item.in_place_of:
        return ""
    return f"new, in the place of {_old(item)}"


def _old(item: BackItem) -> str:
    """The old one by name and tags; empty where nothing is new."""
    return " ".join([item.old_name, *(tag.shown(code) for code in item.old_tags)]).strip()


def _join_words(join: BackJoin) -> str:
    """One end in words: `inlet to Seacock 3KQ-7AB, two clamps`."""
    to = " ".join([join.to, *(tag.shown(code) for code in join.tags)])
    said = f"{join.label} to {to}" if join.label and to else join.label or to
    return ", ".join(part for part in (said, join.joined) if part)
