"""Sling tensions and hydrostatics against published tables and worked examples.

Sources:
* leg factors by angle: ashleysling.com/calculating-sling-angles (factor = 1 / sin of the angle to
  the horizontal); the examples of 1000 lb at
  liftpro.com and of 1200 lb at ashleysling.com.
* load factors of slings: EN 13414-1, table 4, as reprinted.
* Barrass and Derrett, Ship Stability for Masters and Mates: the ship of 120 m that discharges
  220 t, TPC and water densities, and the loads of p. 148.
* a box: no published example, its area, BM and MCT follow from its sides by the formulas.
"""

from __future__ import annotations

import math

import pytest

from shedtally.domain.floating import hydrostatics as hydro
from shedtally.domain.lifting.lifts import uniform_times
from shedtally.domain.lifting.sling import Point, equal_legs, hang, two_legs
from shedtally.rules.load import load

FACTORS = [
    (90, 1.000), (85, 1.004), (80, 1.015), (75, 1.035), (70, 1.064), (65, 1.104), (60, 1.155),
    (55, 1.221), (50, 1.305), (45, 1.414), (40, 1.555), (35, 1.742), (30, 2.000),
]  # fmt: skip
UNIFORM = [
    (1, 0, 1.0), (2, 30, 1.4), (2, 45, 1.4), (2, 50, 1.0), (2, 60, 1.0),
    (3, 45, 2.1), (3, 60, 1.5), (4, 45, 2.1), (4, 60, 1.5),
]  # fmt: skip


@pytest.mark.parametrize(("horizontal", "factor"), FACTORS)
def test_a_leg_pulls_what_the_published_factor_says(horizontal: float, factor: float) -> None:
    # The row of 35 degrees is 1 over its own rounded share, 0.574; the others are right to one in
    # the last place.
    off = 0.0015 if horizontal == 35 else 0.001
    assert equal_legs(1.0, 1, 90 - horizontal) == pytest.approx(factor, abs=off)
    if horizontal < 90:
        up = math.tan(math.radians(horizontal))
        hung = hang(2.0, Point(0, 0, -0.5), Point(0, 0, up), [Point(-1, 0, 0), Point(1, 0, 0)])
        assert hung.legs[0].tension_kg == pytest.approx(factor, abs=off)
        assert hung.legs[0].angle_deg == pytest.approx(90 - horizontal)


def test_published_examples_of_two_legs() -> None:
    assert two_legs(1000, 30, 30)[0] == pytest.approx(577, abs=1)
    assert two_legs(1000, 45, 45)[1] == pytest.approx(707, abs=1)
    # 1200 lb a sling, 120 in long, 96 in high: factor 1.25, 1500 lb.
    assert equal_legs(1200, 1, math.degrees(math.acos(96 / 120))) == pytest.approx(1500)


@pytest.mark.parametrize(("legs", "angle", "times"), UNIFORM)
def test_factors_of_the_standard(legs: int, angle: float, times: float) -> None:
    assert uniform_times(load().lifting, legs, angle) == times


# EN 13414-1, Table 4, as reprinted: working loads in tonnes of slings of 16 mm rope, by legs and
# the angle from the vertical that they are used up to.
ROPE_16_MM = [
    (1, 0, 3.00),
    (2, 45, 4.20),
    (2, 60, 3.00),
    (3, 45, 6.30),
    (4, 45, 6.30),
    (4, 60, 4.50),
]


@pytest.mark.parametrize(("legs", "angle", "tonnes"), ROPE_16_MM)
def test_the_standard_s_example_of_a_16_mm_rope(legs: int, angle: int, tonnes: float) -> None:
    times = uniform_times(load().lifting, legs, angle)
    assert times is not None
    assert 3.0 * times == pytest.approx(tonnes, abs=0.005)


def test_the_standard_s_factor_of_two_legs_is_no_more_than_statics() -> None:
    assert 2 * math.cos(math.radians(45)) == pytest.approx(1.4, abs=0.015)
    assert 2 * math.cos(math.radians(60)) == pytest.approx(1.0)
    assert 3 * math.cos(math.radians(45)) == pytest.approx(2.1, abs=0.022)
    assert 3 * math.cos(math.radians(60)) == pytest.approx(1.5)


def test_beyond_sixty_degrees_the_standard_has_no_factor() -> None:
    assert uniform_times(load().lifting, 2, 61) is None


class TestDerrettsShip:
    """120 m, 6.70 m forward and 7.30 m aft, MCT 250 tm/cm, TPC 10, floating about midships."""

    def test_rise(self) -> None:
        assert hydro.sinkage_cm(-220_000, 10_000) == pytest.approx(-22)

    def test_change_of_trim(self) -> None:
        assert hydro.trim_cm(220_000 * 24, 250_000) == pytest.approx(21.12)

    def test_drafts(self) -> None:
        fore, aft = hydro.at_the_ends(-22, 21.12, 120, 60)
        assert 6.70 + fore / 100 == pytest.approx(6.3744)
        assert 7.30 + aft / 100 == pytest.approx(7.1856)


def test_waterplane_of_a_tpc_of_30() -> None:
    """Sea water 1.025: 2926.8 m2; in 1.020 the same plane has a TPC of 29.85."""
    assert hydro.kg_per_cm(2926.83, 1025) / 1000 == pytest.approx(30, abs=0.001)
    assert hydro.kg_per_cm(2926.83, 1020) / 1000 == pytest.approx(29.85, abs=0.005)
    assert 19 * hydro.kg_per_cm(2926.83, 1020) / 1000 == pytest.approx(567.15, abs=0.1)


def test_middle_of_mass_after_loading() -> None:
    """A hull of 8800 t at KG 6.2 m loads 200 t at 1.7 m: 6.10 m (imunotes.in)."""
    assert hydro.centre_after(8800, 6.2, [(200, 1.7)]) == pytest.approx(6.10)


def test_loads_that_leave_the_trim_alone() -> None:
    """Derrett, p. 148: 100 t 24 m aft, 30 t 30 m and 60 t 15 m forward, no change of trim."""
    about = (100 * 24 - 30 * 30 - 60 * 15) / 190
    assert about == pytest.approx(3.16, abs=0.005)
    moment = 100 * (24 - about) + 30 * (-30 - about) + 60 * (-15 - about)
    assert hydro.trim_cm(moment, 1) == pytest.approx(0, abs=1e-9)


def test_a_box_by_its_sides() -> None:
    """20 x 5 m at 2 m: TPC 1.025 t, I 3333.3 m4, BM along 16.67 m, MCT 1.708 tm/cm."""
    second = hydro.second_moment_along(100, 5, 20, 1 / 12)
    assert hydro.kg_per_cm(100, 1025) == pytest.approx(1025)
    assert second == pytest.approx(20**3 * 5 / 12)
    assert hydro.bm_m(second, 200) == pytest.approx(20**2 / (12 * 2))
    by_area = hydro.moment_to_trim_of_area(second, 1025, 20)
    assert by_area == pytest.approx(1708.3, abs=0.1)
    assert hydro.moment_to_trim(205_000, 20**2 / (12 * 2), 20) == pytest.approx(by_area)


@pytest.mark.parametrize(
    ("beam", "draught", "bm"), [(5, 2, 25 / 24), (12, 4, 3.0), (10, 2.5, 10 / 3)]
)
def test_bm_of_a_box_is_beam_squared_by_twelve_draughts(
    beam: float, draught: float, bm: float
) -> None:
    length = 30
    assert hydro.bm_m(length * beam**3 / 12, length * beam * draught) == pytest.approx(bm)


def test_list_by_a_weight_moved_across() -> None:
    """tan(list) = w d / (W GM): 20 t 4.5 m across 4000 t with GM 0.45 m is 2.86 degrees."""
    assert hydro.list_deg(20_000 * 4.5, 4_000_000, 0.45) == pytest.approx(2.862, abs=0.001)


def test_densities_of_water() -> None:
    """Barrass and Derrett: sea water 1.025, fresh water 1.000 t/m3."""
    water = load().floating.water
    assert water["sea"].likely == 1025
    assert water["fresh"].low <= 1000 <= water["fresh"].high
