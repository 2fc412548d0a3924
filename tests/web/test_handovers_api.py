"""Containers and handovers over HTTP: what is in them, frozen lists, corrections, the sheet."""

from __future__ import annotations

import hashlib
import io
import json
from typing import Any

import pytest
from pypdf import PdfReader
from sqlalchemy import select

from shedtally.storage import tables
from shedtally.storage.tables import db

SEALED = "2026-05-02T16:00:00+02:00"


@pytest.fixture
def packed(phone, boat) -> str:
    """A tray with a weighed battery, a rag can with something wrong in it, a loose radar."""
    phone.push(
        boat,
        [
            phone.change("boat", boat, name="Corncrake", rule_set="eu", holder="household"),
            phone.change("container", "tray", name="Battery tray", stream="lead-acid", tare_kg=2),
            phone.change("container", "can", name="Rag can", stream="rag-oil", limit_kg=3),
            phone.change("item", "battery", kind="battery-lead-acid", fate="waste", mass_kg=24,
                         mass_how="weighed", container="tray", whereabouts="ashore"),
            phone.change("item", "rags", kind="rag-oily", soaked_in="mineral oil", fate="waste",
                         mass_kg=4, mass_how="weighed", container="can"),
            phone.change("item", "linseed", name="Linseed rags", kind="rag-drying-oil",
                         fate="waste", mass_kg=1, mass_how="weighed", container="can"),
            phone.change("item", "radar", name="Radar", kind="radar-scanner", fate="waste",
                         mass_kg=7, mass_how="weighed", whereabouts="ashore"),
        ],
    )  # fmt: skip
    return boat


def hand_over(phone, boat: str, **more: Any) -> None:
    """The tray and the radar leave, sealed, as the phone writes it: the handover last."""
    papers = {"on": "2026-05-02", "to": "Council waste point", "carrier": "own car",
              "document": "slip 26-1", "sealed_at": SEALED, **more}  # fmt: skip
    phone.push(
        boat,
        [
            phone.change("item", "radar", handover="h1", whereabouts="gone"),
            phone.change("item", "battery", whereabouts="gone"),
            phone.change("container", "tray", handover="h1", closed_at=SEALED),
            phone.change("handover", "h1", **papers),
        ],
    )


def get(phone, boat: str, name: str) -> Any:
    return phone.http.get(f"/api/boats/{boat}/lists/{name}").json["list"]


def handover(phone, boat: str) -> Any:
    (one,) = get(phone, boat, "handovers")["handovers"]
    return one


def bodies(phone) -> list[str]:
    """The frozen texts as they lie in the database."""
    with phone.http.application.app_context():
        return list(db.session.execute(select(tables.frozen.c.body)).scalars())


def sheet(phone, boat: str) -> str:
    reply = phone.http.get(f"/api/boats/{boat}/handovers/h1/sheet.pdf")
    assert reply.status_code == 200
    text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(reply.data)).pages)
    return " ".join(text.split())


def test_a_container_says_what_is_in_it_and_what_is_odd(phone, packed) -> None:
    boxes = {one["key"]: one for one in get(phone, packed, "boxes")["boxes"]}
    can = boxes["can"]
    assert {line["key"] for line in can["lines"]} == {"rags", "linseed"}
    assert can["inside"]["likely"] == pytest.approx(5)
    (over,) = [fault["say"] for fault in can["faults"]]
    assert over == "5 kg are in it, and it may hold 3 kg."
    (ban,) = can["bans"]
    assert (ban["item"], ban["only_if"], ban["who"]) == ("linseed", "", "")
    assert boxes["tray"]["bans"] == []


def test_a_sealed_handover_is_frozen_with_containers_and_loose_items(phone, packed) -> None:
    hand_over(phone, packed)
    one = handover(phone, packed)
    frozen = one["frozen"]
    assert one["waste"] is None
    assert frozen["waste"]["gone"]["likely"] == pytest.approx(31)
    assert {stream["id"] for stream in frozen["waste"]["streams"]} >= {"lead-acid"}
    assert frozen["papers"]["carrier"] == "own car"
    (body,) = bodies(phone)
    assert hashlib.sha256(body.encode()).hexdigest() == frozen["digest"]


def test_two_phones_have_the_same_handover_and_the_server_freezes_what_one_of_them_sent(
    phone, pair, packed
) -> None:
    other, put_in = pair(), "2026-05-01T18:20:00+02:00"
    base = other.pull_all(packed)[-1]["cursor"]
    other.push(packed, [other.change("item", "battery", base=base, boxed_at=put_in)])
    hand_over(phone, packed)
    for reader in (phone, other, pair()):
        state: dict[tuple[str, str], Any] = {}
        for one in reader.pull_all(packed):
            state.setdefault((one["table"], one["key"]), {}).update(one["set"])
        assert state["item", "battery"]["boxed_at"] == put_in
        assert state["item", "battery"]["container"] == "tray"
        assert state["item", "radar"]["handover"] == "h1"
        assert state["handover", "h1"]["sealed_at"] == SEALED
        assert get(reader, packed, "handovers") == get(phone, packed, "handovers")
    before = handover(other, packed)["frozen"]
    assert before["waste"]["gone"]["likely"] == pytest.approx(31)
    seen = other.pull_all(packed)[-1]["cursor"]
    other.push(
        packed,
        [
            other.change("item", "radar", base=seen, handover=None, whereabouts="ashore"),
            other.change("handover", "h1", base=seen, sealed_at="2026-05-03T09:00:00+02:00"),
        ],
    )
    assert handover(phone, packed)["frozen"] == before
    assert len(bodies(phone)) == 1
    tray = next(one for one in get(phone, packed, "boxes")["boxes"] if one["key"] == "tray")
    assert [line["since"] for line in tray["lines"]] == ["2026-05-01"]


def test_no_later_edit_changes_what_was_frozen(phone, packed) -> None:
    hand_over(phone, packed)
    before = handover(phone, packed)["frozen"]
    phone.push(
        packed,
        [
            phone.change("item", "battery", mass_kg=30, kind="battery-lithium"),
            phone.change("item", "radar", binned=True),
            phone.change("container", "tray", name="Another name", tare_kg=9),
            phone.change("handover", "h1", to="Somebody else", sealed_at=None),
            phone.change("handover", "h1", sealed_at="2026-06-01T08:00:00+02:00"),
            phone.change("boat", packed, rule_set="gb"),
        ],
    )
    after = handover(phone, packed)
    assert after["frozen"] == before
    assert after["to"] == "Somebody else"


def test_sending_the_same_handover_again_freezes_nothing_twice(phone, packed) -> None:
    changes = [
        phone.change("container", "tray", handover="h1"),
        phone.change("handover", "h1", on="2026-05-02", to="Site", sealed_at=SEALED),
    ]
    phone.push(packed, changes)
    before = handover(phone, packed)["frozen"]
    phone.push(packed, changes)
    assert handover(phone, packed)["frozen"] == before
    assert len(bodies(phone)) == 1


def test_a_correction_stands_beside_the_list(phone, packed) -> None:
    hand_over(phone, packed)
    phone.push(
        packed,
        [phone.change("correction", "c1", handover="h1", item="container/tray", who="T",
                      on="2026-05-06", text="Their scale said 23.1 kg.", mass_kg=23.1)],
    )  # fmt: skip
    one = handover(phone, packed)
    (line,) = one["corrections"]
    assert (line["name"], line["mass_kg"], line["who"]) == ("Battery tray", 23.1, "T")
    assert one["frozen"]["waste"]["gone"]["likely"] == pytest.approx(31)


def test_the_sheet_prints_what_was_frozen_and_its_corrections(phone, packed) -> None:
    hand_over(phone, packed)
    digest = handover(phone, packed)["frozen"]["digest"]
    phone.push(
        packed,
        [
            phone.change("item", "radar", name="Renamed later"),
            phone.change("handover", "h1", to="Somebody else"),
            phone.change("correction", "c1", handover="h1", who="T", on="2026-05-06", mass_kg=6.5,
                         text="The radar was 6.5 kg"),
        ],
    )  # fmt: skip
    text = sheet(phone, packed)
    short = " ".join(digest[at : at + 4] for at in range(0, 16, 4))
    for said in (f"Digest {short}", "Council waste point", "own car", "slip 26-1", "Battery tray",
                 "in no container: Radar", "The radar was 6.5 kg. 6.5 kg. T."):  # fmt: skip
        assert said in text, said
    assert "Renamed later" not in text
    assert "Somebody else" not in text


def test_an_open_handover_follows_the_records_and_says_so_on_paper(phone, packed) -> None:
    hand_over(phone, packed, sealed_at=None)
    one = handover(phone, packed)
    assert one["frozen"] is None
    assert one["waste"]["gone"]["likely"] == pytest.approx(31)
    text = sheet(phone, packed)
    assert "Not frozen" in text
    assert "in no container: Radar" in text


def test_what_is_added_after_freezing_and_what_leaves_too_early_is_said(phone, packed) -> None:
    hand_over(phone, packed)
    phone.push(
        packed,
        [
            phone.change("container", "can", handover="h1"),
            phone.change("item", "battery", out_at="2026-05-09T09:00:00+02:00"),
        ],
    )
    one = handover(phone, packed)
    said = {(fault["of"], fault["say"]) for fault in one["faults"]}
    assert any(of == "container/can" and "after the list was frozen" in say for of, say in said)
    early = "It left on 2026-05-02, and came out of the boat on 2026-05-09, later."
    assert ("item/battery", early) in said
    assert [ban["item"] for ban in one["bans"]] == ["linseed"]
    assert "can" not in json.dumps(one["frozen"]["waste"]["streams"]).split('"')


def test_an_unknown_rule_set_and_a_bare_boat_lose_nothing(phone, packed) -> None:
    phone.push(packed, [phone.change("boat", packed, rule_set="moon")])
    hand_over(phone, packed)
    reply = phone.http.get(f"/api/boats/{packed}/lists/handovers")
    assert reply.json["type"].endswith("/problems/no-such-rule-set")
    phone.push(packed, [phone.change("boat", packed, rule_set="eu")])
    frozen = handover(phone, packed)["frozen"]
    assert frozen["waste"]["gone"]["likely"] == pytest.approx(31)


def test_the_list_of_waste_tells_what_is_mixed(phone, packed) -> None:
    (ban,) = get(phone, packed, "waste")["mixed"]
    assert (ban["name"], ban["container"]) == ("Linseed rags", "Rag can")
    pdf = phone.http.get(f"/api/boats/{packed}/lists/waste.pdf").data
    text = " ".join(
        " ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages
    )
    assert "Mixed against the rules" in text
    assert "Nobody has recorded why." in text
    assert "Rags with drying oil (sheet" in text
