"""The demo boat's other papers: letters to be read by a lamp, and pages that can be read alone."""

import datetime as dt
import re

import pytest

from printing.test_disposal_list import overlapping, placed
from shedtally.domain.aboard.drawn import drawn_boat
from shedtally.domain.floating.trim import trim_list
from shedtally.domain.lifting.lifts import lift_list
from shedtally.domain.tally.masses import mass_list
from shedtally.domain.tanks.held import tank_list
from shedtally.domain.work.ahead import work_ahead
from shedtally.domain.work.left import left_to_take_out
from shedtally.domain.work.put_back import put_back
from shedtally.printing.lifts import lifts_pdf
from shedtally.printing.lists import left_pdf
from shedtally.printing.masses import cited, masses_pdf
from shedtally.printing.paper import Heading
from shedtally.printing.put_back import put_back_pdf
from shedtally.printing.tanks import tanks_pdf
from shedtally.printing.trim import trim_pdf
from shedtally.printing.work import work_pdf
from shedtally.rules.load import load

RULES = load()
TODAY = dt.date(2026, 11, 26)
HEADING = Heading("Corncrake", TODAY, 1412)
SMALLEST_PT = 8.5
# What stands over the text of a page: the name of what is continued, or nothing.
MARGIN_PT = 20 / 25.4 * 72


def left(boat):
    found = left_to_take_out(boat, RULES)
    return left_pdf(found, HEADING, drawn_boat(boat, found))


def work(boat):
    drawn = drawn_boat(boat, left_to_take_out(boat, RULES))
    return work_pdf(work_ahead(boat, RULES, TODAY), HEADING, drawn)


PAPERS = {
    "left": left,
    "work": work,
    "back": lambda boat: put_back_pdf(put_back(boat, RULES), HEADING),
    "lifts": lambda boat: lifts_pdf(lift_list(boat, RULES), HEADING),
    "trim": lambda boat: trim_pdf(trim_list(boat, RULES), HEADING),
    "masses": lambda boat: masses_pdf(mass_list(boat, RULES), HEADING),
    "tanks": lambda boat: tanks_pdf(tank_list(boat, RULES), HEADING),
}


@pytest.fixture(scope="module")
def papers(demo_boat):
    """Each paper's pages, a page as its words from the top."""
    made = {name: make(demo_boat) for name, make in PAPERS.items()}
    return {name: [words for _, words in placed(pdf)] for name, pdf in made.items()}


def said(words):
    return " ".join(word["text"] for word in words)


@pytest.mark.parametrize("name", PAPERS)
def test_no_letter_is_too_small_for_a_lamp_in_a_shed(papers, name):
    small = {
        (number, word["text"], round(word["size"], 1))
        for number, words in enumerate(papers[name], start=1)
        for word in words
        if word["size"] < SMALLEST_PT - 0.01
    }
    assert small == set()


@pytest.mark.parametrize("name", ["work", "lifts", "trim", "tanks"])
def test_no_word_stands_on_another(papers, name):
    on_top = [
        (number, first["text"], second["text"])
        for number, words in enumerate(papers[name], start=1)
        for first, second in overlapping(words)
    ]
    assert on_top == []


@pytest.mark.parametrize("name", ["work", "back", "masses", "trim"])
def test_every_page_of_a_part_names_it(papers, name):
    for number, words in enumerate(papers[name][1:], start=2):
        first = min(words, key=lambda word: word["top"])
        # A part begins in large letters; one that runs on is named in the margin.
        named = first["size"] > 13 or (first["top"] < MARGIN_PT and "continued" in said(words))
        assert named, (number, said(words)[:60])


def test_a_compartment_to_put_back_stands_with_its_first_item(papers, demo_boat):
    groups = put_back(demo_boat, RULES).by_compartment
    headed = 0
    for number, words in enumerate(papers["back"], start=1):
        text = said(words)
        for match in re.finditer(r"\d+ of \d+ pieces back", text):
            headed += 1
            after = text[match.end() :]
            assert re.match(r" no\. tag what and where it sat .*? \d+ ", after), number
    assert headed == len(groups)


def test_the_legs_of_a_lift_are_on_the_page_of_its_drawing_and_its_cautions(papers, demo_boat):
    (lift,) = lift_list(demo_boat, RULES).lifts
    first = said(papers["lifts"][0])
    assert "Caution 1." in first
    assert "nobody under it" in first
    for at, leg in enumerate(lift.legs, start=1):
        assert f"{at}: {leg.name}" in first


def test_a_distance_on_paper_has_a_direction_and_no_sign(papers):
    assert "0.30 m forward, 0.00 m to starboard, 0.12 m up" in said(papers["lifts"][0])


def test_the_figures_of_a_trim_are_on_one_page(papers, demo_boat):
    states = trim_list(demo_boat, RULES).states
    first = said(papers["trim"][0])
    assert first.count("mean draught") == first.count(" fore, ") == len(states)


def test_a_day_on_paper_is_said_in_words(papers):
    text = said(papers["tanks"][0])
    assert "sounded 18 November 2026: dip 34 mm" in text.replace("\xa0", " ")
    assert not re.search(r"\d{4}-\d\d-\d\d", text)


def test_masses_cite_by_number_and_lose_no_source(papers, demo_boat):
    masses = mass_list(demo_boat, RULES)
    for why in masses.whys:
        short = cited(why, masses.sources)
        # Written out again it is what it was, but for its days.
        whole = re.sub(
            r"\[(\d+(?:, \d+)*)\]",
            lambda found: (
                f"({'; '.join(masses.sources[int(at) - 1] for at in found[1].split(', '))})"
            ),
            short,
        )
        assert re.sub(r"\d+ [A-Z][a-z]+ \d{4}", "", whole) == re.sub(r"\d{4}-\d\d-\d\d", "", why)
        assert not any(source in short for source in masses.sources)
    text = " ".join(said(words) for words in papers["masses"])
    for at, source in enumerate(masses.sources, start=1):
        assert f"{at}. {source}"[:50] in text.replace("\xa0", " ")


def test_sources_of_which_one_begins_like_another_are_told_apart():
    sources = ("EN 590, limits", "EN 590, limits for diesel", "Tables of densities")
    why = "At 838 kg/m3 (EN 590, limits for diesel; Tables of densities), by 2026-01-04."
    assert cited(why, sources) == "At 838 kg/m3 [2, 3], by 4 January 2026."
