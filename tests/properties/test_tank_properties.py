"""What holds for every tank, level and tilt."""

from __future__ import annotations

import datetime
import itertools
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Boat, Item, Sounding, Tank
from shedtally.domain.tally.masses import mass_list
from shedtally.domain.tanks.contents import with_contents
from shedtally.domain.tanks.forms import cylinder, v_bottom, wedge
from shedtally.domain.tanks.held import tank_list
from shedtally.domain.tanks.shape import Surface, TankShape
from shedtally.domain.waste.by_stream import waste_list
from shedtally.rules.load import load

SIZE = st.floats(100, 3000)
SHARE = st.floats(0, 1)
SLOPE = st.floats(-0.4, 0.4)
HEADS = st.sampled_from(["flat", "dished", "torispherical 6 %", "torispherical 10 %"])


@st.composite
def tanks(draw: st.DrawFn) -> TankShape:
    sort = draw(st.sampled_from(["wedge", "v", "lying", "standing"]))
    length, width, height = draw(SIZE), draw(SIZE), draw(SIZE)
    if sort == "wedge":
        return wedge(length, draw(SHARE) * width, width, height)
    if sort == "v":
        return v_bottom(length, width, height, height * draw(st.floats(0.05, 1)))
    return cylinder(width, length, draw(HEADS), None, standing=sort == "standing")


@settings(deadline=None)
@given(tanks(), SHARE, SHARE)
def test_volume_grows_with_the_level(tank: TankShape, one: float, other: float) -> None:
    levels = sorted((one, other, *(n / 20 for n in range(21))))
    litres = [tank.litres(Surface(tank.height_mm * share)) for share in levels]
    for less, more in itertools.pairwise(litres):
        assert less <= more + 1e-9 * tank.capacity_l


@settings(deadline=None)
@given(tanks(), SHARE, SHARE, SLOPE, SLOPE)
def test_tilted_volume_grows_with_the_level(
    tank: TankShape, one: float, other: float, x: float, y: float
) -> None:
    levels = sorted((one, other, *(n / 8 for n in range(9))))
    litres = [tank.litres(Surface(tank.height_mm * share, x, y)) for share in levels]
    for less, more in itertools.pairwise(litres):
        assert less <= more + 1e-6 * tank.capacity_l


@settings(deadline=None)
@given(tanks(), SLOPE, SLOPE)
def test_empty_and_full_are_exact(tank: TankShape, x: float, y: float) -> None:
    assert abs(tank.litres(Surface(tank.height_mm)) - tank.capacity_l) <= 1e-12 * tank.capacity_l
    assert tank.litres(Surface(tank.height_mm + 1e5, x, y)) <= tank.capacity_l
    assert tank.litres(Surface(tank.height_mm + 1e5, x, y)) >= tank.capacity_l * (1 - 1e-12)
    assert tank.litres(Surface(-1e5, x, y)) == 0


@settings(deadline=None)
@given(tanks(), SHARE, SLOPE, SLOPE)
def test_mirrored_tilt_holds_the_same(tank: TankShape, share: float, x: float, y: float) -> None:
    level = tank.height_mm * share
    here = tank.litres(Surface(level, x, y))
    for mirrored in (Surface(level, -x, y), Surface(level, x, -y)):
        assert abs(tank.litres(mirrored) - here) <= 1e-6 * tank.capacity_l


@settings(deadline=None)
@given(tanks(), SHARE)
def test_hardly_any_tilt_is_no_tilt(tank: TankShape, share: float) -> None:
    level = tank.height_mm * share
    tilted = tank.litres(Surface(level, 1e-9, 1e-9))
    assert abs(tilted - tank.litres(Surface(level))) <= 1e-5 * tank.capacity_l


@settings(deadline=None, max_examples=30)
@given(st.lists(st.floats(1, 200), min_size=1, max_size=6), st.integers(1, 500))
def test_litres_are_conserved_over_cans(cans: list[float], level: int) -> None:
    items = {f"c{at}": Item(key=f"c{at}", drawn_from="i", volume_l=v) for at, v in enumerate(cans)}
    items["i"] = Item(key="i", name="Tank")
    tank = Tank(
        key="t", of="i", shape="box", length_mm=1000, width_mm=600, height_mm=500, liquid="diesel"
    )
    sounding = Sounding(key="s", tank="t", how="dip", level_mm=level, on="2026-01-01T10:00:00Z")
    boat = BoatRecords(
        boat=Boat(key="b"), items=items, tanks={"t": tank}, soundings={"s": sounding}
    )
    (line,) = tank_list(boat, load()).tanks
    balance = line.balance
    assert balance.before is not None
    assert balance.left is not None
    assert abs(balance.left.likely - max(0.0, balance.before.likely - sum(cans))) < 1e-6
    assert (sum(cans) > balance.before.high) == ("more than the" in balance.said)


RULES = load()


@st.composite
def sounded_boats(draw: st.DrawFn) -> BoatRecords:
    """A diesel tank, sounded a few times, and cans on any day, with and without their tank."""
    day = st.integers(1, 9).map(lambda n: f"2026-01-0{n}T10:00:00Z")
    soundings = {}
    for n in range(draw(st.integers(1, 3))):
        level = draw(st.integers(0, 500))
        soundings[f"s{n}"] = Sounding(
            key=f"s{n}", tank="t", how="dip", level_mm=level, on=draw(day),
            sludge_mm=draw(st.integers(0, level)), temperature_c=draw(st.sampled_from([None, 5.0])),
        )  # fmt: skip
    items = {"i": Item(key="i", name="Tank", compartment="bilge", whereabouts="aboard")}
    for n in range(draw(st.integers(0, 4))):
        items[f"c{n}"] = Item(
            key=f"c{n}", kind=draw(st.sampled_from(["old-diesel", None])), compartment="bilge",
            whereabouts="ashore", volume_l=draw(st.floats(0.5, 15)),
            out_at=draw(st.one_of(st.none(), day)), drawn_from="i",
        )  # fmt: skip
    tank = Tank(
        key="t", of="i", shape="box", length_mm=1000, width_mm=600, height_mm=500, liquid="diesel"
    )
    return BoatRecords(boat=Boat(key="b"), items=items, tanks={"t": tank}, soundings=soundings)


def kilograms(boat: BoatRecords) -> dict[str, float]:
    return {key: kg for key, (kg, _) in with_contents(boat, RULES).masses.estimates.items()}


@settings(deadline=None, max_examples=60)
@given(sounded_boats(), st.floats(0.5, 20))
def test_drawing_into_a_can_moves_litres_and_kilograms_and_makes_none(
    boat: BoatRecords, litres: float
) -> None:
    """Filling one can more after the last sounding: what it has, the tank has less."""
    can = Item(key="new", drawn_from="i", volume_l=litres, kind="old-diesel", compartment="bilge",
               whereabouts="ashore", out_at="2026-01-20T10:00:00Z")  # fmt: skip
    after = replace(boat, items={**boat.items, "new": can})
    (line,), (then,) = tank_list(boat, RULES).tanks, tank_list(after, RULES).tanks
    assert line.still_in is not None
    assert then.still_in is not None
    left = max(0.0, line.still_in.likely - litres)
    assert abs(then.still_in.likely - left) < 1e-9
    had, have = kilograms(boat), kilograms(after)
    if line.sludge_in and litres <= line.still_in.likely - line.sludge_in.likely:
        assert abs(sum(have.values()) - sum(had.values())) < 1e-6


@settings(deadline=None, max_examples=60)
@given(sounded_boats(), st.integers(0, 500))
def test_one_sounding_more_takes_the_place_of_those_before(boat: BoatRecords, level: int) -> None:
    """Sounding again never adds: only the last one and what was drawn since it say what is in."""
    again = Sounding(key="z", tank="t", how="dip", level_mm=level, on="2026-02-01T10:00:00Z")
    after = replace(boat, soundings={**boat.soundings, "z": again})
    undated = sum(
        row.volume_l or 0 for row in boat.items.values() if row.drawn_from and not row.out_at
    )
    (line,) = tank_list(after, RULES).tanks
    assert line.still_in is not None
    assert abs(line.still_in.likely - max(0.0, 0.6 * level - undated)) < 1e-6
    # What is in cans is the same as before, but for the density that the sounding may change.
    had, have = kilograms(boat), kilograms(after)
    for key in boat.items:
        assert abs(have[key] - had[key]) <= 0.02 * had[key]


@settings(deadline=None, max_examples=60)
@given(sounded_boats(), st.sampled_from(["old-diesel", "fuel-sludge"]), st.booleans())
def test_an_item_that_stands_for_a_part_is_counted_in_its_place(
    boat: BoatRecords, kind: str, measured: bool
) -> None:
    named = Item(key="n", kind=kind, compartment="bilge", whereabouts="aboard",
                 volume_l=33.0 if measured else None)  # fmt: skip
    after = replace(boat, items={**boat.items, "n": named})
    part = "tank/i" if kind == "old-diesel" else "sludge/i"
    had, have = kilograms(boat), kilograms(after)
    assert part not in have
    others = {key: kg for key, kg in had.items() if key != part}
    assert {key: kg for key, kg in have.items() if key != "n"} == others
    if not measured:
        assert abs(have["n"] - had.get(part, 0.0)) < 1e-9


@settings(deadline=None, max_examples=40)
@given(sounded_boats())
def test_the_list_of_masses_and_the_waste_list_have_each_litre_once(boat: BoatRecords) -> None:
    masses = mass_list(boat, RULES)
    known = kilograms(boat)
    assert sorted(row.key for row in masses.items) == sorted(known)
    assert abs(masses.total.likely - sum(known.values())) < 1e-6
    waste = waste_list(boat, RULES, "eu", "household", datetime.date(2026, 3, 1))
    keys = [row.key for stream in waste.streams for row in stream.items]
    assert len(keys) == len(set(keys))
    of_waste = sum(kg for key, kg in known.items() if key in keys)
    assert abs(waste.on_site.likely + waste.gone.likely - of_waste) < 1e-6
