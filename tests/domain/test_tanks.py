"""Soundings read to litres and kilograms; bad input refused with its range; balances."""

from __future__ import annotations

import datetime
import json
from dataclasses import replace
from pathlib import Path

import pytest

from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Boat, DipMark, Item, Sounding, Tank
from shedtally.domain.tally.masses import mass_list
from shedtally.domain.tanks.contents import with_contents
from shedtally.domain.tanks.held import tank_list
from shedtally.domain.tanks.lists import TankLine
from shedtally.domain.waste.by_stream import waste_list
from shedtally.rules.load import load, rules_for_phone

CASES = json.loads(
    (Path(__file__).parents[2] / "fixtures/contract/soundings.json").read_text("utf-8")
)
BOX = {"shape": "box", "length_mm": 1000, "width_mm": 600, "height_mm": 500, "liquid": "diesel"}


def boat_of(tank: dict[str, object], *soundings: Sounding, cans: tuple[Item, ...] = (),
            marks: tuple[DipMark, ...] = ()) -> BoatRecords:  # fmt: skip
    return BoatRecords(
        boat=Boat(key="b"),
        items={"i": Item(key="i", name="Tank"), **{can.key: can for can in cans}},
        tanks={"t": Tank(key="t", of="i", **tank)},  # type: ignore[arg-type]
        soundings={row.key: row for row in soundings},
        dip_marks={mark.key: mark for mark in marks},
    )


def dip(key: str = "s", on: str = "2026-01-02T10:00:00Z", **more: object) -> Sounding:
    values = {"tank": "t", "how": "dip", "level_mm": 250, **more}
    return Sounding(key=key, on=on, **values)  # type: ignore[arg-type]


def line_of(boat: BoatRecords) -> TankLine:
    (line,) = tank_list(boat, load()).tanks
    return line


def test_a_dip_comes_to_litres_and_kilograms_with_their_spread() -> None:
    line = line_of(boat_of(BOX, dip(temperature_c=15, density_kg_m3=840)))
    assert line.last is not None
    assert line.last.full is not None
    assert line.last.kg is not None
    assert line.last.full.likely == pytest.approx(150)
    assert line.last.kg.likely == pytest.approx(126)
    assert line.last.kg.low < 126 < line.last.kg.high
    assert line.capacity_l == pytest.approx(300)


def test_ullage_is_read_from_the_mark_downwards() -> None:
    line = line_of(boat_of({**BOX, "pipe_top_mm": 700}, dip(how="ullage", level_mm=450)))
    assert line.last is not None
    assert line.last.full is not None
    assert line.last.full.likely == pytest.approx(150)


def test_the_level_is_read_where_the_pipe_stands() -> None:
    """Bow up 4 degrees, pipe 100 mm from the forward end of 1200: shallower there than aft."""
    tank = {**BOX, "length_mm": 1200, "pipe_from_end_mm": 100}
    line = line_of(boat_of(tank, dip(level_mm=300, bow_up_deg=4)))
    assert line.last is not None
    assert line.last.full is not None
    assert line.last.full.likely == pytest.approx(241.174, abs=0.001)


def test_sludge_is_a_quantity_of_its_own() -> None:
    line = line_of(boat_of(BOX, dip(sludge_mm=50)))
    last = line.last
    assert last is not None
    assert last.liquid
    assert last.sludge
    assert last.sludge_kg
    assert last.usable
    assert (last.liquid.likely, last.sludge.likely) == (pytest.approx(120), pytest.approx(30))
    assert last.sludge_kg.likely == pytest.approx(30)
    assert last.usable.likely == pytest.approx(120)


@pytest.mark.parametrize(
    ("tank", "sounding", "said"),
    [
        (BOX, dip(level_mm=501), "can be 0 to 500 mm"),
        (BOX, dip(sludge_mm=251), "sludge is 0 to 250 mm"),
        (BOX, dip(temperature_c=91), "-50 to 90 °C"),
        (BOX, dip(density_kg_m3=1200), "788 to 900 kg/m3"),
        ({**BOX, "length_mm": None}, dip(), "its length is not measured yet"),
        (
            {"shape": "lying cylinder", "diameter_mm": 500, "length_mm": 900, "ends": "dished",
             "dish_mm": 251},
            dip(),
            "at most the radius, 250 mm",
        ),
    ],
)  # fmt: skip
def test_bad_input_is_refused_with_its_range(
    tank: dict[str, object], sounding: Sounding, said: str
) -> None:
    line = line_of(boat_of(tank, sounding))
    assert line.last is not None
    assert said in line.last.refused


def test_a_dip_table_that_falls_is_refused() -> None:
    marks = tuple(
        DipMark(key=str(mm), tank="t", level_mm=mm, volume_l=litres)
        for mm, litres in ((100, 20.0), (200, 19.0))
    )
    line = line_of(boat_of({"shape": "dip table"}, dip(level_mm=150), marks=marks))
    assert "falls: 20 L at 100 mm, but 19 L at 200 mm" in line.refused


def test_a_dip_table_is_read_by_straight_lines() -> None:
    marks = tuple(
        DipMark(key=str(mm), tank="t", level_mm=mm, volume_l=litres)
        for mm, litres in ((100, 20.0), (200, 50.0))
    )
    line = line_of(boat_of({"shape": "dip table"}, dip(level_mm=150), marks=marks))
    assert line.last is not None
    assert line.last.full is not None
    assert line.last.full.likely == pytest.approx(35)


def test_a_balance_says_what_is_in_no_can() -> None:
    can = Item(key="c", drawn_from="i", volume_l=60, out_at="2026-01-03T10:00:00Z")
    after = dip("s2", "2026-01-04T10:00:00Z", level_mm=100)
    line = line_of(boat_of(BOX, dip(), after, cans=(can,)))
    assert line.balance.unaccounted == pytest.approx(30)
    assert "30 L are in no can" in line.balance.said


def test_a_loss_without_any_can_is_said() -> None:
    line = line_of(boat_of(BOX, dip(), dip("s2", "2026-01-04T10:00:00Z", level_mm=100)))
    assert line.balance.unaccounted == pytest.approx(90)
    assert "From 2026-01-02 to 2026-01-04: 90 L less, and no can was filled" in line.balance.said


def test_a_gain_between_two_soundings_is_said() -> None:
    line = line_of(boat_of(BOX, dip(level_mm=100), dip("s2", "2026-01-04T10:00:00Z")))
    assert line.balance.unaccounted == pytest.approx(-90)
    assert "90 L more than it held" in line.balance.said


def test_only_what_was_drawn_since_is_taken_off_the_last_sounding() -> None:
    early = Item(key="c1", drawn_from="i", volume_l=60, out_at="2026-01-03T10:00:00Z")
    late = Item(key="c2", drawn_from="i", volume_l=20, out_at="2026-01-05T10:00:00Z")
    after = dip("s2", "2026-01-04T10:00:00Z", level_mm=150)
    line = line_of(boat_of(BOX, dip(), after, cans=(early, late)))
    assert line.still_in is not None
    assert line.still_in.likely == pytest.approx(90 - 20)
    assert line.balance.drawn == pytest.approx(20)
    assert line.balance.unaccounted == pytest.approx(150 - 60 - 90)


def test_a_can_without_a_day_counts_as_filled_since() -> None:
    can = Item(key="c", name="Blue can", drawn_from="i", volume_l=20)
    line = line_of(boat_of(BOX, dip(), cans=(can,)))
    assert line.still_in is not None
    assert line.still_in.likely == pytest.approx(130)
    assert "Nobody wrote when Blue can was filled" in line.balance.said


def test_a_tank_that_nobody_sounded_is_an_open_quantity() -> None:
    boat = boat_of(BOX)
    assert tank_list(boat, load()).open == ("Tank",)
    (open_,) = with_contents(boat, load()).open
    assert "Nobody knows what is in it: sound it" in open_.reason


def test_what_was_drawn_into_cans_is_not_still_in_the_tank() -> None:
    can = Item(key="c", drawn_from="i", volume_l=150, out_at="2026-01-03T10:00:00Z")
    boat = boat_of(BOX, dip(density_kg_m3=840), cans=(can,))
    assert with_contents(boat, load()).rests == ()


def mass_of_liquid(boat: BoatRecords, key: str) -> float:
    return with_contents(boat, load()).masses.estimates[key][0]


def test_what_is_still_in_a_tank_is_a_line_of_its_own() -> None:
    boat = boat_of(BOX, dip(density_kg_m3=840, temperature_c=15, sludge_mm=50))
    assert mass_of_liquid(boat, "tank/i") == pytest.approx(120 * 0.84)
    assert mass_of_liquid(boat, "sludge/i") == pytest.approx(30)


def test_an_item_of_the_liquid_aboard_beside_the_tank_stands_for_it() -> None:
    named = Item(key="d", kind="old-diesel", compartment="bilge", whereabouts="aboard", volume_l=90)
    boat = boat_of(BOX, dip(), cans=(named,))
    boat = replace(boat, items={**boat.items, "i": Item(key="i", name="Tank", compartment="bilge")})
    contents = with_contents(boat, load())
    assert contents.rests == ()
    assert line_of(boat).counted_as == ("Old diesel",)
    # Nobody wrote how much: then the sounding says it.
    unknown = replace(boat, items={**boat.items, "d": replace(named, volume_l=None)})
    sounded = with_contents(unknown, load()).masses.estimates["d"]
    assert sounded[1].basis == "calculated"
    assert sounded[0] == pytest.approx(150 * 0.838, rel=1e-3)


def test_a_can_out_of_the_same_space_is_taken_as_drawn_and_that_is_said() -> None:
    can = Item(key="d", name="Blue can", kind="old-diesel", compartment="bilge", volume_l=50,
               whereabouts="ashore", out_at="2026-01-03T10:00:00Z")  # fmt: skip
    boat = boat_of(BOX, dip(), cans=(can,))
    boat = replace(boat, items={**boat.items, "i": Item(key="i", name="Tank", compartment="bilge")})
    line = line_of(boat)
    assert line.still_in is not None
    assert line.still_in.likely == pytest.approx(100)
    assert "Blue can came out of the same space" in line.balance.said


@pytest.mark.parametrize(("drawn_l", "rests"), [(150, ()), (149.95, ()), (149, ("tank/i",))])
def test_a_rest_that_reads_no_kilograms_is_not_listed(
    drawn_l: float, rests: tuple[str, ...]
) -> None:
    can = Item(key="d", name="Can", drawn_from="i", volume_l=drawn_l, out_at="2026-01-03")
    boat = boat_of(BOX, dip(), cans=(can,))
    assert with_contents(boat, load()).rests == rests
    keys = {line.key for line in mass_list(boat, load()).items}
    assert ("tank/i" in keys) is bool(rests)


def test_a_tank_described_twice_counts_once() -> None:
    boat = boat_of(BOX, dip())
    again = Tank(key="u", of="i", **BOX)  # type: ignore[arg-type]
    boat = replace(boat, tanks={**boat.tanks, "u": again})
    lines = {line.key: line for line in tank_list(boat, load()).tanks}
    assert "described twice" in lines["u"].refused
    assert with_contents(boat, load()).rests == ("tank/i",)


def test_fuel_still_in_its_tank_is_on_the_waste_list_and_asked_of_the_tank() -> None:
    boat = boat_of(BOX, dip())
    waste = waste_list(boat, load(), "us-federal", "business", datetime.date(2026, 2, 1))
    rows = [row for stream in waste.streams for row in stream.items if row.key == "tank/i"]
    assert [row.mass.likely for row in rows] == [pytest.approx(150 * 0.838, rel=1e-3)]
    assert {(q.item, q.field) for q in waste.questions if q.field == "flash_point_c"} == {
        ("i", "flash_point_c")
    }


def test_what_is_in_a_tank_that_nobody_sounded_is_asked_on_both_lists() -> None:
    boat = boat_of(BOX)
    waste = waste_list(boat, load(), "eu", "household", datetime.date(2026, 2, 1))
    assert "sounding" in {question.field for question in waste.questions}
    assert [row.of for row in mass_list(boat, load()).uncounted] == ["tank/i"]


def test_no_tank_that_has_gone_leaves_its_liquid_here() -> None:
    boat = boat_of(BOX, dip())
    boat = replace(boat, items={"i": Item(key="i", name="Tank", whereabouts="gone")})
    assert with_contents(boat, load()).rests == ()


@pytest.mark.parametrize("case", CASES["soundings"], ids=str)
def test_soundings_that_cannot_be_are_refused_as_the_phone_refuses_them(
    case: dict[str, object],
) -> None:
    read = {"key": "s", "tank": "t", "on": "2026-01-02T10:00:00Z", **case["read"]}  # type: ignore[dict-item]
    marks = tuple(DipMark(key=str(n), tank="t", **row) for n, row in enumerate(CASES["marks"]))
    tank = CASES["tanks"][case["tank"]]
    line = line_of(boat_of(tank, Sounding(**read), marks=marks))  # type: ignore[arg-type]
    assert line.last is not None
    if case["says"] is None:
        assert line.last.refused == ""
    else:
        assert line.last.refused
        assert str(case["says"]) in line.last.refused


@pytest.mark.parametrize("case", CASES["sizes"], ids=str)
def test_sizes_that_cannot_be_are_refused_as_the_phone_refuses_them(
    case: dict[str, object],
) -> None:
    line = line_of(boat_of(case["tank"]))  # type: ignore[arg-type]
    assert (line.refused == "") == (case["says"] is None)
    assert case["says"] is None or str(case["says"]) in line.refused


def test_the_limits_that_phones_get_are_those_of_the_server() -> None:
    (diesel,) = [
        row
        for row in rules_for_phone(load())["liquids"]
        if row["id"] == "diesel"  # type: ignore[attr-defined]
    ]
    assert {key: diesel[key] for key in CASES["liquid"]} == CASES["liquid"]


def test_a_sounding_that_gives_no_litres_leaves_the_one_before_in_force() -> None:
    boat = boat_of(BOX, dip(), dip("s2", "2026-01-04T10:00:00Z", level_mm=900))
    line = line_of(boat)
    assert line.last is not None
    assert line.last.refused
    assert line.still_in is not None
    assert line.still_in.likely == pytest.approx(150)
    assert mass_of_liquid(boat, "tank/i") == pytest.approx(150 * 0.838, rel=1e-3)
