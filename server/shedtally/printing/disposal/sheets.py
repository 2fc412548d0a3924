"""One page for a group of streams: codes, containers, what lies in them, and what to do with it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from reportlab.platypus import CondPageBreak, Flowable, PageBreak, Paragraph, Table

from shedtally.domain.lists import WasteContainer, WasteItem, WasteStream
from shedtally.domain.masses.spread import total
from shedtally.domain.records import tag
from shedtally.domain.rulebook import Rules
from shedtally.printing.disposal.cover import beside_rule, day_words
from shedtally.printing.disposal.look import (
    BODY,
    BODY_RIGHT,
    CODE_RIGHT,
    DANGER,
    NAME,
    NOTE,
    NOTE_RIGHT,
    SHEET,
    STRONG_RIGHT,
    Hazard,
    SignRow,
    asking,
    marked,
    mass_words,
    scale_words,
    strong,
)
from shedtally.printing.disposal.plan import Line, Plan, Sheet, gone, here, lines_of
from shedtally.printing.figures import kilograms, plain, words
from shedtally.printing.letters import CODE, MM
from shedtally.printing.paper import HAIR, INK, RED_LEAD, VERDIGRIS, WIDTH_MM, OnSheet
from shedtally.printing.phrases import Phrases
from shedtally.printing.signs import corner_to_corner_mm
from shedtally.printing.tables import Cell, height, rows_of, space

SIGN_MM = 7.0
FEW = 6
MASS_MM = 20.0
MOST_CODES = 12
FIRST_ROWS_MM = 14.0


def sheet_pages(sheet: Sheet, plan: Plan, rules: Rules, say: Phrases) -> list[Flowable]:
    """A sheet on a page of its own; only what doesn't fit runs on."""
    name = say.text(sheet.name)
    story: list[Flowable] = [
        PageBreak(),
        OnSheet(say("foot.sheet", letter=sheet.letter, name=name), f"{sheet.letter}  {name}"),
        _head(sheet, name, say),
        space(3),
        *_cautions(sheet, plan, say),
    ]
    said = _said_once(sheet, say)
    story += [marked([strong(f"{of}:"), plain(text)], BODY) for text, of in said.items()]
    story.append(space(3))
    sheets = OneSheet(plan, rules, say, frozenset(said), _held_by(plan))
    for stream in sheet.streams:
        story += _block(stream, sheets)
    return story


@dataclass(frozen=True, slots=True)
class OneSheet:
    """What every block of a sheet needs; ``said`` are the sentences that stand at its top."""

    plan: Plan
    rules: Rules
    say: Phrases
    said: frozenset[str]
    held_by: Mapping[str, list[str]]


def _said_once(sheet: Sheet, say: Phrases) -> dict[str, str]:
    """Titles of codes and sentences that several streams share, and of which they hold."""
    found: dict[str, list[WasteStream]] = {}
    titles: dict[str, str] = {}
    for stream in sheet.streams:
        title = say.text(stream.code_title)
        titles[title] = stream.code
        for text in dict.fromkeys((title, *_sentences(say.text(stream.why)))):
            found.setdefault(text, []).append(stream)
    shared = {text: streams for text, streams in found.items() if len(streams) > 1}
    return {
        text: titles.get(text)
        or (say("stream.all") if len(of) == len(sheet.streams) else _names(of, say))
        for text, of in shared.items()
    }


def _sentences(text: str) -> list[str]:
    return re.findall(r"\S.*?[.?!](?=\s+[A-Z]|\s*$)|\S.*$", text)


def _names(streams: Sequence[WasteStream], say: Phrases) -> str:
    return "; ".join(dict.fromkeys(say.text(one.name) for one in streams))


def _head(sheet: Sheet, name: str, say: Phrases) -> Table:
    inside = {box.key for one in sheet.streams for box in one.containers if not box.gone}
    there = [one.on_site for one in sheet.streams if here(one)]
    mass = mass_words(say, total(there), basis=False)
    key = {0: "stream.group_sum_none", 1: "stream.group_sum_one"}.get(
        len(inside), "stream.group_sum"
    )
    sums = say(key, mass=mass, containers=len(inside)) if there else ""
    return rows_of(
        [[words(sheet.letter, SHEET), words(name, SHEET), words(sums, NOTE_RIGHT)]],
        [12.0, 106.0, WIDTH_MM - 118.0],
        [("LINEBELOW", (0, 0), (-1, -1), 1.2, INK), ("VALIGN", (0, 0), (-1, -1), "BOTTOM")],
    )


def _cautions(sheet: Sheet, plan: Plan, say: Phrases) -> list[Flowable]:
    """The cautions of all its streams once, where the eye falls first."""
    texts = dict.fromkeys(text for one in sheet.streams for text in one.cautions)
    if not texts:
        return []
    rows: list[Cell] = [
        Paragraph(f"{plan.cautions[text]}.&nbsp; {plain(say.text(text))}", DANGER) for text in texts
    ]
    return [beside_rule(rows), space(4)]


def _held_by(plan: Plan) -> Mapping[str, list[str]]:
    """The streams in each container, by the container's key."""
    found: dict[str, list[str]] = {}
    for stream in plan.waste.streams:
        for box in stream.containers:
            found.setdefault(box.key, []).append(stream.name)
    return found


def _block(stream: WasteStream, on: OneSheet) -> list[Flowable]:
    same = {item.reason for item in stream.items}
    shared = next(iter(same)) if len(same) == 1 and len(stream.items) > 1 else ""
    top = [_stream_head(stream, on.rules, on.say), _told(stream, shared, on)]
    content = _content(stream, shared, on)
    return [CondPageBreak(height(top) + FIRST_ROWS_MM * MM), *top, content, space(4)]


def _stream_head(stream: WasteStream, rules: Rules, say: Phrases) -> Table:
    signs = rules.signs_of(stream.id)
    word = say("hazard.yes") if stream.hazardous else say("hazard.no")
    row: list[Cell] = [
        [words(say.text(stream.name), NAME), Hazard(word, hazardous=stream.hazardous, size=11)],
        SignRow((*signs.ghs, *signs.road), SIGN_MM),
        [
            words(stream.code, CODE_RIGHT),
            *_sums(stream, say),
        ],
    ]
    sign_mm = (len(signs.ghs) + len(signs.road)) * (corner_to_corner_mm(SIGN_MM) + 2)
    rest = WIDTH_MM - sign_mm
    return rows_of(
        [row],
        [rest * 0.55, sign_mm, rest * 0.45],
        [
            ("LINEABOVE", (0, 0), (-1, 0), 2.4 if stream.hazardous else 0.8, _colour(stream)),
            ("TOPPADDING", (0, 0), (-1, -1), 2.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
        ],
    )


def _colour(stream: WasteStream) -> object:
    return RED_LEAD if stream.hazardous else VERDIGRIS


def _told(stream: WasteStream, shared: str, on: OneSheet) -> Paragraph:
    """Everything there is to say of a stream, one after the other to save paper."""
    say = on.say
    title = say.text(stream.code_title)
    pieces = [strong(stream.code), plain(_stop(title))] if title not in on.said else []
    why = " ".join(one for one in _sentences(say.text(stream.why)) if one not in on.said)
    said = [
        ("stream.why", why),
        ("stream.reason", shared),
        ("stream.keep_in", say.text(stream.keep_in)),
        ("stream.keep_apart", "; ".join(say.text(text) for text in stream.keep_apart)),
        ("stream.transport", say.text(stream.transport)),
        ("stream.call", "; ".join(say.text(text) for text in stream.call)),
    ]
    pieces += [f"{strong(say(key))} {plain(_stop(text))}" for key, text in said if text]
    numbers = sorted(on.plan.sources[source] for source in stream.sources)
    if numbers:
        pieces.append(plain(say("stream.sources", numbers=", ".join(map(str, numbers)))))
    if stream.from_memory:
        pieces.append(asking(say("stream.from_memory")))
    return marked(pieces, BODY)


def _stop(text: str) -> str:
    return text if text.endswith((".", "?", "!")) else f"{text}."


def _content(stream: WasteStream, shared: str, on: OneSheet) -> Table:
    """Containers with what lies in them, then what lies in none."""
    say = on.say
    rows: list[Sequence[Cell]] = []
    lines: list[tuple[object, ...]] = []
    boxes = {box.key: box for box in stream.containers}
    by_box: dict[str, list[WasteItem]] = {key: [] for key in boxes}
    for item in stream.items:
        by_box.setdefault(item.box if item.box in boxes else "", []).append(item)
    loose = by_box.pop("", [])
    for key, items in by_box.items():
        rows.append(_box_row(boxes[key], stream, on.held_by, say))
        bare = len(items) == 1 and items[0].key == key
        rows += [] if bare else _item_rows(items, stream, shared, say)
        lines.append(("LINEBELOW", (0, len(rows) - 1), (-1, len(rows) - 1), 0.5, INK))
    if loose and boxes:
        rows.append(["", words(say("stream.no_container"), NOTE), ""])
    rows += _item_rows(loose, stream, shared, say)
    return rows_of(
        rows,
        [10.0, 112.0, WIDTH_MM - 122.0],
        [
            ("LINEABOVE", (0, 0), (-1, 0), 0.5, INK),
            ("LINEBELOW", (0, 0), (-1, -1), 0.25, HAIR),
            ("TOPPADDING", (0, 0), (-1, -1), 0.8),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.4),
            ("RIGHTPADDING", (0, 0), (-2, -1), 4),
            *lines,
            *_spans(rows),
        ],
    )


def _spans(rows: Sequence[Sequence[Cell]]) -> list[tuple[object, ...]]:
    """Rows that hold many items in one cell take the whole width."""
    return [("SPAN", (0, at), (-1, at)) for at, row in enumerate(rows) if isinstance(row[0], Table)]


def _box_row(
    box: WasteContainer, stream: WasteStream, others: Mapping[str, list[str]], say: Phrases
) -> list[Cell]:
    told = [
        say("stream.capacity", litres=kilograms(box.capacity_l)) if box.capacity_l else "",
        say("stream.tare", mass=_scale(say, box.tare_kg)) if box.tare_kg is not None else "",
        say("stream.gross", mass=_scale(say, box.gross_kg)) if box.gross_kg is not None else "",
        say("stream.opened", day=day_words(say, box.opened, short=True)) if box.opened else "",
        say("stream.closed", day=day_words(say, box.closed, short=True)) if box.closed else "",
        say("stream.at", place=box.place) if box.place else "",
        say("stream.gone") if box.gone else "",
    ]
    also = [say.text(name) for name in others.get(box.key, []) if name != stream.name]
    mixed = asking(say("stream.mixed_with", names="; ".join(also))) if also else ""
    about = plain(", ".join(filter(None, told)))
    what = marked([strong(box.name), *_codes(box.tags, say), about, mixed])
    weight = ""
    if box.net is not None:
        weight = say("stream.net", mass=_kg(say, box.net.likely))
    return [words(say("stream.in_container"), NOTE), what, words(weight, STRONG_RIGHT)]


def _item_rows(
    items: Sequence[WasteItem], stream: WasteStream, shared: str, say: Phrases
) -> list[Sequence[Cell]]:
    found = lines_of(items)
    if stream.hazardous or len(found) <= FEW or any(line.assumed for line in found):
        return [_item_row(line, shared, say) for line in found]
    return [[_in_two_columns(found, say), "", ""]]


def _in_two_columns(lines: Sequence[Line], say: Phrases) -> Table:
    """Many harmless things: name, tags and likely mass; the spread stands with the sum."""
    cells = [(_short(line, say), line) for line in lines]
    half = (len(cells) + 1) // 2
    rows: list[Sequence[Cell]] = []
    for left, right in zip_longest(cells[:half], cells[half:]):
        row: list[Cell] = []
        for cell in (left, right):
            mass = mass_words(say, cell[1].mass, spread_too=False) if cell else ""
            row += [cell[0] if cell else "", words(mass, BODY_RIGHT), ""]
        rows.append(row[:-1])
    what = (WIDTH_MM - 6.0) / 2 - MASS_MM
    return rows_of(
        rows,
        [what, MASS_MM, 6.0, what, MASS_MM],
        [
            ("LINEBELOW", (0, 0), (1, -2), 0.25, HAIR),
            ("LINEBELOW", (3, 0), (4, -2), 0.25, HAIR),
            ("TOPPADDING", (0, 0), (-1, -1), 0.4),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
        ],
    )


def _short(line: Line, say: Phrases) -> Paragraph:
    count = plain(say("stream.pieces", count=line.count)) if line.count > 1 else ""
    return marked([count, plain(line.name), *_codes(line.tags, say), *_gone(line, say)])


def _item_row(line: Line, shared: str, say: Phrases) -> list[Cell]:
    pieces = [plain(line.name) if shared else strong(line.name), *_codes(line.tags, say)]
    if not shared:
        pieces.append(plain(line.reason))
    if line.assumed:
        pieces.append(asking(say("stream.assumed")))
    mass = words(mass_words(say, line.mass), BODY_RIGHT)
    return [
        words(say("stream.pieces", count=line.count), BODY),
        marked([*pieces, *_gone(line, say)]),
        mass,
    ]


def _gone(line: Line, say: Phrases) -> list[str]:
    return [strong(say("stream.gone"))] if line.gone else []


def _codes(tags: Sequence[str], say: Phrases) -> list[str]:
    markup = [f'<font name="{CODE}">{plain(tag.shown(code))}</font>' for code in tags[:MOST_CODES]]
    more = len(tags) - MOST_CODES
    return [*markup, plain(say("stream.more_codes", count=more))] if more > 0 else markup


def _kg(say: Phrases, value: float) -> str:
    return say("mass.kilograms", value=kilograms(value))


def _scale(say: Phrases, value: float) -> str:
    return say("mass.kilograms", value=scale_words(value))


def _sums(stream: WasteStream, say: Phrases) -> list[Paragraph]:
    said = []
    if here(stream):
        said.append(say("stream.sum_on_site", mass=mass_words(say, stream.on_site)))
    if gone(stream):
        said.append(say("stream.sum_gone", mass=mass_words(say, stream.gone)))
    return [words(text, STRONG_RIGHT) for text in said]
