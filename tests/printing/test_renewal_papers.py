"""The papers of renewing, for the demo boat: what a person reads beside a reel or a loom."""

import dataclasses
import datetime as dt
import io
import itertools
import re

import pdfplumber
import pytest
from reportlab.pdfgen.canvas import Canvas

from printing.test_disposal_list import assert_nothing_is_clipped_small_or_on_top, flat
from shedtally.domain.buying.order import order_list
from shedtally.domain.records import tag
from shedtally.domain.schedules import wire_columns
from shedtally.domain.schedules.schedule import schedule
from shedtally.printing import schedule_drawing
from shedtally.printing.cutting import cutting_pdf
from shedtally.printing.letters import width
from shedtally.printing.order import order_pdf, order_pdf_by_supplier
from shedtally.printing.paper import A4_WIDE, MM, Heading
from shedtally.printing.schedule import schedule_pdf
from shedtally.printing.schedule_drawing import strips_of
from shedtally.rules.load import load

RULES = load()
HEADING = Heading("Corncrake", dt.date(2026, 11, 25), 1412)
PAPERS = ("order", "order by supplier", "cutting", "piping", "wiring")


@pytest.fixture(scope="module")
def boat(demo_boat):
    return demo_boat


@pytest.fixture(scope="module")
def order(boat):
    return order_list(boat, RULES)


@pytest.fixture(scope="module")
def schedules(boat):
    more = wire_columns.columns(boat, RULES)
    return {
        "piping": schedule(boat, RULES, "piping"),
        "wiring": schedule(boat, RULES, "wiring", wire_columns.HEADS, more),
    }


@pytest.fixture(scope="module")
def papers(order, schedules):
    return {
        "order": order_pdf(order, HEADING),
        "order by supplier": order_pdf_by_supplier(order, HEADING),
        "cutting": cutting_pdf(order, HEADING),
        **{name: schedule_pdf(found, HEADING) for name, found in schedules.items()},
    }


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_is_clipped_smaller_than_10_pt_or_on_top(papers, paper):
    assert_nothing_is_clipped_small_or_on_top(papers[paper])


@pytest.mark.parametrize("paper", PAPERS)
def test_a_page_that_does_not_open_with_a_heading_says_what_runs_on(papers, paper):
    with pdfplumber.open(io.BytesIO(papers[paper])) as document:
        for page in document.pages[1:]:
            words = page.extract_words(extra_attrs=["size"])
            first = min(words, key=lambda word: word["top"])
            opens = first["size"] >= 13.5 and first["top"] > 12 * MM
            runs_on = first["top"] < 12 * MM and "continued" in page.extract_text().split("\n")[0]
            assert opens or runs_on, (page.page_number, first)


@pytest.mark.parametrize("paper", PAPERS)
def test_a_figure_keeps_its_unit_on_its_line(papers, paper):
    with pdfplumber.open(io.BytesIO(papers[paper])) as document:
        lines = [line for page in document.pages for line in page.extract_text().split("\n")]
    alone = [line for line in lines if re.match(r"(mm2?|m|in|kg|A|V|W|%|EUR|GBP)\b[);,.]*", line)]
    assert alone == []


@pytest.mark.parametrize("name", ["piping", "wiring"])
def test_a_schedule_lies_across_and_shows_every_box_and_run(papers, schedules, printed, name):
    pages = printed(papers[name]).text()
    text = flat(pages)
    with pdfplumber.open(io.BytesIO(papers[name])) as document:
        assert all(page.width > page.height for page in document.pages)
    for system in schedules[name].systems:
        for row in system.rows:
            assert row.name in text
        for block in system.blocks:
            for node in block.nodes:
                assert " ".join(node.lines) in text
            for run in block.runs:
                assert run.name in text


def test_a_drawing_too_wide_for_the_page_goes_on_in_strips_that_lose_nothing(schedules):
    room = A4_WIDE.print_mm * MM
    blocks = [
        block for found in schedules.values() for one in found.systems for block in one.blocks
    ]
    wide = [block for block in blocks if block.width > room]
    assert wide
    for block in wide:
        strips = list(strips_of(block, room))
        assert all(strip.width <= room for strip in strips)
        for node in block.nodes:
            whole = [one for one in strips if one.start < node.x and node.x + node.width < one.end]
            assert len(whole) == 1, node
        for one, after in itertools.pairwise(strips):
            cut = {run.item for run, _ in one.crossing(one.end)}
            assert cut
            assert cut == {run.item for run, _ in after.crossing(after.start)}


def test_each_name_in_a_drawing_is_measured_once_however_many_strips_it_has(schedules, monkeypatch):
    blocks = [
        block for found in schedules.values() for one in found.systems for block in one.blocks
    ]
    measured = []

    def counted(*said):
        measured.append(said)
        return width(*said)

    monkeypatch.setattr(schedule_drawing, "width", counted)
    canvas = Canvas(io.BytesIO())
    for drawing in schedule_drawing.drawings(blocks, A4_WIDE):
        drawing.canv = canvas
        drawing.draw()
    assert 0 < len(measured) <= 2 * sum(len(block.runs) for block in blocks)


def test_what_is_bought_is_ticked_and_only_that(order, papers):
    """A tick is two strokes in a box; pdfplumber sees boxes as rectangles and strokes as lines."""
    with pdfplumber.open(io.BytesIO(papers["order"])) as document:
        boxes = [box for page in document.pages for box in page.rects if 9 < box["width"] < 12]
        slanted = [
            line
            for page in document.pages
            for line in [*page.lines, *page.curves]
            if line["height"] > 0.5 and line["width"] > 0.5 and line["width"] < 8
        ]
    assert len(boxes) == len(order.lines)
    bought = sum(line.state != "to buy" for line in order.lines)
    assert bought
    assert len(slanted) == 2 * bought


def test_the_cuts_of_a_reel_stand_on_the_page_of_its_heading(order, papers, printed):
    pages = [flat([page]) for page in printed(papers["cutting"]).text()]
    for line in order.lines:
        if line.cut is None or not line.cut.stock:
            continue
        codes = {
            tag.shown(code) for one in line.cut.stock for piece in one.pieces for code in piece.tags
        }
        if not codes:
            continue
        title = line.spec.replace(f", {line.standard}", "", 1) if line.standard else line.spec
        (page,) = [page for page in pages if f"{title} " in page and codes & set(page.split())]
        assert codes <= set(page.split()), title


def test_a_row_deeper_than_a_page_across_is_cut_and_not_lost(schedules, printed):
    found = schedules["wiring"]
    system = found.systems[0]
    deep = dataclasses.replace(system.rows[0], more=("word " * 1500,) * len(found.heads))
    one = dataclasses.replace(system, rows=(deep,), blocks=())
    pdf = schedule_pdf(dataclasses.replace(found, systems=(one,)), HEADING)
    assert flat(printed(pdf).text()).count("word") == 1500 * len(found.heads)
