"""Work ahead, one sitting and putting back over HTTP: in all their forms, and bad questions."""

from __future__ import annotations

import csv
import io

import pytest
from pypdf import PdfReader


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
    """The words of a printed list; every one must lie on its page."""
    reply = get(phone, boat, name)
    assert reply.status_code == 200
    found: list[str] = []
    for page in PdfReader(io.BytesIO(reply.data)).pages:
        width, height = float(page.mediabox.width), float(page.mediabox.height)

        def visit(text, at, within, *__, width=width, height=height) -> None:
            if text.strip() and not text.startswith("page "):
                assert 0 <= at[4] + within[4] <= width
                assert 0 <= at[5] + within[5] <= height

        page.extract_text(visitor_text=visit)
        found.append(page.extract_text())
    return " ".join(" ".join(found).split())


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
