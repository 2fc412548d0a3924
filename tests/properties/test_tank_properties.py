"""What holds for every tank, level and tilt."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Boat, Item, Sounding, Tank
from shedtally.domain.tank_forms import cylinder, v_bottom, wedge
from shedtally.domain.tank_shape import Surface, TankShape
from shedtally.domain.tanks import tank_list
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
    low, high = sorted((one, other))
    less, more = (tank.litres(Surface(tank.height_mm * share)) for share in (low, high))
    assert less <= more + 1e-9 * tank.capacity_l


@settings(deadline=None)
@given(tanks(), SHARE, SHARE, SLOPE, SLOPE)
def test_tilted_volume_grows_with_the_level(
    tank: TankShape, one: float, other: float, x: float, y: float
) -> None:
    low, high = sorted((one, other))
    less, more = (tank.litres(Surface(tank.height_mm * share, x, y)) for share in (low, high))
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
