"""The disposal list on paper: read back by two other programs, nothing lost, clipped or on top."""

import dataclasses
import io
import re

import pdfplumber
import pytest

from printing import samples
from shedtally.domain.lists import Spread, WasteContainer
from shedtally.domain.records import tag
from shedtally.printing.disposal.form import choices
from shedtally.printing.disposal.pdf import disposal_pdf
from shedtally.printing.disposal.plan import lines_of
from shedtally.printing.figures import kilograms
from shedtally.printing.phrases import NoSuchLanguage
from shedtally.rules.load import load

HEADING = samples.HEADING
RULES = load()
FOOT_PT = 60.0  # from the lower edge: the foot is set smaller
MM = 72 / 25.4
SIGN_FIGURE = re.compile(r"[0-9.]+|[GS]")  # on a hazard sign of 7 mm


def box_of(name, stream="lead-acid", **values):
    code = samples.codes(3, seed=40)[0]
    known = WasteContainer(
        name, name, (code,), stream, "Rack by the door", 60.0, 2.4, 26.4,
        Spread(23.9, 24.0, 24.1, "weighed"), "2026-04-02", "2026-05-01", False,
    )  # fmt: skip
    return dataclasses.replace(known, **values)


def waste_list():
    """The sample, its batteries in a container."""
    waste = samples.waste_list()
    tray = box_of("Battery tray")
    battery, *rest = waste.streams
    items = tuple(dataclasses.replace(item, box=tray.key) for item in battery.items)
    battery = dataclasses.replace(battery, items=items, containers=(tray,))
    return dataclasses.replace(
        waste, streams=(battery, *rest), owner="M and T", lies_at="Low Track shed"
    )


def flat(pages):
    return " ".join(" ".join(page.split()) for page in pages)


def made(waste=None, **more):
    return disposal_pdf(waste or waste_list(), RULES, HEADING, **more)


def test_the_first_page_says_whose_where_by_which_rules_and_how_much(printed):
    first = flat(printed(made()).text()[:1])
    for said in (
        "Disposal list", "Corncrake", "M and T", "Low Track shed", "European list of waste",
        "18 December 2014", "a household", "180 kg", "136 to 246", "24 kg", "12 %",
        samples.STANDING, "Local rules and licensed firms come first.",
    ):  # fmt: skip
        assert said in first


def test_what_nobody_wrote_is_said_to_be_missing(printed):
    first = flat(printed(made(samples.waste_list())).text()[:1])
    assert "Owner not written down" in first
    assert "Lies at not written down" in first


def test_every_stream_stands_in_the_totals_with_code_word_and_mass(printed):
    waste = waste_list()
    pages = printed(made(waste)).text()
    front = flat(pages[:2])
    for stream in waste.streams:
        word = "hazardous" if stream.hazardous else "not hazardous"
        assert f"{stream.name} {stream.code} {word}" in front
        assert kilograms(stream.on_site.likely) in front
    assert "All streams 180 (136 to 246) 24" in front
    # 38 kg of batteries and 1.6 kg of rags; the sides add in squares, as all sums of masses do.
    assert "Hazardous streams 40 (38 to 42) 24" in front


def test_each_stream_has_its_code_container_caution_call_transport_and_sources(printed):
    waste = waste_list()
    text = flat(printed(made(waste)).text())
    for stream in waste.streams:
        said = (stream.name, stream.code, stream.code_title, stream.keep_in, stream.transport)
        several = (*stream.cautions, *stream.call, *stream.keep_apart, *stream.sources)
        for words in (*said, *several):
            assert words in text
        for item in stream.items:
            assert item.name in text
            assert all(tag.shown(code) in text for code in item.tags)
    assert "Partly from memory." in text
    assert "assumed" in text


def test_a_container_is_printed_with_what_it_weighs_and_since_when(printed):
    text = flat(printed(made()).text())
    code = tag.shown(samples.codes(3, seed=40)[0])
    assert (
        f"Battery tray {code} 60 L, empty 2.4 kg, full 26.4 kg, opened 2 April 2026, "
        "closed 1 May 2026, stands: Rack by the door" in text
    )
    assert "24 kg weighed together" in text


def test_a_container_that_holds_two_streams_says_so_in_both(printed):
    waste = waste_list()
    tray = waste.streams[0].containers[0]
    rags = dataclasses.replace(waste.streams[1], containers=(tray,))
    mixed = dataclasses.replace(waste, streams=(waste.streams[0], rags, waste.streams[2]))
    text = flat(printed(made(mixed)).text())
    assert f"also holds: {rags.name}" in text
    assert f"also holds: {waste.streams[0].name}" in text


def test_every_group_of_streams_begins_on_a_page_of_its_own(printed):
    pages = printed(made()).text()
    for letter, name in (("A", "Rags"), ("B", "Batteries"), ("C", "Timber")):
        (page,) = [flat([one]) for one in pages if f"sheet {letter}: {name}" in one]
        assert page.startswith(f"{letter} {name}")


def test_open_questions_are_a_form_with_a_box_for_each_answer(printed):
    text = flat(printed(made()).text())
    assert "What are they soaked in? Until then: drying oil" in text
    assert "Was the paint tested for lead? Until then: it holds lead" in text
    for answer in choices("soaked_in"):
        assert answer in text
    assert "Answered by, date, signature" in text


@pytest.mark.parametrize(
    ("field", "answers"),
    [
        ("lead", ("found", "not found")), ("drained", ("yes", "no")), ("flash_point_c", ()),
        ("holder", ("household", "business")), ("container", ("yes", "no")), ("kind", ()),
    ],
)  # fmt: skip
def test_answers_to_tick_are_those_that_the_record_can_hold(field, answers):
    assert choices(field) == answers


def test_a_list_without_danger_still_carries_the_standing_statement(printed):
    waste = samples.waste_list()
    harmless = dataclasses.replace(waste, streams=waste.streams[2:], questions=())
    text = flat(printed(made(harmless)).text())
    assert samples.STANDING in text
    assert "Cautions first" not in text


def test_equal_items_are_one_line_with_all_their_pieces_and_tags():
    item = samples.waste_list().streams[1].items[0]
    code = samples.codes(5)
    items = [
        dataclasses.replace(item, key=c, tags=(c,), mass=Spread(1, 2, 4, "guessed")) for c in code
    ]
    (line,) = lines_of(items)
    assert line.count == 5 * item.count
    assert line.tags == tuple(code)
    assert line.mass.likely == pytest.approx(10)


def test_items_that_differ_in_anything_printed_stay_apart():
    item = samples.waste_list().streams[1].items[0]
    others = [
        dataclasses.replace(item, reason="Another reason."),
        dataclasses.replace(item, assumed=not item.assumed),
        dataclasses.replace(item, gone=not item.gone),
        dataclasses.replace(item, name="Other rags"),
    ]
    assert len(lines_of([item, *others])) == 5


def placed(pdf):
    """Pages with their words, seen by pdfplumber, which is not what drew them."""
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        for page in document.pages:
            words = page.extract_words(extra_attrs=["size"], x_tolerance=1.2, y_tolerance=1)
            yield page, words


def assert_nothing_is_clipped_small_or_on_top(pdf):
    for page, words in placed(pdf):
        for word in words:
            where = (page.page_number, word["text"])
            assert word["x0"] >= 15.5 * MM, where
            assert word["x1"] <= float(page.width) - 15.4 * MM, where
            # What a page runs on from stands in its margin, as far out as printers reach (a quarter
            # of an inch: common practice, no source).
            in_margin = word["bottom"] < 12 * MM
            assert word["top"] >= (25.4 / 4 if in_margin else 11) * MM, where
            assert word["bottom"] <= float(page.height) - 9 * MM, where
            on_a_sign = word["size"] < 8 and SIGN_FIGURE.fullmatch(word["text"])
            if word["bottom"] < float(page.height) - FOOT_PT and not on_a_sign:
                assert word["size"] >= 9.99, where
        for first, second in overlapping(words):
            pytest.fail(f"page {page.page_number}: {first['text']} on {second['text']}")


def overlapping(words):
    """Pairs of words whose letters lie on each other; the room above and below letters may."""
    rows = sorted(words, key=lambda word: word["top"])
    for at, word in enumerate(rows):
        for other in rows[at + 1 :]:
            if other["top"] > word["bottom"]:
                break
            wide = min(word["x1"], other["x1"]) - max(word["x0"], other["x0"])
            high = min(word["bottom"], other["bottom"]) - max(word["top"], other["top"])
            if wide > 1.0 and high > 0.35 * min(word["size"], other["size"]):
                yield word, other


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_is_clipped_or_smaller_than_10_pt_and_no_words_lie_on_each_other(paper):
    assert_nothing_is_clipped_small_or_on_top(made(paper=paper))


def test_the_check_for_overlaps_would_see_one():
    word = {"x0": 10, "x1": 50, "top": 10, "bottom": 20, "size": 10, "text": "a"}
    assert list(overlapping([word, {**word, "x0": 30, "text": "b"}]))
    assert not list(overlapping([word, {**word, "x0": 52, "x1": 60}]))


@pytest.mark.parametrize(
    ("rule_set", "paper", "size_mm"),
    [("eu", "", (210, 297)), ("us-federal", "", (215.9, 279.4)), ("eu", "letter", (215.9, 279.4)),
     ("us-federal", "a4", (210, 297)), ("somewhere", "", (210, 297))],
)  # fmt: skip
def test_the_paper_is_that_of_the_rule_set_unless_another_is_asked_for(rule_set, paper, size_mm):
    waste = dataclasses.replace(waste_list(), rule_set=rule_set)
    for page, _ in placed(made(waste, paper=paper)):
        assert float(page.width) / MM == pytest.approx(size_mm[0], abs=0.1)
        assert float(page.height) / MM == pytest.approx(size_mm[1], abs=0.1)


def test_awkward_waste_stays_on_its_page(printed):
    waste = waste_list()
    stream = waste.streams[1]
    item = dataclasses.replace(
        stream.items[0], name="W" * 200, reason="because " * 80,
        tags=tuple(samples.codes(30)), mass=Spread(1e9, 12_345_678_901, 9.87e12, "guessed"),
        count=100_000,
    )  # fmt: skip
    stream = dataclasses.replace(
        stream, id="lead", items=(item,), name="S" * 120, code="U" * 40, code_title="title " * 60,
        cautions=("caution " * 200,), keep_apart=("all " * 50,) * 8, on_site=item.mass,
        containers=(box_of("drum" * 50, place="P" * 200),), call=("call " * 60,),
    )  # fmt: skip
    odd = dataclasses.replace(
        waste, streams=(stream, dataclasses.replace(stream, id="unheard-of")),
        owner="O" * 200, lies_at="<b>&</b>" * 20,
        questions=(dataclasses.replace(waste.questions[0], name="Q" * 200, ask="why " * 90),),
    )  # fmt: skip
    pdf = made(odd)
    for page, words in placed(pdf):
        for word in words:
            assert 15.5 * MM <= word["x0"] <= word["x1"] <= float(page.width) - 15.4 * MM
    text = flat(printed(pdf).text())
    assert "12 345 678 901 kg" in text
    assert "Other streams" in text
    assert "and 18 more tags" in text


def test_a_language_that_is_not_there_is_refused():
    with pytest.raises(NoSuchLanguage):
        made(language="xx")


def test_places_of_the_codes_and_notes_of_the_rules_are_printed(printed):
    waste = waste_list()
    placed_at = "List of waste, annex, chapter 16 06, in force since 1 June 2015"
    stream = dataclasses.replace(waste.streams[0], basis=placed_at)
    noted = dataclasses.replace(
        waste, streams=(stream, *waste.streams[1:]), notes=("No lower limit here. [Rule 7]",),
        edition="2026-11-25",
    )  # fmt: skip
    text = flat(printed(made(noted)).text())
    assert f"16 06 01* {placed_at}" in text
    assert "No lower limit here. [Rule 7]" in text
    assert "edition compared with what is published on 25 November 2026" in text
