"""The three lists as PDF: nothing left out, nothing clipped, the cautions before anything else."""

import dataclasses
import datetime as dt
import io
import time

import pytest
from reportlab.lib.styles import getSampleStyleSheet
from reportlab.platypus import LongTable, Paragraph, SimpleDocTemplate

from printing import samples
from shedtally.domain.lists import LeftList, RenewalList, Spread, WasteList
from shedtally.domain.records import tag
from shedtally.printing.disposal.pdf import disposal_pdf
from shedtally.printing.figures import kilograms, spread_words
from shedtally.printing.lists import Heading, left_pdf, renewals_pdf
from shedtally.rules.load import load

HEADING = samples.HEADING
RULES = load()


def waste_pdf(waste, heading):
    return disposal_pdf(waste, RULES, heading)


NO_WASTE = WasteList(
    "eu", "European list of waste", "2014-12-18", "household", samples.STANDING, (), (),
    samples.NOTHING, samples.NOTHING, 0.0,
)  # fmt: skip
PRINTS = pytest.mark.parametrize(
    ("print_pdf", "full", "empty"),
    [
        (left_pdf, samples.left_list(), LeftList(0, 0, 0, 0, (), ())),
        (waste_pdf, samples.waste_list(), NO_WASTE),
        (renewals_pdf, samples.renewal_list(), RenewalList((), (), ())),
    ],
    ids=["left", "waste", "renewals"],
)


def flat(pages):
    return " ".join(" ".join(page.split()) for page in pages)


def within_margins(seen):
    for signs in seen.signs():
        for _, (left, bottom, right, top) in signs:
            if not (15.5 <= left <= right <= 210 - 15.5 and 10 <= bottom <= top <= 297 - 11.5):
                return False
    return True


def many_left(count):
    code = samples.codes(1)[0]
    item = samples.left_item("Seacock", "seacock", "raw-water", code, ("Strainer",), ("Dust.",))
    items = tuple(dataclasses.replace(item, name=f"Seacock number {n}") for n in range(count))
    group = dataclasses.replace(
        samples.left_list().by_compartment[0], total=count, out=0, left=count, items=items
    )
    return LeftList(count, 0, count, 0, (group,), ())


@PRINTS
def test_every_page_names_boat_day_change_and_page_x_of_y(print_pdf, full, empty, printed):
    for content in (full, empty):
        pages = printed(print_pdf(content, HEADING)).text()
        for number, page in enumerate(pages, start=1):
            assert "Corncrake" in page
            assert "4 May 2026, as of change 1412" in page
            assert f"page {number} of {len(pages)}" in page


@PRINTS
def test_an_empty_list_says_what_to_do_next_on_one_page(print_pdf, full, empty, printed):
    pages = printed(print_pdf(empty, HEADING)).text()
    assert len(pages) == 1
    assert "then print again." in flat(pages)


@pytest.mark.parametrize(
    ("print_pdf", "full"),
    [(left_pdf, samples.left_list()), (renewals_pdf, samples.renewal_list())],
)
def test_cautions_stand_on_the_first_page_before_anything_is_listed(print_pdf, full, printed):
    first = flat(printed(print_pdf(full, HEADING)).text()[:1])
    caution = first.index("Caution 1.")
    for listed in ("Primary fuel filter filter", "Fuel hose, fire", "Open questions"):
        assert listed not in first[:caution]
    assert "local rules" in first[:caution].lower()


@PRINTS
def test_nothing_leaves_the_margins_of_a_page(print_pdf, full, empty, printed):
    assert within_margins(printed(print_pdf(full, HEADING)))


@PRINTS
def test_the_same_list_gives_the_same_file(print_pdf, full, empty):
    assert print_pdf(full, HEADING) == print_pdf(full, HEADING)


@PRINTS
def test_a_boat_with_a_name_of_200_letters_still_fits_its_pages(print_pdf, full, empty, printed):
    seen = printed(print_pdf(full, Heading("W" * 200, dt.date(2026, 12, 31), 10**9)))
    assert within_margins(seen)
    assert "31 December 2026" in flat(seen.text())


def test_left_shows_each_item_with_its_code_and_what_it_waits_for(printed):
    left = samples.left_list()
    text = flat(printed(left_pdf(left, HEADING)).text())
    for group in left.by_compartment:
        for item in group.items:
            assert item.name in text
            assert all(tag.shown(code) in text for code in item.tags)
    assert "Make safe: drain and vent the fuel" in text
    assert "and 2 more" in text
    assert "8 of 37 pieces are still aboard, 29 are out. 3 are ready" in text
    assert "hull › forepeak; hull › saloon › wet locker." in text


def test_an_item_points_to_its_cautions_by_their_number(printed):
    text = flat(printed(left_pdf(samples.left_list(), HEADING)).text())
    assert f"Caution 2. {samples.ACID}" in text
    assert "Start battery battery lead acid · DC caution 2" in text
    assert "tank fuel · fuel cautions 1, 2" in text


def test_renewals_show_count_length_allowance_and_what_to_order(printed):
    text = flat(printed(renewals_pdf(samples.renewal_list(), HEADING)).text())
    assert "Fuel hose, fire resistant ISO 7840, type A1" in text
    assert "4.35 m" in text
    assert "4.79 m + 10 % " in text
    assert "34.46 m + 15 % and ends" in text
    assert "ask first: Which thread?" in text
    assert "and 5 more" in text
    assert "5 specs, 33 pieces. 46.0 m of hose and cable to order." in text


def test_awkward_texts_are_wrapped_and_none_is_taken_for_markup(printed):
    long = "Very long name " * 13
    odd = [long, "W" * 200, "<b>& 'strut' \"x\"</para>", "Ωμέγα Đàn ống", "船 \x07", "", "=1+1"]
    group = samples.left_list().by_compartment[0]
    items = tuple(
        samples.left_item(text, "k" * 200, "s" * 200, None, [text or "x"] * 9, [text or "y"])
        for text in odd
    )
    path = ("hull", *odd[:3])
    left = LeftList(7, 0, 7, 0, (dataclasses.replace(group, path=path, items=items),), ())
    seen = printed(left_pdf(left, HEADING))
    assert within_margins(seen)
    text = flat(seen.text())
    assert "<b>& 'strut' \"x\"</para>" in text
    assert "Ωμέγα Đàn ống" in text
    assert text.replace(" ", "").count("W" * 200) >= 2


def test_a_caution_deeper_than_a_page_runs_on_to_the_next(printed):
    renewals = RenewalList((), (), tuple(f"Caution about {n} " + "x " * 300 for n in range(40)))
    seen = printed(renewals_pdf(renewals, HEADING))
    assert "Caution about 39" in flat(seen.text())
    assert within_margins(seen)


def test_a_row_is_not_cut_unless_it_is_deeper_than_a_page(printed):
    item = many_left(1).by_compartment[0].items[0]
    item = dataclasses.replace(item, tags=samples.codes(5), cautions=())
    items = tuple(dataclasses.replace(item, name=f"Seacock number {n}") for n in range(60))
    group = dataclasses.replace(many_left(60).by_compartment[0], items=items)
    left = LeftList(60, 0, 60, 0, (group,), ())
    last = tag.shown(item.tags[-1])
    for page in printed(left_pdf(left, HEADING)).text():
        assert page.count("Seacock number") == page.count(last)


def test_a_row_deeper_than_a_page_runs_on_with_all_its_codes(printed):
    given = samples.codes(90)
    item = dataclasses.replace(many_left(1).by_compartment[0].items[0], tags=tuple(given))
    group = dataclasses.replace(many_left(1).by_compartment[0], items=(item,))
    seen = printed(left_pdf(LeftList(1, 0, 1, 0, (group,), ()), HEADING))
    pages = seen.text()
    assert len(pages) >= 3
    assert all(tag.shown(code) in flat(pages) for code in given)
    assert within_margins(seen)


def test_a_table_head_is_repeated_on_every_page_and_no_row_is_lost(printed):
    pages = printed(left_pdf(many_left(400), HEADING)).text()
    assert all("what it waits for" in page for page in pages)
    text = flat(pages)
    assert all(f"Seacock number {n} " in text for n in range(400))


def plain_table(rows):
    """What a table of as many rows takes at least: three cells of text and nothing else."""
    style = getSampleStyleSheet()["BodyText"]
    words = [(f"Seacock number {n}", "Strainer", "Dust.") for n in range(rows)]
    cells = [[Paragraph(text, style) for text in row] for row in words]
    SimpleDocTemplate(io.BytesIO()).build([LongTable(cells)])


def seconds(work):
    started = time.process_time()  # of this process: other work on the machine doesn't count
    work()
    return time.process_time() - started


def test_a_thousand_items_take_at_most_thrice_a_plain_table_and_two_thousand_print_at_all(printed):
    """About two seconds where a plain table takes one; a busy machine slows both alike."""
    ratios = [
        seconds(lambda: left_pdf(many_left(1_000), HEADING)) / seconds(lambda: plain_table(1_000))
        for _ in range(2)
    ]
    assert min(ratios) < 3.0
    pages = printed(left_pdf(many_left(2_000), HEADING)).text()
    assert "Seacock number 1999" in pages[-1]


@pytest.mark.parametrize(
    ("value", "text"),
    [(0, "0"), (0.004, "0"), (0.04, "0.04"), (0.996, "1.0"), (4.24, "4.2"), (9.96, "10"),
     (180.4, "180"), (12_400, "12\u202f400"), (float("inf"), "?"), (float("nan"), "?")],
)  # fmt: skip
def test_kilograms_keep_about_two_figures_that_mean_something(value, text):
    assert kilograms(value) == text


@pytest.mark.parametrize(
    ("spread", "text"),
    [
        (Spread(40, 50, 62, "guessed"), "40 to 62, guessed"),
        (Spread(24, 24, 24, "weighed"), "weighed"),
        (Spread(143, 202, 275, "mixed"), "143 to 275"),
        (Spread(0, 0, 0, "unknown"), "not known"),
    ],
)
def test_a_spread_says_its_range_and_how_it_was_got(spread, text):
    assert spread_words(spread) == text
