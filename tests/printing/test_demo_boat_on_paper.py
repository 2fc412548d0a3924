"""The demo boat's disposal list under every rule set, household and business: the must-show.

Each is printed, read back by PDFium and pdfplumber, and compared with the list that phones get.
"""

import datetime as dt
import re

import pytest

from printing.test_disposal_list import assert_nothing_is_clipped_small_or_on_top, flat
from shedtally.domain.waste.by_stream import waste_list
from shedtally.printing.disposal.faces import label_faces
from shedtally.printing.disposal.look import range_words
from shedtally.printing.disposal.pdf import disposal_pdf
from shedtally.printing.disposal.plan import lines_of
from shedtally.printing.figures import kilograms
from shedtally.printing.labels import LABELS, container_labels
from shedtally.printing.paper import Heading
from shedtally.printing.phrases import phrases
from shedtally.rules.load import load

RULES = load()
SAY = phrases()
TODAY = dt.date(2026, 11, 25)
HEADING = Heading("Corncrake", TODAY, 1412)
CASES = [*((law, "household") for law in RULES.rule_sets), ("eu", "business")]
TRULY_LONG = {"Metals"}  # more pieces than a page holds


@pytest.fixture(scope="module")
def boat(demo_boat):
    return demo_boat


@pytest.fixture(scope="module", params=CASES, ids="-".join)
def case(request, boat):
    law, holder = request.param
    waste = waste_list(boat, RULES, law, holder, TODAY)
    return waste, disposal_pdf(waste, RULES, HEADING)


@pytest.fixture
def pages(case, printed):
    return [flat([page]) for page in printed(case[1]).text()]


def test_totals_by_stream_are_those_of_the_list(case, pages):
    waste, _ = case
    front = " ".join(
        pages[: next(n for n, page in enumerate(pages) if "Cautions first" in page) + 1]
    )
    for stream in waste.streams:
        word = "hazardous" if stream.hazardous else "not hazardous"
        assert f"{stream.name} {stream.code} {word}" in front
        if any(not item.gone for item in stream.items):
            inside = range_words(SAY, stream.on_site)
            mass = kilograms(stream.on_site.likely) + (f" ({inside})" if inside else "")
            assert mass in front
    likely = kilograms(waste.on_site.likely)
    assert f"All streams {likely} ({range_words(SAY, waste.on_site)})" in front
    assert f"{likely} kg" in pages[0]


def test_every_stream_item_tag_and_source_of_the_list_is_on_paper(case, pages):
    waste, _ = case
    text = " ".join(pages)
    for stream in waste.streams:
        for said in (stream.code, stream.keep_in, stream.transport, *stream.call, *stream.sources):
            assert said in text
        for line in lines_of(stream.items):
            assert line.name in text
        for box in stream.containers:
            assert box.name in text
    assert waste.standing in text
    assert "Local rules and licensed firms come first." in text


def test_every_question_of_the_list_is_in_the_form(case, pages):
    waste, _ = case
    text = " ".join(pages)
    for question in waste.questions:
        assert question.ask in text
        assert question.name in text


def test_each_group_of_streams_is_on_one_page(case, pages):
    sheets = [
        match[1] for page in pages if (match := re.search(r"· sheet \w: (.+?) page \d", page))
    ]
    assert len(set(sheets)) > 10
    twice = {name for name in sheets if sheets.count(name) > 1}
    assert twice <= TRULY_LONG
    assert all(sheets.count(name) <= 2 for name in twice)


def test_a_page_onto_which_a_part_runs_on_says_which_part_it_is(pages):
    foot = re.compile(r"· (sheet \w: [^·]+?|Open questions|Sources) page \d")
    part = [match[1] if (match := foot.search(page)) else "" for page in pages]
    run_on = {at for at in range(1, len(pages)) if part[at] and part[at] == part[at - 1]}
    assert any(part[at].endswith(": Metals") for at in run_on)
    for at, page in enumerate(pages):
        name = part[at].partition(": ")[2] or part[at]
        assert (f"{name}, continued" in page) == (at in run_on), (at, part[at])


def test_nothing_is_clipped_smaller_than_10_pt_or_on_top(case):
    assert_nothing_is_clipped_small_or_on_top(case[1])


def test_labels_for_all_containers_carry_their_codes(case, printed):
    waste, _ = case
    faces = label_faces(waste, RULES, "Corncrake", (), SAY)
    pdf = container_labels(faces, LABELS["a6"], "https://shed.local:8443", SAY)
    for face, page in zip(faces, printed(pdf).text(), strict=True):
        text = flat([page])
        assert face.code in text
        assert ("Not hazardous waste" in text) is not face.hazardous
