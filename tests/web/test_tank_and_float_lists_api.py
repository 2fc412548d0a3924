"""Tanks, lifts and trim over HTTP: in three forms, what was written wrong named in them."""

from __future__ import annotations

import csv
import io

import pytest
from pypdf import PdfReader

NAMES = ("tanks", "lifts", "trim")


@pytest.fixture
def stocked(phone, boat) -> str:
    """A tank dipped at 300 mm, one dipped above its top; a lift that hangs, and one too flat."""
    engine = {"mass_kg": 250, "mass_how": "plate", "aft_m": 6, "off_m": 0.4, "up_m": 0.8}
    lift = {"of": "engine", "centre_aft_m": 6, "centre_off_m": 0, "centre_up_m": 0.8}
    box = {"shape": "box", "length_mm": 1000, "width_mm": 600, "height_mm": 500}
    phone.push(
        boat,
        [
            phone.change(
                "boat", boat, length_m=11.2, beam_m=3.5, draught_m=1.55, displacement_kg=9000,
                gm_m=1.0,
            ),
            phone.change("item", "engine", name="Engine", whereabouts="ashore", **engine),
            phone.change("item", "good", name="Diesel tank", whereabouts="aboard"),
            phone.change("item", "bad", name="Water tank", whereabouts="aboard"),
            phone.change("tank", "t1", of="good", liquid="diesel", **box),
            phone.change("tank", "t2", of="bad", liquid="fresh-water", **box),
            phone.change("sounding", "s1", tank="t1", how="dip", level_mm=300, on="2026-01-02"),
            phone.change("sounding", "s2", tank="t2", how="dip", level_mm=900, on="2026-01-02"),
            phone.change("lift", "l1", name="High hook", hook_up_m=2.2, **lift),
            phone.change("lift", "l2", name="Low hook", hook_up_m=1.25, **lift),
            *(
                phone.change(
                    "eye", f"{of}-{at}", lift=of, aft_m=aft, off_m=0, up_m=1.2, rated_kg=900
                )
                for of in ("l1", "l2")
                for at, aft in enumerate((5.6, 6.4))
            ),
        ],
    )  # fmt: skip
    return boat


def get(phone, boat: str, name: str):
    return phone.http.get(f"/api/boats/{boat}/lists/{name}")


def test_a_dip_gives_litres_and_one_above_the_tank_says_the_range(phone, stocked) -> None:
    lines = {line["name"]: line for line in get(phone, stocked, "tanks").json["list"]["tanks"]}
    assert lines["Diesel tank"]["still_in"]["likely"] == pytest.approx(180)
    bad = lines["Water tank"]
    assert bad["still_in"] is None
    assert "0 to 500 mm" in bad["last"]["refused"]
    assert "900" in bad["last"]["read"]


def test_a_lift_hangs_and_one_under_the_limit_of_angle_is_refused(phone, stocked) -> None:
    lines = {line["name"]: line for line in get(phone, stocked, "lifts").json["list"]["lifts"]}
    hung, flat = lines["High hook"], lines["Low hook"]
    assert hung["refused"] == ""
    assert [leg["angle_deg"] for leg in hung["legs"]] == [pytest.approx(21.8, abs=0.05)] * 2
    assert sum(leg["tension_kg"] for leg in hung["legs"]) == pytest.approx(269.3, abs=0.1)
    assert flat["legs"] == []
    assert "from the vertical: 0 to 60° is allowed" in flat["refused"]


def test_trim_says_what_came_off_and_from_where(phone, stocked) -> None:
    found = get(phone, stocked, "trim").json["list"]
    now = next(state for state in found["states"] if state["id"] == "now")
    assert now["mass"]["likely"] == pytest.approx(-250)
    assert now["sinkage_cm"]["likely"] < 0
    # Weight off to starboard: she lists to port, tan(list) = 250 x 0.4 / (8750 x 1.0).
    assert now["list_deg"]["likely"] == pytest.approx(-0.655, abs=0.005)


def test_a_displacement_that_is_too_small_is_refused_with_the_range(phone, stocked) -> None:
    phone.push(stocked, [phone.change("boat", stocked, displacement_kg=300)])
    found = get(phone, stocked, "trim").json["list"]
    now = next(state for state in found["states"] if state["id"] == "now")
    assert now["sinkage_cm"] is None
    assert any("up to" in why for why in now["refused"]) or found["missing"]
    assert now["mass"]["likely"] == pytest.approx(-250)


SHOWN = {
    "tanks": ("Diesel tank", "litres likely", 180.0),
    "lifts": ("Low hook", "angle from vertical (degrees)", 21.8),
    "trim": ("Engine", "mass (kg)", -250.0),
}


@pytest.mark.parametrize("name", NAMES)
def test_each_is_printed_and_written_as_a_table(phone, stocked, name) -> None:
    printed, column, value = SHOWN[name]
    reply = get(phone, stocked, f"{name}.pdf")
    assert reply.mimetype == "application/pdf"
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(reply.data)).pages)
    assert printed in text
    table = get(phone, stocked, f"{name}.csv")
    assert table.mimetype == "text/csv"
    rows = list(csv.DictReader(io.StringIO(table.data.decode("utf-8-sig"))))
    assert value in [float(row[column]) for row in rows if row[column]]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("form", ["", ".pdf", ".csv"])
def test_a_bare_boat_has_lists_and_an_unknown_one_is_told(phone, boat, new_id, name, form) -> None:
    assert get(phone, boat, name + form).status_code == 200
    assert get(phone, new_id(), name + form).json["type"].endswith("/problems/no-such-boat")
