"""The handover sheet: what left, from whom to whom, against which document, with signatures."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import CondPageBreak, Flowable

from shedtally.domain.lists import Spread, WasteContainer, WasteItem, WasteList, WasteStream
from shedtally.domain.masses.spread import total
from shedtally.domain.records import tag
from shedtally.printing.disposal.cover import beside_rule
from shedtally.printing.disposal.look import (
    ASKS,
    BOAT,
    BODY,
    BODY_RIGHT,
    DANGER,
    HEAD,
    NAME,
    NAME_RIGHT,
    NOTE,
    NOTE_RIGHT,
    STRONG_BODY,
    TITLE,
    Hazard,
    known,
    marked,
    mass_words,
    range_words,
    scale_words,
    strong,
)
from shedtally.printing.disposal.mixed import mixed_block
from shedtally.printing.disposal.plan import lines_of
from shedtally.printing.figures import kilograms, plain, words
from shedtally.printing.letters import CODE, MM
from shedtally.printing.paper import HAIR, INK, PAPERS, WIDTH_MM, Heading, document
from shedtally.printing.phrases import Phrases
from shedtally.printing.tables import Cell, rows_of, space

_WIDTHS_MM = (62.0, 42.0, 15.0, 16.0, 43.0)


@dataclass(frozen=True, slots=True)
class HandoverFace:
    """One handover. ``digest`` is empty while nothing is frozen; ``corrections`` came later."""

    waste: WasteList
    on: dt.date | None
    to: str = ""
    carrier: str = ""
    document: str = ""
    note: str = ""
    digest: str = ""
    corrections: tuple[tuple[str, str], ...] = ()


def short_digest(digest: str) -> str:
    """The first sixteen signs in fours, to be compared by eye.

    >>> short_digest("9f86d081884c7d659a2feaa0c55ad015")
    '9f86 d081 884c 7d65'
    """
    return " ".join(digest[at : at + 4] for at in range(0, 16, 4)).strip()


def handover_pdf(face: HandoverFace, heading: Heading, paper: str, say: Phrases) -> bytes:
    """The sheet as PDF; the same handover gives the same bytes.

    Args: paper: ``a4`` or ``letter``. Raises: MissingPhrase.
    """
    waste = face.waste
    story: list[Flowable] = [
        words(say("handover.title"), TITLE),
        words(heading.boat_name, BOAT),
        space(4),
        _facts(face, say),
        space(6),
        _standing(face, say),
        space(8),
    ]
    if not waste.streams:
        story.append(words(say("handover.empty"), NAME))
    else:
        story += [words(say("handover.content"), HEAD), space(2), _content(waste, say)]
    if waste.mixed:
        story += [space(10), *mixed_block(waste, say)]
    story += [*_corrections(face, say), *_signatures(say)]
    return document(story, say("handover.title"), heading, PAPERS[paper], say)


def _facts(face: HandoverFace, say: Phrases) -> Flowable:
    unknown = say("cover.not_written")
    waste = face.waste
    owner = ", ".join(filter(None, [waste.owner, waste.lies_at])) or unknown
    rows = [
        (say("handover.document"), face.document or unknown),
        (say("handover.on"), say.day(face.on) if face.on else unknown),
        (say("handover.from"), owner),
        (say("handover.to"), face.to or unknown),
        (say("handover.carrier"), face.carrier or unknown),
        (say("cover.rules"), waste.rule_set_name),
        (say("cover.holder"), say(f"cover.{waste.holder}")),
    ]
    cells: list[Sequence[Cell]] = [
        [words(name, NOTE), words(said, STRONG_BODY)] for name, said in rows
    ]
    if face.note:
        cells.append(["", words(face.note, BODY)])
    padding = [("TOPPADDING", (0, 0), (-1, -1), 1), ("BOTTOMPADDING", (0, 0), (-1, -1), 1)]
    return rows_of(cells, [30.0, WIDTH_MM - 30.0], padding)


def _standing(face: HandoverFace, say: Phrases) -> Flowable:
    if face.digest:
        state = words(say("handover.frozen", digest=short_digest(face.digest)), STRONG_BODY)
    else:
        state = words(say("handover.open"), ASKS)
    cautions = dict.fromkeys(text for one in face.waste.streams for text in one.cautions)
    return beside_rule(
        [
            state,
            words(say("cover.local_first"), STRONG_BODY),
            *(words(say.text(text), DANGER) for text in cautions),
        ]
    )


def _content(waste: WasteList, say: Phrases) -> Flowable:
    heads = ("stream", "container", "gross", "tare", "net")
    rows: list[Sequence[Cell]] = [
        [
            words(say(f"handover.{key}"), NOTE_RIGHT if at > 1 else NOTE)
            for at, key in enumerate(heads)
        ]
    ]
    for stream in waste.streams:
        rows += _stream_rows(stream, say)
    danger = [stream.gone for stream in waste.streams if stream.hazardous]
    for name, mass in (
        (say("handover.hazardous"), total(danger)),
        (say("handover.sum"), waste.gone),
    ):
        inside = range_words(say, mass)
        spread = words(f"({inside})" if inside else "", NOTE_RIGHT)
        rows.append([words(name, NAME), spread, "", "", words(_figure(mass), NAME_RIGHT)])
    return rows_of(
        rows,
        _WIDTHS_MM,
        [
            ("LINEBELOW", (0, 0), (-1, 0), 0.6, INK),
            ("LINEBELOW", (0, 1), (-1, -3), 0.25, HAIR),
            ("LINEABOVE", (0, -2), (-1, -2), 1.0, INK),
            ("RIGHTPADDING", (0, 0), (-2, -1), 4),
        ],
        repeat=1,
    )


def _stream_rows(stream: WasteStream, say: Phrases) -> list[Sequence[Cell]]:
    word = say("hazard.yes") if stream.hazardous else say("hazard.no")
    what: list[Flowable] = [
        marked([strong(stream.code), plain(say.text(stream.name))], BODY),
        Hazard(word, hazardous=stream.hazardous),
        words(say.text(stream.transport), NOTE),
    ]
    rows: list[Sequence[Cell]] = []
    for box in stream.containers:
        rows.append([what if not rows else "", *_box(box, stream.items, say)])
    loose = [item for item in stream.items if not item.box]
    if loose or not rows:
        mass = words(mass_words(say, total(item.mass for item in loose)), BODY_RIGHT)
        named: list[Flowable] = [words(say("handover.loose"), NOTE), *_named(loose, say)]
        rows.append([what if not rows else "", named, "", "", mass])
    return rows


def _named(items: Sequence[WasteItem], say: Phrases) -> list[Flowable]:
    """What went outside of any container, with pieces and tags; equal things are one line."""
    lines: list[Flowable] = []
    for line in lines_of(items):
        pieces = say("stream.pieces", count=line.count) if line.count > 1 else ""
        codes = [f'<font name="{CODE}">{plain(tag.shown(code))}</font>' for code in line.tags[:4]]
        lines.append(marked([plain(pieces), plain(line.name), *codes], BODY))
    return lines


def _box(box: WasteContainer, items: Sequence[WasteItem], say: Phrases) -> list[Cell]:
    codes = [f'<font name="{CODE}">{plain(tag.shown(code))}</font>' for code in box.tags]
    inside = box.net or total(item.mass for item in items if item.box == box.key)
    return [
        marked([plain(box.name), *codes]),
        words(_weight(box.gross_kg), BODY_RIGHT),
        words(_weight(box.tare_kg), BODY_RIGHT),
        words(mass_words(say, inside), BODY_RIGHT),
    ]


def _weight(value: float | None) -> str:
    return "–" if value is None else scale_words(value)


def _figure(mass: Spread) -> str:
    return kilograms(mass.likely) if known(mass) else "–"


def _corrections(face: HandoverFace, say: Phrases) -> list[Flowable]:
    if not face.digest:
        return []
    story: list[Flowable] = [space(10), words(say("handover.corrections"), HEAD)]
    if not face.corrections:
        return [*story, words(say("handover.no_corrections"), NOTE)]
    rows: list[Sequence[Cell]] = [
        [words(on, STRONG_BODY), words(text, BODY)] for on, text in face.corrections
    ]
    return [
        *story,
        rows_of(rows, [34.0, WIDTH_MM - 34.0], [("LINEBELOW", (0, 0), (-1, -1), 0.25, HAIR)]),
    ]


def _signatures(say: Phrases) -> list[Flowable]:
    """Three lines to sign on, side by side: nobody should have to sign a page without the list."""
    who = ("from", "carrier", "to")
    gap = 6.0
    column = (WIDTH_MM - gap * (len(who) - 1)) / len(who)
    cells: list[Cell] = []
    lines: list[tuple[object, ...]] = []
    widths: list[float] = []
    for at, name in enumerate(who):
        if at:
            cells.append("")
            widths.append(gap)
        lines.append(("LINEABOVE", (2 * at, 0), (2 * at, 0), 0.6, INK))
        cells.append(words(say(f"handover.signature_{name}"), NOTE))
        widths.append(column)
    return [CondPageBreak(18 * MM), space(30), rows_of([cells], widths, lines)]
