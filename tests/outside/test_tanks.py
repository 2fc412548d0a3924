"""Tank volumes, volume correction and densities against what others publish or compute.

* `fluids` (PyPI, C. Bell): class TANK, an independent implementation of Jones' formulas.
* D. Jones, "Calculating Tank Volume", webcalc.com.br/blog/Tank_Volume.PDF: worked examples in
  inches and US gallons, also quoted in the documentation of `fluids`; read 2026-11-25.
* Table 54B of ASTM D1250-80 as used in published calculations; address beside each row.
* Density of water: CRC Handbook of Chemistry and Physics, 53rd edition, page F4, as reproduced at
  de.scribd.com/document/434940524; read 2026-11-25.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from fluids import TANK

from shedtally.domain.tanks.forms import box, cylinder, dish_depth, v_bottom, wedge
from shedtally.domain.tanks.liquid import density_at, products_factor
from shedtally.domain.tanks.shape import Surface
from shedtally.rules.load import load

HEADS: dict[str, dict[str, Any]] = {
    "flat": {},
    "dished": {
        "sideA": "ellipsoidal", "sideB": "ellipsoidal", "sideA_a": 0.15, "sideB_a": 0.15,
    },
    "torispherical 6 %": {
        "sideA": "torispherical", "sideB": "torispherical",
        "sideA_f": 1, "sideA_k": 0.06, "sideB_f": 1, "sideB_k": 0.06,
    },
    "torispherical 10 %": {
        "sideA": "torispherical", "sideB": "torispherical",
        "sideA_f": 1, "sideA_k": 0.1, "sideB_f": 1, "sideB_k": 0.1,
    },
}  # fmt: skip


@pytest.mark.parametrize("standing", [False, True])
@pytest.mark.parametrize("head", HEADS)
def test_cylinders_agree_with_fluids_within_a_ten_thousandth(head: str, standing: bool) -> None:
    ours = cylinder(600, 1200, head, 150 if head == "dished" else None, standing=standing)
    theirs = TANK(D=0.6, L=1.2, horizontal=not standing, **HEADS[head])
    assert ours.capacity_l == pytest.approx(theirs.V_total * 1000, rel=1e-6)
    assert ours.height_mm == pytest.approx(theirs.h_max * 1000, rel=1e-9)
    for step in range(1, 26):
        level = ours.height_mm * step / 25
        expected = theirs.V_from_h(min(level / 1000, theirs.h_max)) * 1000
        assert ours.litres(Surface(level)) == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize(
    ("head", "dish", "gallons"),
    [("dished", 42 * 25.4, 2380.96), ("torispherical 6 %", None, 2028.63)],
)
def test_published_worked_examples_of_lying_tanks(
    head: str, dish: float | None, gallons: float
) -> None:
    tank = cylinder(108 * 25.4, 156 * 25.4, head, dish, standing=False)
    us_gallon_l = 231 * 0.254**3
    assert tank.litres(Surface(36 * 25.4)) == pytest.approx(gallons * us_gallon_l, rel=1e-5)


def test_depth_of_torispherical_ends() -> None:
    """Against the depth that `fluids` works out for its own tanks."""
    for head, k in (("torispherical 6 %", 0.06), ("torispherical 10 %", 0.1)):
        theirs = TANK(
            D=0.6, L=1.2, horizontal=True, sideA="torispherical", sideB="torispherical",
            sideA_f=1, sideA_k=k, sideB_f=1, sideB_k=k,
        )  # fmt: skip
        assert dish_depth(600, head) == pytest.approx(theirs.sideA_a * 1000, rel=1e-9)


@pytest.mark.parametrize(
    ("tank", "level", "litres"),
    [
        # School geometry: area of a triangle, trapezoid or box, times the length.
        (wedge(1200, 0, 800, 500), 100, 9.6),
        (wedge(1200, 0, 800, 500), 250, 60.0),
        (wedge(1500, 300, 900, 600), 150, 84.375),
        (wedge(1500, 300, 900, 600), 300, 202.5),
        (box(1200, 600, 500), 300, 216.0),
        (v_bottom(1000, 600, 500, 200), 200, 60.0),
        (v_bottom(1000, 600, 500, 200), 500, 240.0),
    ],
)
def test_prisms_by_school_geometry(tank: Any, level: float, litres: float) -> None:
    assert tank.litres(Surface(level)) == pytest.approx(litres, rel=1e-12)


def test_a_tilted_box_has_the_depth_at_its_middle() -> None:
    """Exact while the surface meets all four walls: school geometry."""
    slope = math.tan(math.radians(4))
    tank = box(1200, 600, 500)
    assert tank.litres(Surface(300 + 500 * slope, slope)) == pytest.approx(241.174, abs=0.001)


def test_a_tilted_box_with_a_dry_floor_is_a_triangle() -> None:
    slope = 0.5
    wet = box(1000, 400, 800).litres(Surface(-0.25 * 1000 * slope, slope))
    assert wet == pytest.approx(0.5 * 250 * 125 * 400 / 1e6, rel=1e-12)


@pytest.mark.parametrize(
    ("density", "celsius", "factor"),
    [
        (721.4, 22.0, 0.9911),  # geocaching.com/geocache/GC1RNPT, cargo figures
        (842.8, 22.5, 0.9937),  # the same
        (884.0, 26.0, 0.9913),  # de.scribd.com/doc/56046151
        (870.6, 26.0, 0.9911),  # the same
        (992.0, 36.0, 0.9857),  # fr.scribd.com/document/370250180
        (990.3, 34.0, 0.9870),  # sevensurveyor.com/bunker-survey-calculation
    ],
)
def test_volume_correction_as_published(density: float, celsius: float, factor: float) -> None:
    assert round(products_factor(density, celsius), 4) == factor


def test_a_published_bunker_calculation() -> None:
    """161.28 m3 at 36 °C, 992 kg/m3: 157.53 t in air; fr.scribd.com/document/370250180."""
    in_air = 161.28 * round(products_factor(992.0, 36.0), 4) * (992.0 - 1.1) / 1000
    assert in_air == pytest.approx(157.53, abs=0.005)


@pytest.mark.parametrize(
    ("celsius", "density"),
    [(0, 999.841), (5, 999.965), (7, 999.902), (10, 999.700), (12, 999.498), (15, 999.099)],
)
def test_water_by_the_handbook(celsius: float, density: float) -> None:
    water = load().liquids["fresh-water"]
    # Straight lines between rows five degrees apart: within 0.1 kg/m3.
    assert density_at(water, 999.1, celsius) == pytest.approx(density, abs=0.1)


def test_densities_lie_where_the_standards_for_fuel_say() -> None:
    """EN 590: 820 to 845 kg/m3; EN 228:2012: 720 to 775 kg/m3; both at 15 °C."""
    liquids = load().liquids
    assert 820 <= liquids["diesel"].density.likely <= 845
    assert (liquids["petrol"].density.low, liquids["petrol"].density.high) == (720, 775)
