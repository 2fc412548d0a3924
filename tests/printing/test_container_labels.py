"""Labels of containers: signs, words, tag and dates, read back from the PDF and as pictures."""

import dataclasses
import datetime as dt
import io
import itertools
import math

import pdfplumber
import pytest

from printing import samples
from printing.test_disposal_list import box_of, overlapping, waste_list
from shedtally.domain.records import tag
from shedtally.printing.disposal.faces import label_faces
from shedtally.printing.labels import LABELS, container_labels, wanted_side_mm
from shedtally.printing.phrases import phrases
from shedtally.printing.sign_rows import place_signs
from shedtally.printing.symbol import AddressNotPrintable
from shedtally.rules.load import load

ADDRESS = "https://shed.local:8443"
SAY = phrases()
RULES = load()


def faces(waste=None, wanted=()):
    return label_faces(waste or waste_list(), RULES, "Corncrake", wanted, SAY)


def labels(given=None, size="a6"):
    return container_labels(given or faces(), LABELS[size], ADDRESS, SAY)


def flat(pages):
    return " ".join(" ".join(page.split()) for page in pages)


def test_a_label_says_what_is_inside_whose_it_is_and_since_when(printed):
    text = flat(printed(labels()).text())
    for said in (
        "Hazardous waste", "Lead-acid batteries", "16 06 01*", "lead batteries", samples.ACID,
        "Battery tray", "Corncrake", "M and T", "Low Track shed", "2 April 2026", "closed",
        "Local rules and licensed firms come first.", tag.shown(samples.codes(3, seed=40)[0]),
    ):  # fmt: skip
        assert said in text


@pytest.mark.parametrize("size", LABELS)
def test_the_symbol_of_the_tag_is_read_from_every_size(printed, size):
    code = samples.codes(3, seed=40)[0]
    (page,) = printed(labels(size=size)).symbols(300)
    assert [found.text for found in page] == [f"HTTPS://SHED.LOCAL:8443/T/{code}"]


def test_the_words_are_those_of_the_rule_set(printed):
    """40 CFR 262.15 to 262.17: the words Hazardous Waste, so written."""
    american = dataclasses.replace(waste_list(), rule_set="us-federal")
    assert "Hazardous Waste" in flat(printed(labels(faces(american))).text())


def test_waste_that_is_not_hazardous_is_labelled_so_and_without_the_band(printed):
    waste = waste_list()
    skip = box_of("Skip", stream="timber", capacity_l=None)
    timber = dataclasses.replace(waste.streams[2], containers=(skip,))
    text = flat(printed(labels(faces(dataclasses.replace(waste, streams=(timber,))))).text())
    assert "Not hazardous waste" in text
    assert "Hazardous waste" not in text


def test_labels_are_for_what_is_still_here_unless_a_container_is_named():
    waste = waste_list()
    gone = box_of("Gone drum", gone=True)
    battery = waste.streams[0]
    battery = dataclasses.replace(battery, containers=(*battery.containers, gone))
    waste = dataclasses.replace(waste, streams=(battery, *waste.streams[1:]))
    assert [face.container for face in faces(waste)] == ["Battery tray"]
    assert [face.container for face in faces(waste, ["Gone drum"])] == ["Gone drum"]
    assert faces(waste, ["nothing"]) == []


def test_of_two_streams_in_one_container_the_hazardous_one_is_on_the_label(printed):
    waste = waste_list()
    tray = waste.streams[0].containers[0]
    timber = dataclasses.replace(waste.streams[2], containers=(tray,))
    mixed = dataclasses.replace(waste, streams=(timber, waste.streams[0]))
    (face,) = faces(mixed)
    assert face.stream == "Lead-acid batteries"
    assert "also holds: Clean timber" in flat(printed(labels([face])).text())


# Regulation (EC) No 1272/2008, annex I, table 1.3, as at reachonline.eu.
@pytest.mark.parametrize(
    ("litres", "side_mm"),
    [(1, 16), (3, 16), (3.1, 23), (50, 23), (50.1, 32), (500, 32), (501, 46), (1000, 46)],
)
def test_pictograms_want_the_side_that_the_regulation_asks_for(litres, side_mm):
    assert wanted_side_mm(litres) == side_mm


@pytest.mark.parametrize(("size", "litres"), [("a6", 50), ("a4-4", 50), ("a5", 500)])
@pytest.mark.parametrize("stream", sorted(RULES.signs))
def test_pictograms_are_large_enough_on_the_label_for_that_capacity(printed, size, litres, stream):
    """A6 (105 x 148) is the label that table 1.3 asks for up to 500 L, A7 up to 50 L."""
    signs = RULES.signs[stream]
    caution = RULES.streams[stream].cautions[:1]
    (face,) = faces()
    face = dataclasses.replace(
        face, ghs=signs.ghs, road=signs.road, note=signs.note, capacity_l=litres,
        stream=RULES.streams[stream].name, caution=caution[0] if caution else "",
    )  # fmt: skip
    text = flat(printed(labels([face], size)).text())
    assert "larger label" not in text


def test_a_label_too_small_for_its_container_says_so(printed):
    (face,) = faces()
    text = flat(printed(labels([dataclasses.replace(face, capacity_l=800.0)])).text())
    assert "Over 500 L a larger label is wanted: signs of 46 mm." in text


@pytest.mark.parametrize("count", range(1, 7))
@pytest.mark.parametrize("room", [(95, 50), (60, 60), (40, 90)])
def test_signs_stay_in_their_room_and_off_each_other(count, room):
    placed = place_signs([f"s{n}" for n in range(count)], *room, 25)
    half = placed.side * math.sqrt(0.5)
    assert placed.width <= room[0] + 1e-6
    assert placed.height <= room[1] + 1e-6
    for _, (x, y) in placed.middles:
        assert half - 1e-6 <= x <= placed.width - half + 1e-6
        assert half - 1e-6 <= y <= placed.height - half + 1e-6
    for (_, one), (_, two) in itertools.combinations(placed.middles, 2):
        # Squares on their corners are apart if the sum of the distances exceeds a diagonal.
        assert abs(one[0] - two[0]) + abs(one[1] - two[1]) >= 2 * half + 1


def awkward():
    (face,) = faces()
    return dataclasses.replace(
        face, stream="Lagging and insulation that may hold asbestos " * 2, code="U" * 30,
        code_title="title " * 80, note="note " * 40, caution="caution " * 40, boat="B" * 90,
        container="C" * 90, owner="O" * 90, lies_at="L" * 90, road=("9", "environment"),
        ghs=("GHS04", "GHS05", "GHS06", "GHS09"), also=("Rags",) * 9, opened=dt.date(2026, 9, 30),
    )  # fmt: skip


@pytest.mark.parametrize("size", LABELS)
def test_nothing_leaves_a_label_and_no_words_lie_on_each_other(size):
    given = [*faces(), awkward(), dataclasses.replace(awkward(), tag="", opened=None)]
    with pdfplumber.open(io.BytesIO(labels(given, size))) as document:
        for page in document.pages:
            words = page.extract_words(x_tolerance=1.2, y_tolerance=1, extra_attrs=["size"])
            edge = 2.2 * 72 / 25.4
            for word in words:
                assert edge <= word["x0"], word["text"]
                assert word["x1"] <= float(page.width) - edge, word["text"]
                assert edge <= word["top"] <= word["bottom"] <= float(page.height) - edge
            for first, second in overlapping(words):
                pytest.fail(f"{first['text']} on {second['text']}")


def test_the_same_labels_give_the_same_file():
    assert labels() == labels()


def test_no_container_and_a_bad_address_are_refused():
    with pytest.raises(ValueError, match="no container"):
        container_labels([], LABELS["a6"], ADDRESS, SAY)
    with pytest.raises(AddressNotPrintable):
        container_labels(faces(), LABELS["a6"], "https://[::1]:8443", SAY)
