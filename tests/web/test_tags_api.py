"""Tag codes in blocks, and the sheets they are printed on."""

from __future__ import annotations

import io
import threading

import pytest
from pypdf import PdfReader
from sqlalchemy import text

from shedtally.domain.records import tag
from shedtally.storage.tables import db

WRITE = {"X-Shedtally": "1"}


def reserve(phone, boat: str, count: object):
    return phone.http.post(f"/api/boats/{boat}/tag-blocks", json={"count": count}, headers=WRITE)


def print_tags(phone, boat: str, query: str):
    return phone.http.get(f"/api/boats/{boat}/tags.pdf?{query}")


def words(reply) -> str:
    pages = PdfReader(io.BytesIO(reply.data)).pages
    return " ".join(page.extract_text() for page in pages)


def codes_in(reply) -> str:
    """All text in one piece: the signs of a code stand apart on the tag."""
    return "".join(words(reply).split())


def slug(reply) -> str:
    return reply.json["type"].rsplit("/", 1)[-1]


def test_block_has_as_many_codes_as_asked_for_all_valid(phone, boat) -> None:
    reply = reserve(phone, boat, 100)
    assert reply.status_code == 201
    codes = reply.json["codes"]
    assert len(set(codes)) == 100
    assert [tag.parse(code) for code in codes] == codes


def test_no_code_is_given_out_twice_even_at_once(pair, phone, boat) -> None:
    phones = [pair(name=f"{n}") for n in range(4)]
    codes: list[str] = []
    threads = [
        threading.Thread(target=lambda one=one: codes.extend(reserve(one, boat, 50).json["codes"]))
        for one in phones
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(codes) == len(set(codes)) == 200


def test_first_code_of_a_server_starts_at_a_random_place_with_no_leading_zero(phone, boat) -> None:
    code = reserve(phone, boat, 1).json["codes"][0]
    assert 32**4 <= tag.number_of(code) < 32**5 // 2 + 10
    assert not code.startswith("0")


@pytest.mark.parametrize("count", [0, -1, 501, "many", None, 1.5])
def test_block_of_no_sensible_size_is_refused(phone, boat, count) -> None:
    reply = reserve(phone, boat, count)
    assert (reply.status_code, slug(reply)) == (422, "invalid")


def test_block_for_an_unknown_boat_is_refused(phone, new_id) -> None:
    assert slug(reserve(phone, new_id(), 1)) == "no-such-boat"


def test_when_all_numbers_are_given_out_it_is_told_and_none_is_lost(phone, boat, app) -> None:
    with app.app_context(), db.engine.begin() as connection:
        connection.execute(text("UPDATE server SET next_tag = :n"), {"n": tag.NUMBERS - 40})
    assert slug(reserve(phone, boat, 100)) == "tags-used-up"
    last = reserve(phone, boat, 30)
    assert last.status_code == 201
    assert slug(reserve(phone, boat, 30)) == "tags-used-up"


def test_block_prints_all_its_codes_and_only_for_its_boat(phone, boat) -> None:
    block = reserve(phone, boat, 12).json
    found = codes_in(print_tags(phone, boat, f"block={block['block']}&look=blank"))
    for code in block["codes"]:
        assert code in found
    other = phone.new_boat("Dunlin")
    assert slug(print_tags(phone, other, f"block={block['block']}")) == "no-such-tag-block"


def test_filled_tag_tells_what_it_is_on_and_where_that_sat(phone, boat) -> None:
    phone.push(
        boat,
        [
            phone.change("compartment", "galley", name="Galley"),
            phone.change(
                "item", "pump", name="Bilge pump", compartment="galley", out_at="2026-05-04"
            ),
            phone.change("tag", "0016JD", on="item/pump"),
        ],
    )
    found = words(print_tags(phone, boat, "codes=0016JD"))
    for word in ("Bilge pump", "Galley", "2026-05-04"):
        assert word in found
    blank = words(print_tags(phone, boat, "codes=0016JD&look=blank"))
    assert "Bilge pump" not in blank


@pytest.mark.parametrize(
    ("table", "key", "values", "word"),
    [
        ("place", "p1", {"name": "Shelf three", "sort": "shelf"}, "Shelf three"),
        ("container", "c1", {"name": "Rag drum", "stream": "rag-oil"}, "Rag drum"),
    ],
)
def test_places_and_containers_get_their_own_tags(phone, boat, *, table, key, values, word) -> None:
    phone.push(
        boat,
        [phone.change(table, key, **values), phone.change("tag", "0016JD", on=f"{table}/{key}")],
    )
    assert word in words(print_tags(phone, boat, "codes=0016JD"))


def test_codes_are_read_as_people_type_them(phone, boat) -> None:
    assert "0016JD" in codes_in(print_tags(phone, boat, "codes=oo1-6jd,&sheet=letter"))


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        ("codes=0016JE", "invalid"),
        ("codes=", "invalid"),
        ("", "invalid"),
        ("codes=0016JD&sheet=napkin", "no-such-sheet"),
        ("block=x", "no-such-tag-block"),
        ("codes=0016JD&look=shiny", "invalid"),
    ],
)
def test_sheet_that_cannot_be_printed_is_told(phone, boat, query, expected) -> None:
    assert slug(print_tags(phone, boat, query)) == expected


def test_wrong_code_is_named(phone, boat) -> None:
    detail = print_tags(phone, boat, "codes=0016JD,0016JE").json["detail"]
    assert "0016JE" in detail


def test_every_sheet_that_is_listed_prints(phone, boat) -> None:
    sheets = phone.http.get("/api/sheets").json
    assert {"a4", "letter"} < {sheet["id"] for sheet in sheets}
    assert sum(sheet["roll"] for sheet in sheets) >= 2
    for sheet in sheets:
        reply = print_tags(phone, boat, f"codes=0016JD&sheet={sheet['id']}")
        assert reply.data.startswith(b"%PDF"), sheet["id"]


def test_symbols_carry_the_address_that_was_set_not_that_of_the_request(tmp_path, clock, phone):
    """Printed tags outlive a visit by localhost."""
    import pypdfium2
    import zxingcpp

    from shedtally.app import create_app
    from shedtally.settings import Settings
    from shedtally.storage.unit_of_work import writing
    from shedtally.usecases.pair_device import make_code

    app = create_app(Settings(tmp_path / "other", address="https://shed.example:8443"), clock)
    http, boat = app.test_client(), "0" * 8 + "-0000-4000-8000-" + "0" * 12
    with app.app_context(), writing() as uow:
        code = make_code(uow, clock()).code
    body = {"code": code, "device": phone.device, "name": "n"}
    http.post("/api/pair", json=body, headers=WRITE)
    phone.http = http
    phone.push(boat, [phone.change("boat", boat, name="Tern")])
    pdf = print_tags(phone, boat, "codes=0016JD").data
    document = pypdfium2.PdfDocument(pdf)
    found = {one.text for one in zxingcpp.read_barcodes(document[0].render(scale=3).to_pil())}
    document.close()
    assert found == {"HTTPS://SHED.EXAMPLE:8443/T/0016JD"}
    with app.app_context():
        db.engine.dispose()
