"""Work ahead, one sitting and putting back over HTTP: in all their forms, and bad questions."""

from __future__ import annotations

import csv
import hashlib
import html
import io
import re
import subprocess

import pytest
from pypdf import PdfReader

from shedtally.printing.letters import MM
from shedtally.printing.paper import A4, EDGE_MM, MARGIN_MM


@pytest.fixture
def stocked(phone, boat) -> str:
    """A table over a locker with a pump; a chart rack that came out and goes back."""
    phone.push(
        boat,
        [
            phone.change("boat", boat, length_m=10, beam_m=3.1),
            phone.change("compartment", "saloon", name="Saloon", from_m=3, to_m=6, level="cabin"),
            phone.change("compartment", "fore", name="Forepeak", from_m=0, to_m=2, level="cabin"),
            phone.change("item", "one", name="Saloon table", compartment="saloon"),
            phone.change("item", "two", name="Bilge locker lid", compartment="saloon", count=7),
            phone.change("item", "three", name="Chart rack", compartment="fore",
                         out_at="2026-11-01", fate="refit"),
            phone.change("before", "b", first="item/one", then="item/two"),
        ],
    )  # fmt: skip
    return boat


def get(phone, boat: str, name: str):
    return phone.http.get(f"/api/boats/{boat}/lists/{name}")


def printed(phone, boat: str, name: str) -> str:
    """The words of a printed list, each as poppler places it, from edge to edge."""
    reply = get(phone, boat, name)
    assert reply.status_code == 200
    boxes = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=reply.data, capture_output=True, check=True
    ).stdout.decode()
    sides = (MARGIN_MM * MM, A4.width_mm * MM - MARGIN_MM * MM)
    ends = (EDGE_MM * MM, A4.height_mm * MM - EDGE_MM * MM)
    words = []
    for x0, y0, x1, y1, word in re.findall(
        r'<word xMin="(.+?)" yMin="(.+?)" xMax="(.+?)" yMax="(.+?)">(.*?)</word>', boxes
    ):
        # A point for the rounding of poppler; its heights are those of the face, not of the ink.
        assert sides[0] - 1 <= float(x0) <= float(x1) <= sides[1] + 1, word
        assert ends[0] - 4 <= float(y0) <= float(y1) <= ends[1] + 4, word
        words.append(html.unescape(word))
    return " ".join(words)


@pytest.mark.parametrize("name", ["left.pdf", "work.pdf"])
def test_the_boat_is_drawn_on_the_first_page(phone, stocked, name) -> None:
    text = printed(phone, stocked, name)
    assert "Where it is left" in text
    assert "starboard" in text
    assert "cabin: 8 left" in text


def test_without_a_length_it_says_what_is_missing(phone, boat) -> None:
    phone.push(boat, [phone.change("item", "one", name="Saloon table")])
    assert "her length is not known" in printed(phone, boat, "left.pdf")


def test_a_sitting_is_printed_with_times_and_cautions(phone, stocked) -> None:
    text = printed(phone, stocked, "sitting.pdf?hours=4&people=2")
    for part in ("4 hours, 2 people", "0:00", "Saloon table", "No sparks", "Make safe before"):
        assert part in text


@pytest.mark.parametrize("query", ["hours=0", "people=0", "hours=25", "people=21", "hours=soon"])
@pytest.mark.parametrize("name", ["sitting", "sitting.pdf"])
def test_a_sitting_that_cannot_be_is_refused(phone, stocked, name, query) -> None:
    reply = get(phone, stocked, f"{name}?{query}")
    assert reply.status_code in (400, 422)
    assert query.partition("=")[0] in reply.text


def test_what_is_ready_and_what_it_opens_stands_in_the_table(phone, stocked) -> None:
    rows = list(
        csv.DictReader(io.StringIO(get(phone, stocked, "work.csv").data.decode("utf-8-sig")))
    )
    assert [row["step"] for row in rows] == ["Saloon table"]
    assert rows[0]["opens"] == "Bilge locker lid"
    assert rows[0]["compartment"] == "Saloon"


def test_what_goes_back_is_printed_and_a_table(phone, stocked) -> None:
    assert "Chart rack" in printed(phone, stocked, "back.pdf")
    rows = list(
        csv.DictReader(io.StringIO(get(phone, stocked, "back.csv").data.decode("utf-8-sig")))
    )
    assert [row["item"] for row in rows] == ["Chart rack"]


def test_the_sheet_shows_the_photograph_with_the_number_where_the_pin_is(
    phone, stocked, picture
) -> None:
    body = picture("JPEG")
    digest = hashlib.sha256(body).hexdigest()
    pin = {"photo": "p", "x": 0.25, "y": 0.5}
    phone.push(
        stocked,
        [
            phone.change("photo", "p", of="compartment/fore", sha256=digest),
            phone.change("pin", "out", item="three", **pin),
            phone.change("pin", "aboard", item="one", photo="p", x=0.75, y=0.5),
            phone.change("pin", "of nothing", photo="p", x=0.1, y=0.1),
        ],
    )
    assert not PdfReader(io.BytesIO(get(phone, stocked, "back.pdf").data)).pages[0].images
    phone.put_photo(body)
    page = PdfReader(io.BytesIO(get(phone, stocked, "back.pdf").data)).pages[0]
    (image,) = page.images
    assert image.image is not None
    places: dict[str, float] = {}

    def visit(text, at, within, *_) -> None:
        if text.strip().isdigit():
            places.setdefault(text.strip(), at[4] + within[4])

    page.extract_text(visitor_text=visit)
    wide = 116 * MM
    assert places["1"] == pytest.approx(MARGIN_MM * MM + wide / 4, abs=6)
    assert "2" not in places
    assert "Chart rack" in printed(phone, stocked, "back.pdf")
    phone.push(stocked, [phone.change("pin", "out", binned=True)])
    page = PdfReader(io.BytesIO(get(phone, stocked, "back.pdf").data)).pages[0]
    assert not page.images
