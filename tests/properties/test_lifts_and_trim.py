"""Forces balance, tension grows with the angle, what came off and went back changes nothing."""

from __future__ import annotations

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.aboard.position import Position
from shedtally.domain.boat import BoatRecords
from shedtally.domain.floating.ledger import Entry, mass_of_all, moment_off
from shedtally.domain.floating.trim import trim_list
from shedtally.domain.lifting.lifts import lift_list
from shedtally.domain.lifting.sling import NotHung, Point, hang, two_legs
from shedtally.domain.masses.estimate import Cause, Origin, difference
from shedtally.domain.records import Boat, Eye, Item, Lift, Sounding, Tank
from shedtally.domain.rulebook import Three
from shedtally.rules.load import load

masses = st.floats(1, 5000)
places = st.floats(-3, 3)
BOAT = Boat(key="b", length_m=11.2, beam_m=3.5, draught_m=1.55, displacement_kg=9000, gm_m=1.0)


def legs_up(hook: Point, eyes: list[Point], tensions: list[float]) -> Point:
    total = Point(0, 0, 0)
    for eye, kg in zip(eyes, tensions, strict=True):
        total = total.plus(hook.less(eye).unit.times(kg))
    return total


@given(mass=masses, share=st.tuples(*[st.floats(0.05, 1)] * 3), up=st.floats(0.8, 4))
def test_three_legs_carry_exactly_the_load(
    mass: float, share: tuple[float, float, float], up: float
) -> None:
    eyes = [Point(0, 0, 0), Point(1.2, 0, 0.1), Point(0.5, 1, 0)]
    whole = sum(share)
    at = Point(0, 0, 0)
    for part, eye in zip(share, eyes, strict=True):
        at = at.plus(eye.times(part / whole))
    hook = Point(at.aft, at.off, up)
    hung = hang(mass, Point(at.aft, at.off, -0.3), hook, eyes)
    pull = legs_up(hook, eyes, [leg.tension_kg for leg in hung.legs])
    assert pull.up == pytest.approx(mass)
    assert math.hypot(pull.aft, pull.off) == pytest.approx(0, abs=1e-6 * mass)
    assert hung.tilt_deg == pytest.approx(0, abs=1e-5)


@given(mass=masses, share=st.floats(0.05, 0.95), up=st.floats(0.6, 4), rise=st.floats(-0.2, 0.2))
def test_two_legs_carry_exactly_the_load(mass: float, share: float, up: float, rise: float) -> None:
    eyes = [Point(0, 0, 0), Point(1, 0, rise)]
    hook = Point(share, 0, up)
    hung = hang(mass, Point(share, 0, -0.5), hook, eyes)
    pull = legs_up(hook, eyes, [leg.tension_kg for leg in hung.legs])
    assert pull.up == pytest.approx(mass)
    assert pull.aft == pytest.approx(0, abs=1e-6 * mass)
    first = two_legs(mass, *(leg.angle_deg for leg in hung.legs))[0]
    assert hung.legs[0].tension_kg == pytest.approx(first, rel=1e-6)


@given(mass=masses, low=st.floats(0.6, 3), more=st.floats(0.05, 2), legs=st.sampled_from([2, 3, 4]))
def test_a_wider_angle_pulls_more(mass: float, low: float, more: float, legs: int) -> None:
    turn = 2 * math.pi / legs
    eyes = [Point(math.cos(turn * at), math.sin(turn * at), 0) for at in range(legs)]
    centre = Point(0, 0, -0.2)
    wide = hang(mass, centre, Point(0, 0, low), eyes).legs
    narrow = hang(mass, centre, Point(0, 0, low + more), eyes).legs
    assert all(one.tension_kg > other.tension_kg for one, other in zip(wide, narrow, strict=True))
    assert wide[0].angle_deg > narrow[0].angle_deg


@given(aside=st.floats(0.01, 0.3), drop=st.floats(0.5, 3))
def test_a_hook_beside_the_middle_tilts_the_load(aside: float, drop: float) -> None:
    eyes = [Point(-1, -1, 0.1), Point(1, -1, 0.1), Point(0, 1, 0.1)]
    hung = hang(100, Point(0, 0, 0), Point(aside, 0, drop), eyes)
    assert hung.tilt_deg == pytest.approx(math.degrees(math.atan2(aside, drop)))
    assert hung.swing_m == pytest.approx(aside)


@given(side=st.floats(1.2, 5))
def test_a_middle_outside_the_eyes_is_refused(side: float) -> None:
    eyes = [Point(-1, -1, 0.1), Point(1, -1, 0.1), Point(0, 1, 0.1)]
    with pytest.raises(NotHung, match="not between the eyes"):
        hang(100, Point(side, 0, 0), Point(side, 0, 4), eyes)


@pytest.mark.parametrize(
    ("centre", "hook", "eyes", "words"),
    [
        ((0, 0, 0), (0, 0, 2), [(0, 0, 1), (0, 0, 1)], "same place"),
        ((0, 0, 0), (0, 0, 0.5), [(-1, 0, 1), (1, 0, 1)], "not above an eye"),
        ((0, 0, 2), (0, 0, 3), [(0, 0, 1)], "would turn over"),
        ((0, 0, 0), (0, 0, 2), [], "1 to 4 legs"),
    ],
)
def test_what_cannot_hang_is_refused_with_the_way_out(
    centre: tuple[float, ...],
    hook: tuple[float, ...],
    eyes: list[tuple[float, ...]],
    words: str,
) -> None:
    with pytest.raises(NotHung, match=words):
        hang(100, Point(*centre), Point(*hook), [Point(*eye) for eye in eyes])


def one_lift(hook_up: float, mass: float | None = 250.0) -> BoatRecords:
    item = Item(key="e", name="Engine", mass_kg=mass, mass_how="plate", aft_m=6, off_m=0, up_m=0.8)
    return BoatRecords(
        boat=BOAT,
        items={"e": item},
        lifts={"l": Lift(key="l", of="e", hook_up_m=hook_up)},
        eyes={
            "1": Eye(key="1", lift="l", aft_m=5.6, off_m=0, up_m=1.2),
            "2": Eye(key="2", lift="l", aft_m=6.4, off_m=0, up_m=1.2),
        },
    )


def test_sixty_degrees_is_the_limit() -> None:
    assert "60° is" in lift_list(one_lift(1.2 + 0.2), load()).lifts[0].refused
    assert lift_list(one_lift(1.2 + 0.25), load()).lifts[0].refused == ""


def test_no_mass_is_refused_and_the_entry_is_there() -> None:
    for boat in (one_lift(2.5, None), one_lift(2.5, 0.0)):
        (line,) = lift_list(boat, load()).lifts
        assert "weigh it" in line.refused
        assert line.key == "l"


@given(kg=masses, part=st.floats(0.1, 0.5))
def test_what_came_off_hangs_no_more_and_comes_back_whole(kg: float, part: float) -> None:
    boat = one_lift(2.5, kg)
    on = Item(key="p", part_of="e", mass_kg=kg * part, mass_how="weighed", whereabouts="aboard")
    off = dataclasses.replace(on, whereabouts="ashore")
    with_it = dataclasses.replace(boat, items={**boat.items, "p": on})
    without = dataclasses.replace(boat, items={**boat.items, "p": off})
    rules = load()
    assert lift_list(without, rules).lifts[0].mass.likely == pytest.approx(kg * (1 - part))
    assert lift_list(with_it, rules).lifts[0].mass.likely == pytest.approx(kg)


@given(kg=st.floats(1, 300), aft=st.floats(0, 11), off=st.floats(-1.5, 1.5))
def test_off_and_back_changes_nothing(kg: float, aft: float, off: float) -> None:
    item = Item(
        key="i", mass_kg=kg, mass_how="weighed", aft_m=aft, off_m=off, up_m=1, whereabouts="ashore",
        fate="refit",
    )  # fmt: skip
    now, after = trim_list(BoatRecords(boat=BOAT, items={"i": item}), load()).states
    assert now.mass.likely == pytest.approx(-kg)
    assert after.mass.likely == 0
    assert after.sinkage_cm is not None
    assert after.sinkage_cm.likely == 0
    assert after.trim_cm is not None
    assert after.trim_cm.likely == 0


@given(kg=st.floats(1, 200), aft=st.floats(3, 8), off=st.floats(0, 1.2))
def test_the_same_off_on_both_sides_gives_no_list(kg: float, aft: float, off: float) -> None:
    pair = {
        key: Item(
            key=key, mass_kg=kg, mass_how="weighed", aft_m=aft, off_m=side, up_m=1,
            whereabouts="ashore",
        )
        for key, side in (("p", -off), ("s", off))
    }  # fmt: skip
    now = trim_list(BoatRecords(boat=BOAT, items=pair), load()).states[0]
    assert now.list_deg is not None
    assert now.list_deg.likely == pytest.approx(0, abs=1e-9)


def test_bad_lines_are_refused_with_the_range() -> None:
    long = dataclasses.replace(BOAT, waterline_m=12.0)
    trim = trim_list(BoatRecords(boat=long), load())
    assert "11.2 m or less" in trim.missing[0]
    assert trim.states[0].sinkage_cm is None
    nothing = trim_list(BoatRecords(boat=Boat(key="b")), load())
    assert "length" in nothing.missing[0]


def test_no_list_without_gm() -> None:
    unknown = dataclasses.replace(BOAT, gm_m=None)
    now = trim_list(BoatRecords(boat=unknown), load()).states[0]
    assert now.list_deg is None
    assert "GM is not known" in now.refused[0]


@given(first=st.floats(1, 500), then=st.floats(0.1, 500), share=st.floats(0, 0.5))
def test_one_density_in_both_adds_straight_and_cancels_when_taken_off(
    first: float, then: float, share: float
) -> None:
    steel = Origin("calculated", "", (Cause("density/steel", share, share),))
    whole, part = (first + then, steel), (then, steel)
    on = difference([whole, part], [])
    assert on.high - on.likely == pytest.approx(share * (first + 2 * then), abs=1e-9)
    off = difference([whole], [part])
    assert off.likely == pytest.approx(first)
    assert off.high - off.likely == pytest.approx(share * first, abs=1e-9)


@given(kgs=st.lists(st.floats(0.1, 500), min_size=1, max_size=5), own=st.floats(0, 0.5))
def test_an_unknown_more_never_makes_a_lift_surer(kgs: list[float], own: float) -> None:
    apart = Origin("guessed", "", own=(own, own))
    rows = [(kg, apart) for kg in kgs]
    less, more = difference(rows[:-1], []), difference(rows, [])
    taken = difference([(1e4, apart)], rows)
    assert more.high - more.low >= less.high - less.low - 1e-9
    assert taken.high - taken.low >= 2 * own * 1e4 - 1e-6


@given(kg=st.floats(1, 200), low=st.floats(0, 0.5), high=st.floats(0, 2), aft=st.floats(0.5, 11))
def test_a_lopsided_doubt_stays_lopsided_in_the_trim(
    kg: float, low: float, high: float, aft: float
) -> None:
    """One item off, of a mass that may be far more than likely: its moment leans the same way."""
    item = Item(key="i", aft_m=aft, off_m=0, up_m=1, whereabouts="ashore")
    at = Position(Three(aft, aft, aft), Three(0, 0, 0), Three(1, 1, 1), "entered", frozenset())
    row = Entry(item, -1, (kg, Origin("guessed", "", own=(low, high))), at)
    mass, moment = mass_of_all([row]), moment_off([replace_off(row, 1.0)])
    assert mass.likely - mass.low == pytest.approx(kg * high)
    assert mass.high - mass.likely == pytest.approx(kg * low)
    assert moment.likely - moment.low == pytest.approx(kg * high)
    assert moment.high - moment.likely == pytest.approx(kg * low)


def replace_off(row: Entry, off: float) -> Entry:
    return dataclasses.replace(row, at=dataclasses.replace(row.at, off_m=Three(off, off, off)))


@given(level=st.integers(10, 400))
def test_a_tank_is_lifted_with_what_is_still_in_it(level: int) -> None:
    boat = one_lift(2.5, 40.0)
    tank = Tank(key="t", of="e", shape="box", length_mm=1000, width_mm=500, height_mm=400,
                liquid="diesel")  # fmt: skip
    dip = Sounding(key="s", tank="t", how="dip", level_mm=level, on="2026-01-01",
                   temperature_c=15, density_kg_m3=840)  # fmt: skip
    filled = dataclasses.replace(boat, tanks={"t": tank}, soundings={"s": dip})
    (line,) = lift_list(filled, load()).lifts
    assert line.mass.likely == pytest.approx(40 + 0.5 * level * 0.84)
    assert [part.why for part in line.parts] == ["still in it"]


@given(level=st.integers(10, 400), litres=st.integers(1, 5))
def test_what_is_in_a_tank_comes_off_and_leaves_with_it_and_drawing_moves_no_mass(
    level: int, litres: int
) -> None:
    tank = Tank(key="t", of="e", shape="box", length_mm=1000, width_mm=500, height_mm=400,
                liquid="diesel")  # fmt: skip
    dip = Sounding(key="s", tank="t", how="dip", level_mm=level, on="2026-01-01T10:00:00Z",
                   temperature_c=15, density_kg_m3=840)  # fmt: skip
    boat = dataclasses.replace(one_lift(2.5, 40.0), tanks={"t": tank}, soundings={"s": dip})
    rules, kg = load(), 0.5 * level * 0.84

    def off(state: int, **more: Item) -> float:
        items = {**boat.items, **more}
        return trim_list(dataclasses.replace(boat, items=items), rules).states[state].mass.likely

    engine = boat.items["e"]
    ashore = dataclasses.replace(engine, whereabouts="ashore")
    can = Item(key="c", drawn_from="e", volume_l=litres, whereabouts="ashore", kind="old-diesel",
               out_at="2026-01-02T10:00:00Z")  # fmt: skip
    assert off(0) == pytest.approx(0)
    assert off(0, e=ashore) == pytest.approx(-40 - kg)
    assert off(0, e=ashore, c=can) == pytest.approx(-40 - kg)
    assert off(0, c=can) == pytest.approx(-litres * 0.84)
    assert off(1, e=dataclasses.replace(engine, fate="sell")) == pytest.approx(-40 - kg)
    assert off(1, e=dataclasses.replace(ashore, fate="refit")) == pytest.approx(0)
    assert off(0, e=dataclasses.replace(engine, never_aboard=True)) == pytest.approx(40 + kg)
