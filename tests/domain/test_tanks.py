"""Soundings read to litres and kilograms; bad input refused with its range; balances."""

from __future__ import annotations

import pytest

from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Boat, DipMark, Item, Sounding, Tank
from shedtally.domain.tank_lists import TankLine
from shedtally.domain.tanks import still_in_tank, tank_list
from shedtally.rules.load import load

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


def test_a_tank_that_nobody_sounded_is_an_open_quantity() -> None:
    boat = boat_of(BOX)
    assert tank_list(boat, load()).open == ("Tank",)
    (still,) = still_in_tank(boat, load())
    assert still.litres is None


def test_what_was_drawn_into_cans_is_not_still_in_the_tank() -> None:
    can = Item(key="c", drawn_from="i", volume_l=150, out_at="2026-01-03T10:00:00Z")
    (still,) = still_in_tank(boat_of(BOX, dip(density_kg_m3=840), cans=(can,)), load())
    assert still.litres is not None
    assert still.litres.likely == pytest.approx(0)
