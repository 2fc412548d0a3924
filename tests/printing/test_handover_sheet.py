"""The handover sheet: what left, from whom to whom, with signatures, digest and corrections."""

import dataclasses
import datetime as dt

import pytest

from printing import samples
from printing.test_disposal_list import (
    assert_nothing_is_clipped_small_or_on_top,
    flat,
    waste_list,
)
from shedtally.domain.waste.handed_over import part_of
from shedtally.printing.handover import HandoverFace, handover_pdf, short_digest
from shedtally.printing.phrases import phrases

DIGEST = "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08"  # SHA-256 of "test"
FACE = HandoverFace(
    waste=part_of(waste_list(), {"Battery tray"}),
    on=dt.date(2026, 5, 2),
    to="Council waste point",
    carrier="own car",
    document="weigh slip 26-1",
    note="They asked for each liquid by itself.",
    digest=DIGEST,
    corrections=(("6 May 2026", "Weighed again: 24.2 kg."),),
)


def made(paper="a4", **changes):
    face = dataclasses.replace(FACE, **changes)
    return handover_pdf(face, samples.HEADING, paper, phrases())


def test_the_sheet_names_both_sides_the_document_the_day_and_what_left(printed):
    text = flat(printed(made()).text())
    for said in (
        "Handover of waste", "weigh slip 26-1", "2 May 2026", "M and T, Low Track shed",
        "Council waste point", "own car", "16 06 01* Lead-acid batteries", "hazardous",
        "Battery tray", "26.4 2.4 24 kg (weighed)", "UN2794", samples.ACID,
        "Handed over: name, signature, date", "Carried: name, signature, date",
        "Received: name, signature, date", "Local rules and licensed firms come first.",
    ):  # fmt: skip
        assert said in text
    assert "All together 24" in text.replace("(24 to 24) ", "")


def test_a_frozen_list_shows_its_digest_in_short_and_corrections_as_later_entries(printed):
    text = flat(printed(made()).text())
    assert "Digest 9f86 d081 884c 7d65" in text
    assert "Corrections 6 May 2026 Weighed again: 24.2 kg." in text
    assert short_digest(DIGEST) == "9f86 d081 884c 7d65"


def test_what_is_not_frozen_says_so(printed):
    text = flat(printed(made(digest="", corrections=())).text())
    assert "Not frozen" in text
    assert "Digest" not in text


def test_an_empty_handover_says_what_to_do(printed):
    empty = part_of(waste_list(), set())
    assert "then print again." in flat(printed(made(waste=empty)).text())


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_is_clipped_small_or_on_top(paper):
    long = {"to": "T" * 200, "document": "D" * 200, "note": "note " * 200, "carrier": "C" * 200}
    for changes in ({}, long):
        assert_nothing_is_clipped_small_or_on_top(made(paper, **changes))
