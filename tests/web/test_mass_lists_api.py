"""Masses and scrap over HTTP: as of a cursor, in three forms, with what was typed wrong in them."""

from __future__ import annotations

import csv
import io

import pytest
from pypdf import PdfReader

NAMES = ("masses", "scrap")


@pytest.fixture
def stocked(phone, boat) -> str:
    """A crate weighed with two winches, a weighing that can't be, and a bronze price."""
    phone.push(
        boat,
        [
            phone.change("place", "crate", name="Crate 7", sort="crate"),
            phone.change("item", "one", kind="winch", name="Port winch", place="crate"),
            phone.change("item", "two", kind="winch", count=3, place="crate", fate="scrap"),
            phone.change(
                "weighing", "w1", of="place/crate", gross_kg=30, tare_kg=2, division_kg=0.1
            ),
            phone.change("weighed", "a", weighing="w1", item="one"),
            phone.change("weighed", "b", weighing="w1", item="two"),
            phone.change("weighing", "w2", of="item/one", gross_kg=1, tare_kg=2),
            phone.change(
                "price", "p", spec="scrap/bronze", amount=4, currency="EUR", per="kilogram"
            ),
        ],
    )
    return boat


def get(phone, boat: str, name: str):
    return phone.http.get(f"/api/boats/{boat}/lists/{name}")


def test_a_crate_is_shared_out_and_a_bad_weighing_is_named(phone, stocked) -> None:
    reply = get(phone, stocked, "masses").json
    found = reply["list"]
    assert reply["cursor"] > 0
    assert found["total"]["likely"] == pytest.approx(28)
    assert found["weighed_share"] == pytest.approx(1)
    kg = {line["key"]: line["mass"]["likely"] for line in found["items"]}
    assert kg == {"one": pytest.approx(7), "two": pytest.approx(21)}
    (wrong,) = found["uncounted"]
    assert (wrong["name"], wrong["of"]) == ("Port winch", "item/one")
    assert "less than 2 kg empty" in wrong["reason"]


def test_scrap_is_worth_its_mass_times_the_price(phone, stocked) -> None:
    found = get(phone, stocked, "scrap").json["list"]
    (bronze,) = found["metals"]
    assert bronze["value"]["likely"] == pytest.approx(84)
    assert found["values"][0]["currency"] == "EUR"


@pytest.mark.parametrize("name", NAMES)
def test_both_are_printed_and_written_as_tables(phone, stocked, name) -> None:
    printed = get(phone, stocked, f"{name}.pdf")
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(printed.data)).pages)
    assert "Winch" in text
    assert "shared out by estimate" in " ".join(text.split())
    rows = list(
        csv.DictReader(io.StringIO(get(phone, stocked, f"{name}.csv").data.decode("utf-8-sig")))
    )
    assert {float(row["mass likely (kg)"]) for row in rows} >= {21.0}


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("form", ["", ".pdf", ".csv"])
def test_a_bare_boat_has_lists_and_an_unknown_one_is_told(phone, boat, new_id, name, form) -> None:
    assert get(phone, boat, name + form).status_code == 200
    assert get(phone, new_id(), name + form).json["type"].endswith("/problems/no-such-boat")
