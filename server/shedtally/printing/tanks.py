"""The tanks on paper: what each holds, what was drawn off, and dip tables to hang beside them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from reportlab.platypus import CondPageBreak, Flowable

from shedtally.domain.lists import Spread
from shedtally.domain.records import tag
from shedtally.domain.tanks.lists import DipTable, TankLine, TankList
from shedtally.printing import csv_text
from shedtally.printing.figures import codes, kilograms, mass, number, range_words, words
from shedtally.printing.letters import MM
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
from shedtally.printing.tables import Cell, facts, numbered_cautions, opening, section, table

_TITLE = "Tanks"
_DIPS = "Dip tables"
_COLUMNS = 4


def tanks_pdf(tanks: TankList, heading: Heading) -> bytes:
    """The list as PDF on A4: cautions, a table of tanks, then each with its sounding and cans."""
    story = opening(_TITLE, heading, _lead(tanks))
    if tanks.tanks:
        story += numbered_cautions([(text, "") for text in tanks.cautions], tanks.standing)
        story += [*section("Still in the tanks"), _summary(tanks)]
    for line in tanks.tanks:
        story += _tank(line)
    return document(story, _TITLE, heading)


def dip_tables_pdf(tanks: TankList, heading: Heading) -> bytes:
    """A dip table of each tank whose shape is known, litres by centimetre on the stick."""
    told = [line for line in tanks.tanks if line.dips and line.dips.lines]
    lead = (
        "Stick to the floor under the dip pipe, wet length on the left, litres in the tank on the "
        "right. Never put a light or your head into the tank."
        if told
        else "No tank has all its sizes yet; describe one on its item, then print again."
    )
    story = opening(_DIPS, heading, lead)
    for line in told:
        if line.dips:
            story += _dips(line, line.dips)
    return document(story, _DIPS, heading)


def tanks_csv(tanks: TankList) -> str:
    """The list as CSV, one row a tank."""
    heads = [
        "tank", "tag codes", "where", "shape", "liquid", "capacity (L)", "sounded on", "reading",
        "litres low", "litres likely", "litres high", "sludge likely (L)", "usable likely (L)",
        "kilograms low", "kilograms likely", "kilograms high", "drawn off (L)",
        "still in likely (L)", "unaccounted (L)", "remarks",
    ]  # fmt: skip
    return csv_text.csv_text(heads, _csv_rows(tanks))


def _csv_rows(tanks: TankList) -> Iterator[list[csv_text.Value]]:
    for line in tanks.tanks:
        last = line.last
        yield [
            line.name, csv_text.several(tag.shown(code) for code in line.tags),
            " › ".join(line.where), line.shape, line.liquid, line.capacity_l,
            last.on if last else "", last.read if last else "",
            *_three(last.liquid if last else None),
            last.sludge.likely if last and last.sludge else None,
            last.usable.likely if last and last.usable else None,
            *_three(last.kg if last else None), line.balance.drawn,
            line.still_in.likely if line.still_in else None, line.balance.unaccounted,
            csv_text.several(_remarks(line)),
        ]  # fmt: skip


def _three(spread: Spread | None) -> list[csv_text.Value]:
    return [spread.low, spread.likely, spread.high] if spread else [None, None, None]


def _remarks(line: TankLine) -> list[str]:
    found = [line.refused, line.last.refused if line.last else "", line.balance.said]
    return list(dict.fromkeys(text for text in found if text))


def _lead(tanks: TankList) -> str:
    if not tanks.tanks:
        return "No tank is described yet. Describe its shape on the tank's item, then print again."
    known = f"{number(tanks.litres.likely)} L are still in the tanks, as far as they were sounded."
    unknown = f" Not known: {', '.join(tanks.open)}." if tanks.open else ""
    return known + unknown + " Masses are without the lift of the air, 0.1 % for fuel."


def _summary(tanks: TankList) -> Flowable:
    rows: list[list[Cell]] = [
        [
            codes(line.tags),
            [words(line.name, STRONG_BODY), words(line.liquid or "liquid not said", SMALL)],
            _litres(line.still_in),
            mass(line.still_in_kg) if line.still_in_kg else words("not known", ASKS),
        ]
        for line in tanks.tanks
        if not line.gone
    ]
    return table(["tag", "tank", "litres", "mass"], [27, 78, 40, 34], rows, right=2)


def _litres(spread: Spread | None) -> list[Flowable]:
    if spread is None:
        return [words("not known", ASKS)]
    return [words(f"{number(spread.likely)} L", RIGHT), words(range_words(spread), SMALL_RIGHT)]


def _tank(line: TankLine) -> list[Flowable]:
    last, balance = line.last, line.balance
    capacity = "" if line.capacity_l is None else f"{number(line.capacity_l)} L"
    rest = "" if line.rest_l is None else f"{number(line.rest_l)} L"
    rows: list[tuple[str, str]] = [
        ("shape", line.shape),
        ("holds", capacity),
        ("pump leaves", rest),
        ("sounded", f"{_day(last.on)}: {last.read}" if last else "not yet"),
        ("in it then", _said(last.full, "L") if last else ""),
        ("sludge", _said(last.sludge, "L") if last and last.sludge and last.sludge.likely else ""),
        ("usable", _said(last.usable, "L") if last else ""),
        ("before", _said(balance.before, "L") if line.cans else ""),
        ("drawn off", _cans(line)),
        ("unaccounted", "" if balance.unaccounted is None else f"{number(balance.unaccounted)} L"),
        ("assumed", " ".join(last.assumed) if last else ""),
    ]
    remarks: list[Flowable] = [words(text, ASKS) for text in _remarks(line)]
    return [*section(line.name, " › ".join(line.where)), *remarks, facts(rows)]


def _day(moment: str) -> str:
    return day(dt.date.fromisoformat(moment[:10]))


def _said(spread: Spread | None, unit: str) -> str:
    return f"{number(spread.likely)} {unit}, {range_words(spread)} {unit}" if spread else ""


def _cans(line: TankLine) -> str:
    if not line.cans:
        return ""
    each = [
        f"{can.name} "
        + ("of unknown volume" if can.litres is None else f"{number(can.litres, 1)} L")
        + ("" if can.kg is None else f" ({kilograms(can.kg)} kg)")
        for can in line.cans
    ]
    return f"{number(line.balance.drawn)} L: {'; '.join(each)}"


def _dips(line: TankLine, dips: DipTable) -> list[Flowable]:
    tilted = dips.bow_up_deg or dips.starboard_down_deg
    under = (
        f"Bow up {dips.bow_up_deg:g}°, starboard down {dips.starboard_down_deg:g}°."
        if tilted
        else "Boat level."
    )
    rows = -(-len(dips.lines) // _COLUMNS)
    cells: list[list[Cell]] = []
    for row in range(rows):
        found: list[Cell] = []
        for column in range(_COLUMNS):
            at = column * rows + row
            dip = dips.lines[at] if at < len(dips.lines) else None
            found += (
                [words(f"{dip.level_mm / 10:g} cm", RIGHT), words(f"{dip.litres:.1f} L", RIGHT)]
                if dip
                else ["", ""]
            )
        cells.append(found)
    return [
        CondPageBreak(80 * MM),
        *section(line.name, f"{under} Holds {dips.capacity_l:.1f} L. {line.liquid}"),
        table(["stick", "in it"] * _COLUMNS, [19, 25] * _COLUMNS, cells, right=2 * _COLUMNS),
    ]
