"""The order, its cuts and the renewals over HTTP: as JSON, on paper, as tables read back."""

from __future__ import annotations

import csv
import io

import openpyxl
import pytest
from pypdf import PdfReader


@pytest.fixture
def buying(phone, boat) -> str:
    """A hose of two runs with a reel on offer, bolts in packs, and a light that has no price."""
    hose = {"kind": "hose-raw-water", "size": "19 mm", "fate": "renew"}
    phone.push(
        boat,
        [
            phone.change("item", "long", name="Hose to the strainer", length_mm=2000, **hose),
            phone.change("item", "short", name="Hose to the pump", length_mm=1000, **hose),
            phone.change("item", "bolts", kind="fastener", size="m8x40", count=12, fate="renew"),
            phone.change("item", "light", kind="light-cabin", fate="renew"),
        ],
    )
    lines = {line["kind"]: line["id"] for line in order(phone, boat)["lines"]}
    phone.push(
        boat,
        [
            phone.change(
                "price", "reel", spec=lines["hose-raw-water"], amount=44, currency="EUR",
                per="reel", length_mm=5000, supplier="Slipway Stores",
            ),
            phone.change(
                "price", "pack", spec=lines["fastener"], amount=4.5, currency="GBP",
                per="pack", pieces=10, supplier="=cmd|' /C calc'!A0",
            ),
            phone.change("purchase", lines["fastener"], bought_at="2026-05-02T10:00:00Z", count=12),
        ],
    )  # fmt: skip
    return boat


def get(phone, boat: str, name: str):
    reply = phone.http.get(f"/api/boats/{boat}/lists/{name}")
    assert reply.status_code == 200, reply.json
    return reply


def order(phone, boat: str) -> dict:
    return get(phone, boat, "order").json["list"]


def rows(reply) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(reply.data.decode("utf-8-sig")), strict=True))


def text_of(reply) -> str:
    pages = PdfReader(io.BytesIO(reply.data)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_phones_get_lines_with_states_costs_and_a_sum_for_each_currency(phone, buying) -> None:
    found = order(phone, buying)
    lines = {line["kind"]: line for line in found["lines"]}
    # 2 m and 1 m, a tenth more and 100 mm for each end: 2.4 m and 1.3 m, out of one reel of 5 m.
    hose = lines["hose-raw-water"]
    assert (hose["cost"], hose["currency"], hose["state"]) == (44.0, "EUR", "to buy")
    assert [piece["length_mm"] for piece in hose["cut"]["stock"][0]["pieces"]] == [2400, 1300]
    assert hose["cut"]["stock"][0]["left_mm"] == 5000 - 2400 - 1300 - 2 * hose["cut"]["kerf_mm"]
    bolts = lines["fastener"]
    assert (bolts["size"], bolts["state"], bolts["buy_as"]) == (
        "M8 x 40",
        "bought",
        "2 packs of 10",
    )
    assert lines["light-cabin"]["cost"] is None
    assert found["unpriced"] == 1
    assert found["totals"] == [
        {"currency": "EUR", "to_buy": 44.0, "bought": 0.0},
        {"currency": "GBP", "to_buy": 0.0, "bought": 9.0},
    ]


def test_the_order_as_a_table_has_a_row_a_line_and_runs_no_formula(phone, buying) -> None:
    found = {row["size"]: row for row in rows(get(phone, buying, "order.csv"))}
    hose, bolts = found["19 mm (3/4 in)"], found["M8 x 40"]
    assert (hose["cost"], hose["currency"], hose["to buy as"]) == ("44", "EUR", "1 reel of 5 m")
    assert (hose["order length (m)"], hose["supplier"]) == ("3.7", "Slipway Stores")
    assert (bolts["state"], bolts["bought"], bolts["count (pieces)"]) == (
        "bought", "2026-05-02", "12",
    )  # fmt: skip
    assert bolts["supplier"].startswith("'=cmd")
    assert found[""]["asks"] == "No price yet: enter what you were quoted."


def test_the_workbook_has_the_order_with_numbers_and_every_cut(phone, buying) -> None:
    book = openpyxl.load_workbook(io.BytesIO(get(phone, buying, "order.xlsx").data))
    assert book.sheetnames == ["order", "cuts"]
    heads, *lines = book["order"].iter_rows(values_only=True)
    costs = {line[heads.index("size")]: line[heads.index("cost")] for line in lines}
    assert (costs["19 mm (3/4 in)"], costs["M8 x 40"]) == (44, 9)
    heads, *cuts = book["cuts"].iter_rows(values_only=True)
    assert [cut[heads.index("length (m)")] for cut in cuts] == [2.4, 1.3]
    assert [cut[heads.index("for")] for cut in cuts] == ["Hose to the strainer", "Hose to the pump"]
    assert cuts[-1][heads.index("left (m)")] == pytest.approx(1.296)


def test_the_printed_order_opens_with_what_it_costs_and_what_has_no_price(phone, buying) -> None:
    text = text_of(get(phone, buying, "order.pdf"))
    assert "3 lines: 2 to buy, 1 bought. 1 line can be ordered today, for 44.00 EUR." in text
    assert "1 line without a price: in no sum." in text
    assert "Without a price Cabin light." in text
    assert text.index("What it costs") < text.index("Cautions first") < text.index("1 reel of 5 m")


def test_the_order_by_supplier_puts_each_line_under_who_sells_it(phone, buying) -> None:
    text = text_of(get(phone, buying, "order-by-supplier.pdf"))
    nobody = text.rindex("Supplier not chosen yet")
    slipway = text.rindex("Slipway Stores", 0, text.rindex("Raw-water hose"))
    assert slipway < text.rindex("Raw-water hose")
    assert nobody < text.rindex("Cabin light")


def test_the_cutting_sheet_tells_reel_by_reel_what_is_cut_for_which_run(phone, buying) -> None:
    text = text_of(get(phone, buying, "cutting.pdf"))
    assert "No run has a join in it." in text
    assert "No plan costs less than 44.00 EUR: this is the cheapest." in text
    assert text.index("Hose to the strainer") < text.index("Hose to the pump")
    assert "1.296 m left over" in text


def test_the_renewals_tell_runs_details_and_what_is_assumed(phone, buying) -> None:
    lines = {ln["kind"]: ln for ln in get(phone, buying, "renewals").json["list"]["lines"]}
    assert [run["length_mm"] for run in lines["hose-raw-water"]["runs"]] == [2000, 1000]
    assert lines["fastener"]["details"][0].startswith("M8: pitch 1.25 mm, spanner 13 mm")
    assert "M8 x 40" in text_of(get(phone, buying, "renewals.pdf"))


@pytest.mark.parametrize(
    "name",
    ["order", "order.pdf", "order-by-supplier.pdf", "cutting.pdf", "order.csv", "order.xlsx",
     "piping", "piping.pdf", "piping.csv", "wiring", "wiring.pdf", "wiring.csv"],
)  # fmt: skip
def test_a_bare_boat_has_every_list_and_an_unknown_one_none(phone, boat, new_id, name) -> None:
    assert get(phone, boat, name).data
    unknown = phone.http.get(f"/api/boats/{new_id()}/lists/{name}")
    assert unknown.json["type"].endswith("/problems/no-such-boat")


def test_papers_of_a_bare_boat_say_that_there_is_nothing(phone, boat) -> None:
    assert "so there is nothing to order" in text_of(get(phone, boat, "order.pdf"))
    assert "so there is nothing to cut" in text_of(get(phone, boat, "cutting.pdf"))


@pytest.fixture
def piped(phone, boat) -> str:
    """A hose from a seacock to a pump, and a cable from a panel to it."""
    phone.push(
        boat,
        [
            phone.change("item", "cock", kind="seacock", name="Engine seacock"),
            phone.change("item", "pump", kind="raw-water-pump", name="Raw water pump"),
            phone.change(
                "item", "hose", kind="hose-raw-water", name="Suction", size="1 in", length_mm=1500
            ),
            phone.change("end", "e1", item="hose", to_item="cock"),
            phone.change("end", "e2", item="hose", to_item="pump"),
        ],
    )
    return boat


def test_the_piping_schedule_has_each_run_with_both_ends_in_every_form(phone, piped) -> None:
    (system,) = get(phone, piped, "piping").json["list"]["systems"]
    (row,) = [row for row in system["rows"] if row["item"] == "hose"]
    assert sorted(row["ends"]) == ["Engine seacock", "Raw water pump"]
    assert (row["size"], row["length_mm"], row["how"]) == ("1 in", 1500, "measured")
    text = text_of(get(phone, piped, "piping.pdf"))
    assert "Engine seacock" in text
    assert "Raw water pump" in text
    (line,) = [line for line in rows(get(phone, piped, "piping.csv")) if "Suction" in line.values()]
    assert {"Engine seacock", "Raw water pump"} <= set(line.values())
