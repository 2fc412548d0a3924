"""Workbooks, read back by openpyxl, which is not what wrote them."""

import dataclasses
import datetime as dt
import io

import openpyxl
import pytest

from printing import samples
from printing.test_disposal_list import RULES, waste_list
from shedtally.domain.masses.spread import total
from shedtally.domain.records import tag
from shedtally.printing.disposal.table import disposal_xlsx
from shedtally.printing.workbook import Page, workbook

DAY = dt.date(2026, 5, 4)


def midnight(*day):
    """A day as spreadsheets hold it: without a zone, at 0 o'clock."""
    return dt.datetime.combine(dt.date(*day), dt.time())


def opened(body):
    return openpyxl.load_workbook(io.BytesIO(body))


def rows_of(sheet):
    heads = [cell.value for cell in sheet[1]]
    return [
        dict(zip(heads, (cell.value for cell in row), strict=True))
        for row in sheet.iter_rows(min_row=2)
    ]


@pytest.fixture(scope="module")
def book():
    return opened(disposal_xlsx(waste_list(), RULES, samples.HEADING))


def test_the_list_has_its_five_sheets_with_heads_that_stay(book):
    assert book.sheetnames == ["summary", "items", "containers", "questions", "sources"]
    for sheet in book:
        assert sheet.freeze_panes == "A2"
        assert all(cell.font.bold for cell in sheet[1])


def test_summary_has_codes_and_masses_as_numbers_and_the_totals_of_the_list(book):
    waste = waste_list()
    rows = {row["stream"]: row for row in rows_of(book["summary"])}
    for stream in waste.streams:
        row = rows[stream.name]
        assert row["code"] == stream.code
        assert row["hazardous (yes/no)"] == ("yes" if stream.hazardous else "no")
        assert row["on site, likely (kg)"] == pytest.approx(stream.on_site.likely)
        assert row["on site, low (kg)"] == pytest.approx(stream.on_site.low)
        assert row["in force on"] == midnight(2014, 12, 18)
        assert row["made on"] == midnight(2026, 5, 4)
        assert (row["owner"], row["lies at"]) == ("M and T", "Low Track shed")
    assert rows["all streams"]["on site, likely (kg)"] == pytest.approx(waste.on_site.likely)
    assert rows["all streams"]["gone, likely (kg)"] == pytest.approx(waste.gone.likely)
    hazardous = total(stream.on_site for stream in waste.streams if stream.hazardous)
    assert rows["hazardous streams"]["on site, high (kg)"] == pytest.approx(hazardous.high)


def test_every_item_is_a_row_with_its_tags_pieces_and_container(book):
    rows = rows_of(book["items"])
    items = [item for stream in waste_list().streams for item in stream.items]
    assert len(rows) == len(items)
    by_name = {row["item"]: row for row in rows}
    for item in items:
        row = by_name[item.name]
        assert row["pieces"] == item.count
        assert row["container"] == item.container
        assert (row["tag codes"] or "") == "; ".join(map(tag.shown, item.tags))
        assert row["likely (kg)"] == pytest.approx(item.mass.likely)


def test_containers_have_days_as_days_and_weights_as_numbers(book):
    (row,) = rows_of(book["containers"])
    assert (row["opened"], row["closed"]) == (midnight(2026, 4, 2), midnight(2026, 5, 1))
    assert (row["empty (kg)"], row["full (kg)"], row["holds (L)"]) == (2.4, 26.4, 60)
    assert row["inside, likely (kg)"] == pytest.approx(24)
    opened_on = book["containers"].cell(2, 13)
    assert opened_on.is_date
    assert opened_on.number_format == "yyyy-mm-dd"


def test_questions_have_room_for_an_answer_and_sources_say_how_they_were_seen(book):
    first = rows_of(book["questions"])[0]
    assert (first["question"], first["answer"]) == ("What are they soaked in?", None)
    sources = rows_of(book["sources"])
    assert sources[-1]["source"] == samples.STANDING


def test_a_mass_that_nobody_knows_is_empty_and_not_zero():
    waste = waste_list()
    stream = waste.streams[2]
    mass = dataclasses.replace(stream.items[0].mass, basis="unknown")
    stream = dataclasses.replace(
        stream, items=(dataclasses.replace(stream.items[0], mass=mass),), on_site=mass
    )
    book = opened(
        disposal_xlsx(dataclasses.replace(waste, streams=(stream,)), RULES, samples.HEADING)
    )
    (item,) = rows_of(book["items"])
    assert item["likely (kg)"] is None
    assert item["got by"] == "unknown"


@pytest.mark.parametrize(
    "text", ["=1+1", "+44", "-12 V panel", "@SUM(A1)", "\t=1", "  =cmd", "\uff1d1", "{=1}", "#REF!"]
)
def test_a_text_that_looks_like_a_formula_stays_a_text(text):
    cell = opened(workbook([Page("p", ["item"], [[text]])], "t", DAY))["p"]["A2"]
    assert cell.data_type == "s"
    assert cell.value == text
    if text.strip()[0] in "=+-@\uff1d":
        assert cell.quotePrefix


@pytest.mark.parametrize(
    "text", ["http://example.org/x", "mailto:a@b", "Ωμέγα 船", "two\nlines", "12"]
)
def test_any_other_text_comes_back_as_it_was_and_is_no_link(text):
    cell = opened(workbook([Page("p", ["item"], [[text]])], "t", DAY))["p"]["A2"]
    assert (cell.data_type, cell.value, cell.hyperlink) == ("s", text, None)


def test_signs_that_a_file_cannot_hold_are_left_out_and_a_long_text_is_cut():
    sheet = opened(workbook([Page("p", ["a"], [["a\x00\x07b"], ["x" * 40_000]])], "t", DAY))["p"]
    assert sheet["A2"].value == "ab"
    assert len(sheet["A3"].value) == 32_767


def test_numbers_days_and_yes_keep_their_kind():
    page = Page("p", ["a", "b", "c", "d", "e"], [[1, 2.5, True, DAY, None]])
    row = opened(workbook([page], "t", DAY))["p"][2]
    assert [cell.value for cell in row] == [1, 2.5, "yes", midnight(2026, 5, 4), None]


def test_a_whole_number_has_no_point_behind_it_and_money_has_two_decimals():
    page = Page("p", ["kg", "cost"], [[47.0, 47.0], [1.465, 32.8]], money=("cost",))
    sheet = opened(workbook([page], "t", DAY))["p"]
    formats = [[cell.number_format for cell in row] for row in sheet.iter_rows(min_row=2)]
    assert formats == [["0", "0.00"], ["0.###", "0.00"]]


def test_the_same_list_gives_the_same_file():
    made = [disposal_xlsx(waste_list(), RULES, samples.HEADING) for _ in range(2)]
    assert made[0] == made[1]
