"""Circuits over HTTP: as JSON, on paper and as a table, with the caution and what fails in them."""

from __future__ import annotations

import csv
import io

import pytest
from pypdf import PdfReader


@pytest.fixture
def wired(phone, boat) -> str:
    """A bilge pump on a wire that is too thin, and a cable that nobody measured."""
    phone.push(
        boat,
        [
            phone.change("item", "panel", kind="switch-panel-dc", name="Panel"),
            phone.change(
                "item", "pump", kind="cable-dc", name="Cable to the pump", size="AWG 14",
                load_a=15, voltage_v=12, length_mm=3100, duty="hours", critical=True,
                hot_space=True, bundled=2, insulation_c=90, sheathed=True, fuse_a=25,
            ),
            phone.change("item", "mast", kind="cable-dc", name="Cable to the mast"),
            phone.change("end", "e1", item="pump", to_item="panel", stud="M5"),
        ],
    )  # fmt: skip
    return boat


def get(phone, boat: str, name: str):
    return phone.http.get(f"/api/boats/{boat}/lists/{name}")


def test_phones_get_every_circuit_with_its_verdict(phone, wired) -> None:
    reply = get(phone, wired, "circuits").json
    lines = {line["key"]: line for line in reply["list"]["circuits"]}
    assert lines["pump"]["verdict"] == "the old one fails"
    assert lines["pump"]["sizing"]["gauge"]["name"] == "AWG 10"
    assert lines["pump"]["ends"][0]["to"] == "Panel"
    assert lines["mast"]["verdict"] == "not sized yet"
    assert len(lines["mast"]["sizing"]["asks"]) == 3


def test_the_printed_list_begins_with_the_caution_and_tells_what_fails(phone, wired) -> None:
    pdf = PdfReader(io.BytesIO(get(phone, wired, "circuits.pdf").data))
    text = " ".join(" ".join(page.extract_text() for page in pdf.pages).split())
    assert "does not replace a qualified electrician" in text
    assert text.index("qualified electrician") < text.index("Cable to the pump")
    assert "drops 7.2 % where 3 % is allowed" in text
    assert "copied, not sized" in text
    assert "6 to 60 V DC" in text
    assert "33 CFR 183.425" in text


def test_the_wiring_schedule_names_what_feeds_a_run_and_its_new_wire(phone, wired) -> None:
    found = get(phone, wired, "wiring").json["list"]
    (row,) = [row for system in found["systems"] for row in system["rows"] if row["item"] == "pump"]
    said = dict(zip(found["heads"], row["more"], strict=True))
    assert (said["fed from"], said["old fuse"], said["load"]) == ("Panel", "25 A", "15 A")
    assert said["new wire"].startswith("the old one fails; takes 6 mm2 or AWG 10")


def test_the_table_has_a_row_a_run_with_its_figures(phone, wired) -> None:
    text = get(phone, wired, "circuits.csv").data.decode("utf-8-sig")
    rows = {row["run"]: row for row in csv.DictReader(io.StringIO(text))}
    assert rows["Cable to the pump"]["least gauge"] == "AWG 10"
    assert rows["Cable to the pump"]["old fuse (A)"] == "25"
    assert rows["Cable to the pump"]["from"] == "Panel"
    assert rows["Cable to the mast"]["verdict"] == "not sized yet"
    assert rows["Cable to the mast"]["load (A)"] == ""
