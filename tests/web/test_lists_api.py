"""The lists over HTTP: as of a cursor, made once, in three forms."""

from __future__ import annotations

import csv
import io

import openpyxl
import pytest
from pypdf import PdfReader

from shedtally.web import lists

WRITE = {"X-Shedtally": "1"}
NAMES = ("left", "waste", "renewals")


@pytest.fixture
def stocked(phone, boat) -> str:
    """A boat with something for each list; cursor 6."""
    phone.push(
        boat,
        [
            phone.change("boat", boat, rule_set="eu", holder="business"),
            phone.change("compartment", "galley", name="Galley"),
            phone.change(
                "item", "pump", name="Bilge pump", compartment="galley", whereabouts="aboard"
            ),
            phone.change(
                "item", "rags", name="Bag of rags", kind="rag-oily", fate="waste",
                whereabouts="ashore", mass_kg=2.5, mass_how="weighed",
            ),
            phone.change(
                "item", "hose", name="Fuel hose", kind="hose-fuel", fate="renew",
                whereabouts="ashore", length_mm=1200, size="8 mm",
            ),
        ],
    )  # fmt: skip
    return boat


def get(phone, boat: str, name: str, **more):
    return phone.http.get(f"/api/boats/{boat}/lists/{name}", **more)


@pytest.mark.parametrize("name", NAMES)
def test_list_says_as_of_which_change_and_when_it_was_made(phone, stocked, name, clock) -> None:
    reply = get(phone, stocked, name).json
    assert reply["cursor"] == 6
    assert reply["made_at"] == "2026-05-04T18:30:00+00:00"
    assert reply["list"]


def test_left_list_holds_what_is_aboard(phone, stocked) -> None:
    found = get(phone, stocked, "left").json["list"]
    assert found["left"] == 1
    (galley,) = [group for group in found["by_compartment"] if group["name"] == "Galley"]
    assert [item["name"] for item in galley["items"]] == ["Bilge pump"]


def test_waste_list_is_under_the_boats_own_rule_set_and_holder(phone, stocked) -> None:
    found = get(phone, stocked, "waste").json["list"]
    assert (found["rule_set"], found["holder"], found["dated"]) == ("eu", "business", "2026-05-04")
    names = [item["name"] for stream in found["streams"] for item in stream["items"]]
    assert "Bag of rags" in names


def test_waste_list_can_be_asked_for_under_another_rule_set_and_day(phone, stocked) -> None:
    query = "?rule_set=us-federal&holder=household&on=2026-11-30"
    found = get(phone, stocked, f"waste{query}").json["list"]
    assert found["rule_set"] == "us-federal"
    assert (found["holder"], found["dated"]) == ("household", "2026-11-30")


def test_renewals_hold_the_hose(phone, stocked) -> None:
    lines = get(phone, stocked, "renewals").json["list"]["lines"]
    assert any("hose" in line["items"] for line in lines)


@pytest.mark.parametrize(
    ("query", "slug"),
    [
        ("rule_set=atlantis", "no-such-rule-set"),
        ("holder=pirate", "invalid"),
        ("on=2026-02-31", "invalid"),
        ("on=tomorrow", "invalid"),
    ],
)
@pytest.mark.parametrize("form", ["", ".pdf", ".csv"])
def test_question_that_cannot_be_answered_is_told(phone, stocked, query, slug, form) -> None:
    reply = get(phone, stocked, f"waste{form}?{query}")
    assert reply.json["type"].endswith(f"/problems/{slug}")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("form", ["", ".pdf", ".csv"])
def test_list_of_an_unknown_boat_is_told(phone, new_id, name, form) -> None:
    reply = get(phone, new_id(), f"{name}{form}")
    assert reply.json["type"].endswith("/problems/no-such-boat")


@pytest.mark.parametrize("name", NAMES)
def test_list_of_a_bare_boat_is_made(phone, boat, name) -> None:
    assert get(phone, boat, name).status_code == 200


@pytest.mark.parametrize("name", NAMES)
def test_list_is_made_once_until_something_changes(phone, stocked, name, monkeypatch) -> None:
    get(phone, stocked, name)
    for maker in ("left_to_take_out", "waste_list", "renewals"):
        monkeypatch.setattr(lists, maker, None)
    assert get(phone, stocked, name).status_code == 200
    phone.push(stocked, [phone.change("item", "pump", note="one more change")])
    assert get(phone, stocked, name).status_code == 500


def test_change_shows_in_the_next_list(phone, stocked) -> None:
    before = get(phone, stocked, "left").json
    phone.push(stocked, [phone.change("item", "pump", whereabouts="ashore")])
    after = get(phone, stocked, "left").json
    assert (before["list"]["left"], after["list"]["left"]) == (1, 0)
    assert after["cursor"] == before["cursor"] + 1


def test_binned_items_are_in_no_list_and_come_back_by_a_later_edit(phone, stocked, clock) -> None:
    clock.ms += 1000
    phone.push(stocked, [phone.change("item", "pump", binned=True)])
    assert get(phone, stocked, "left").json["list"]["left"] == 0
    clock.ms += 1000
    phone.push(stocked, [phone.change("item", "pump", note="still here")])
    assert get(phone, stocked, "left").json["list"]["left"] == 1


def test_phone_that_has_the_list_is_sent_nothing_new(phone, stocked) -> None:
    first = get(phone, stocked, "left")
    again = get(phone, stocked, "left", headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


@pytest.mark.parametrize("name", NAMES)
def test_list_prints_as_pdf_with_the_boats_name(phone, stocked, name) -> None:
    reply = get(phone, stocked, f"{name}.pdf")
    assert reply.content_type == "application/pdf"
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(reply.data)).pages)
    assert "Corncrake" in text


@pytest.mark.parametrize(
    ("name", "word"), [("left", "Bilge pump"), ("waste", "Bag of rags"), ("renewals", "8 mm")]
)
def test_list_comes_as_a_table(phone, stocked, name, word) -> None:
    reply = get(phone, stocked, f"{name}.csv")
    assert reply.mimetype == "text/csv"
    rows = list(csv.reader(io.StringIO(reply.data.decode("utf-8-sig"))))
    assert len({len(row) for row in rows}) == 1
    assert any(word in cell for row in rows[1:] for cell in row)


@pytest.fixture
def with_can(phone, stocked) -> str:
    """The stocked boat with a can that the rags lie in, and a tag on it."""
    block = phone.http.post(
        f"/api/boats/{stocked}/tag-blocks", json={"count": 1}, headers=WRITE
    ).json
    phone.push(
        stocked,
        [
            phone.change("container", "can", name="Rag can", stream="rag-oil", capacity_l=38),
            phone.change("item", "rags", container="can"),
            phone.change("tag", block["codes"][0], on="container/can"),
        ],
    )
    return stocked


def text_of(reply) -> str:
    return "".join(page.extract_text() for page in PdfReader(io.BytesIO(reply.data)).pages)


@pytest.mark.parametrize(
    ("query", "width_mm"),
    [("", 210), ("?rule_set=us-federal", 215.9), ("?paper=letter", 215.9),
     ("?rule_set=us-federal&paper=a4", 210)],
)  # fmt: skip
def test_disposal_list_is_on_the_paper_of_the_rules_or_the_one_asked_for(
    phone, stocked, query, width_mm
) -> None:
    page = PdfReader(io.BytesIO(get(phone, stocked, f"waste.pdf{query}").data)).pages[0]
    assert float(page.mediabox.width) / 72 * 25.4 == pytest.approx(width_mm, abs=0.1)


@pytest.mark.parametrize("query", ["paper=a3", "language=xx", "rule_set=atlantis"])
def test_paper_language_or_rules_that_are_not_there_are_told(phone, stocked, query) -> None:
    assert get(phone, stocked, f"waste.pdf?{query}").status_code in {404, 422}


def test_disposal_list_comes_as_a_workbook(phone, stocked) -> None:
    reply = get(phone, stocked, "waste.xlsx")
    assert reply.mimetype.endswith("spreadsheetml.sheet")
    book = openpyxl.load_workbook(io.BytesIO(reply.data))
    cells = [cell for row in book["items"].iter_rows(values_only=True) for cell in row]
    assert "Bag of rags" in cells


def test_labels_are_printed_for_the_containers_that_stand_here(phone, with_can) -> None:
    reply = get(phone, with_can, "waste-labels.pdf?size=a5")
    assert reply.content_type == "application/pdf"
    assert "Rag can" in text_of(reply)
    named = get(phone, with_can, "waste-labels.pdf?containers=can")
    assert "Rag can" in text_of(named)


def test_labels_without_a_container_or_in_no_size_are_told(phone, stocked) -> None:
    assert get(phone, stocked, "waste-labels.pdf").json["type"].endswith("/not-printable")
    wrong = get(phone, stocked, "waste-labels.pdf?size=a0")
    assert wrong.json["type"].endswith("/no-such-sheet")


def test_sizes_of_labels_are_listed(phone) -> None:
    assert "a6" in [size["id"] for size in phone.http.get("/api/label-sizes").json]


def test_handover_sheet_is_printed_from_the_records(phone, with_can) -> None:
    on = "2026-05-03T09:00:00Z"
    phone.push(
        with_can,
        [
            phone.change("handover", "run", on=on, to="Council waste point", document="slip 7"),
            phone.change("container", "can", handover="run", tare_kg=3, gross_kg=5.5),
        ],
    )
    reply = phone.http.get(f"/api/boats/{with_can}/handovers/run/sheet.pdf")
    assert reply.content_type == "application/pdf"
    text = text_of(reply)
    for said in ("Council waste point", "slip 7", "Rag can", "3 May 2026", "5.5"):
        assert said in text
    missing = phone.http.get(f"/api/boats/{with_can}/handovers/none/sheet.pdf")
    assert missing.json["type"].endswith("/not-printable")


@pytest.mark.parametrize(("name", "word"), [("left", "Bilge pump"), ("renewals", "8 mm")])
def test_other_lists_come_as_a_workbook_too(phone, stocked, name, word) -> None:
    book = openpyxl.load_workbook(io.BytesIO(get(phone, stocked, f"{name}.xlsx").data))
    cells = [str(cell) for row in book[name].iter_rows(values_only=True) for cell in row]
    assert any(word in cell for cell in cells)
    assert book[name].freeze_panes == "A2"
