"""Pipes, hoses, cables, chain, batteries and forms against what others published or computed.

Each row names its source. Read on 25 November 2026.
"""

import math

import fluids
import ht
import pytest
from fluids.piping import nearest_pipe, t_from_gauge

from shedtally.domain.masses.estimate import spread_of, sum_of
from shedtally.domain.masses.item_mass import estimate_of, mass_of
from shedtally.domain.masses.section import kg_per_m, nominal_pipe, tube
from shedtally.domain.measures.gauge import gauge_diameter_mm, gauge_from_text
from shedtally.domain.measures.reading import parse_size
from shedtally.domain.records import Item
from shedtally.rules.load import load

RULES = load()
LB = 0.45359237


def mass(**values):
    return mass_of(Item(key="k", **values), RULES)


AWG = "the AWG table of the library fluids (fluids.piping.t_from_gauge)"


@pytest.mark.parametrize("gauge", [0, 1, 2, 3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 24, 30, 36])
def test_a_wire_gauge_has_the_diameter_of_another_table(gauge):
    """The table is rounded to 0.1 thousandth of an inch; thin wires to as much."""
    ours = gauge_diameter_mm(gauge_from_text("1/0" if gauge == 0 else str(gauge))[0])
    theirs = 1000 * t_from_gauge(gauge, SI=True, schedule="AWG")
    assert ours == pytest.approx(theirs, abs=0.00254), AWG


EN1057 = "EN 1057 copper tube, kg/m as listed at halcor.com/products/copper-tubes/talos-gas"


@pytest.mark.parametrize(
    ("outside_mm", "wall_mm", "listed"),
    [
        (10, 1.0, 0.252), (12, 1.0, 0.308), (15, 1.0, 0.391), (15, 1.2, 0.463), (18, 1.0, 0.475),
        (18, 1.2, 0.564), (22, 1.0, 0.587), (22, 1.5, 0.860), (28, 1.5, 1.111), (35, 1.5, 1.405),
        (35, 2.0, 1.845), (42, 1.5, 1.699), (42, 2.0, 2.236), (54, 2.0, 2.908),
    ],
)  # fmt: skip
def test_a_copper_tube_weighs_what_is_listed(outside_mm, wall_mm, listed):
    """8900 kg/m3 is the list's density; the lists round to three places."""
    assert tube(outside_mm, outside_mm - 2 * wall_mm, 8900) == pytest.approx(listed, rel=0.004)
    found = mass(
        form="pipe",
        material="copper",
        diameter_mm=outside_mm,
        thickness_mm=wall_mm,
        length_mm=1000.0,
    )
    assert found.low <= listed <= found.high, EN1057
    assert found.likely == pytest.approx(listed, rel=0.005), EN1057


EN10255 = "EN 10255 medium series, kg/m as reprinted at tuspipe.com/products/pressure-pipe/en-10255"


@pytest.mark.parametrize(
    ("dn", "listed", "light", "heavy"),
    [
        ("DN 8", 0.641, 0.515, 0.765),
        ("DN 10", 0.839, 0.670, 1.020),
        ("DN 15", 1.210, 0.947, 1.440),
        ("DN 20", 1.560, 1.380, 1.870),
        ("DN 25", 2.410, 1.980, 2.940),
        ("DN 32", 3.100, 2.540, 3.800),
        ("DN 40", 3.570, 3.230, 4.380),
        ("DN 50", 5.030, 4.080, 6.190),
    ],
)
def test_a_steel_tube_by_its_name_alone_lies_between_light_and_heavy(dn, listed, light, heavy):
    found = mass(form="pipe", material="mild-steel", size=dn, length_mm=1000.0)
    assert found.likely == pytest.approx(listed, rel=0.01), EN10255
    assert found.low == pytest.approx(light, rel=0.08)
    assert found.high == pytest.approx(heavy, rel=0.08)


B36 = "0.0246615 (D - t) t kg/m and 10.68 (D - t) t lb/ft, reprinted at mahavirtube.com/iss.htm"


@pytest.mark.parametrize("nps", [0.5, 0.75, 1, 1.25, 1.5, 2])
def test_a_schedule_40_pipe_weighs_what_the_formula_of_the_standards_says(nps):
    """Sizes: ASME B36.10M schedule 40, as data of the library fluids (nearest_pipe)."""
    _, inside, outside, wall = nearest_pipe(NPS=nps, schedule="40")
    assert outside - 2 * wall == pytest.approx(inside, abs=1e-6)
    found = mass(
        form="pipe", material="mild-steel", diameter_mm=outside * 1000, thickness_mm=wall * 1000,
        length_mm=1000.0,
    )  # fmt: skip
    metric = 0.0246615 * (outside - wall) * wall * 1e6
    inches = 10.68 * (outside - wall) * wall / 0.0254**2 * LB / 0.3048
    assert found.likely == pytest.approx(metric, rel=1e-4), B36
    assert found.likely == pytest.approx(inches, rel=2e-3), B36


CHAIN = "ISO 4565 / DIN 766 short link, kg/m at chains.ie and uulifting.com/product/din-766-chain"


@pytest.mark.parametrize(
    ("wire_mm", "listed"),
    [(5, 0.5), (6, 0.80), (7, 1.15), (8, 1.40), (10, 2.25), (12, 3.25), (13, 3.90), (14, 4.25)],
)
def test_a_metre_of_chain_weighs_what_is_listed(wire_mm, listed):
    found = mass(kind="anchor-chain", size=f"{wire_mm} mm", length_mm=1000.0)
    assert found.low <= listed <= found.high, CHAIN


@pytest.mark.parametrize(
    ("mm2", "largest_ohm_per_km"),
    [(0.5, 39.0), (1, 19.5), (1.5, 13.3), (2.5, 7.98), (4, 4.95), (6, 3.30), (10, 1.91),
     (16, 1.21), (25, 0.780), (35, 0.554), (50, 0.386), (70, 0.272), (95, 0.206), (120, 0.161)],
)  # fmt: skip
def test_the_least_copper_follows_from_the_resistance_of_iec_60228(mm2, largest_ohm_per_km):
    """Plain class 5, uecables.com/471: a tinned one may have a little less copper still."""
    row = next(row for row in RULES.sizes.conductors if row.mm2 == mm2)
    plain = 17.241 / largest_ohm_per_km
    assert row.copper_mm2.low <= plain * 1.0001
    assert row.copper_mm2.low == pytest.approx(plain, rel=0.04)
    assert row.copper_mm2.high == mm2


WIRE = "copper alone, AWG area at 8.89 g/cm3: ASTM B258 with the density of NBS Handbook 100"


@pytest.mark.parametrize(
    ("gauge", "copper_g_per_m"),
    [("4/0", 953.2), ("1/0", 475.4), ("2", 299.0), ("4", 188.0), ("6", 118.3), ("8", 74.4),
     ("10", 46.8), ("12", 29.4), ("14", 18.5), ("16", 11.6)],
)  # fmt: skip
def test_a_cable_weighs_its_copper_and_some_more(gauge, copper_g_per_m):
    size = parse_size(f"AWG {gauge}")
    rate = kg_per_m("cable", size, RULES.materials["copper"], 0, RULES.sizes)
    assert copper_g_per_m / 1000 < rate.high < 2.2 * copper_g_per_m / 1000, WIRE
    assert rate.likely > 0.97 * copper_g_per_m / 1000, WIRE


BATTERY = "engineerfix.com/what-is-a-group-24-battery: flooded 40-45 lb, AGM 50-55 lb, 70-85 Ah"


@pytest.mark.parametrize(
    ("kind", "amp_hours", "pounds"),
    [("battery-lead-acid", 70, 40), ("battery-lead-acid", 80, 45), ("battery-agm", 80, 50),
     ("battery-agm", 85, 55)],
)  # fmt: skip
def test_a_group_24_battery_weighs_what_is_published(kind, amp_hours, pounds):
    found = mass(kind=kind, capacity_ah=amp_hours, voltage_v=12.0)
    assert found.low <= pounds * LB <= found.high, BATTERY


CELLS = "Wh/kg as published at microtexindia.com/comparison-of-battery-chemistries"


@pytest.mark.parametrize(
    ("material", "wh_per_kg"),
    [("lead-acid-cell", 45), ("lead-acid-cell", 37), ("nickel-cadmium-cell", 45),
     ("nickel-cadmium-cell", 80), ("nickel-metal-hydride-cell", 60),
     ("nickel-metal-hydride-cell", 120)],
)  # fmt: skip
def test_a_cell_holds_the_energy_that_is_published(material, wh_per_kg):
    """The published lower end for lead, 25 Wh/kg, is of starter batteries at a high rate."""
    per = RULES.materials[material].kg_per_wh
    assert per.low <= 1 / wh_per_kg + 1e-3
    assert per.high >= 1 / wh_per_kg - 1e-3


EN12524 = "EN 12524:2000 (rows of ISO 10456), as data of the library ht"


@pytest.mark.parametrize(
    ("form", "material", "row", "sizes", "cubic_metres"),
    [
        ("plate", "mild-steel", "Metals, steel",
         {"length_mm": 1000.0, "width_mm": 500.0, "thickness_mm": 6.0}, 1.0 * 0.5 * 0.006),
        ("round bar", "brass", "Metals, brass",
         {"length_mm": 2000.0, "diameter_mm": 25.0}, math.pi / 4 * 0.025**2 * 2),
        ("cylinder", "lead", "Metals, lead",
         {"length_mm": 400.0, "diameter_mm": 200.0}, math.pi / 4 * 0.2**2 * 0.4),
        ("board", "plywood", "Wood, plywood 700 kg/m^3",
         {"length_mm": 2440.0, "width_mm": 1220.0, "thickness_mm": 18.0}, 2.44 * 1.22 * 0.018),
        ("tank shell", "stainless-316", "Metals, stainless steel",
         {"length_mm": 800.0, "width_mm": 500.0, "height_mm": 400.0, "thickness_mm": 2.0},
         0.8 * 0.5 * 0.4 - 0.796 * 0.496 * 0.396),
    ],
)  # fmt: skip
def test_a_form_weighs_its_volume_at_the_density_of_the_standard(
    form, material, row, sizes, cubic_metres
):
    found = mass(form=form, material=material, **sizes)
    assert found.basis == "calculated"
    assert found.low <= cubic_metres * ht.insulation.rho_material(row) <= found.high, EN12524


@pytest.mark.parametrize(
    ("wall_mm", "diameter", "length"), [(3.0, 400.0, 900.0), (5.0, 500.0, 1200.0)]
)
def test_a_hollow_cylinder_weighs_the_shell_that_another_library_computes(
    wall_mm, diameter, length
):
    """The library fluids, class TANK: outside volume less inside volume."""

    def volume(d, long):
        return fluids.TANK(D=d / 1000, L=long / 1000, horizontal=True).V_total

    shell = volume(diameter, length) - volume(diameter - 2 * wall_mm, length - 2 * wall_mm)
    found = mass(
        form="cylinder", material="mild-steel", diameter_mm=diameter, length_mm=length,
        thickness_mm=wall_mm,
    )  # fmt: skip
    assert found.likely == pytest.approx(shell * 7850, rel=1e-6)


def test_a_sandwich_panel_weighs_its_skins_and_its_core():
    """By hand from densities of EN 12524: 2 x 3 mm of 1430 and 15 mm of 150 kg/m3, 1 m2."""
    found = mass(
        form="cored panel", material="grp", core_material="balsa", length_mm=1000.0,
        width_mm=1000.0, thickness_mm=21.0, core_mm=15.0,
    )  # fmt: skip
    assert found.likely == pytest.approx(0.006 * 1430 + 0.015 * 150)


@pytest.mark.parametrize("bore_mm", [5.0, 6.0, 7.0, 8.0, 8.9])
def test_the_wall_of_a_small_fuel_hose_is_within_the_spread(bore_mm):
    """SAE J2387, 20R3 standard wall, bore 5 to under 9 mm: reference wall 3.5 mm (tnlab.org)."""
    found = mass(kind="hose-fuel", size=f"{bore_mm} mm", length_mm=1000.0)
    density = RULES.materials["rubber-nitrile"].density
    assert found.low <= tube(bore_mm + 7.0, bore_mm, density.likely) <= found.high


def test_independent_errors_add_as_the_guide_to_uncertainty_says():
    """JCGM 100:2008 (GUM), 5.1.2: squares for what is independent; 5.2.2 note 1: straight sums
    where the correlation is 1, as for parts measured with one and the same device."""
    by_eye = [estimate_of(Item(key=key, mass_kg=10.0), RULES) for key in "abcd"]
    assert sum_of(by_eye).high - 40 == pytest.approx(5 * math.sqrt(4))
    one_scale = [estimate_of(Item(key=k, mass_kg=10.0, mass_how="weighed"), RULES) for k in "abcd"]
    assert sum_of(one_scale).high - 40 == pytest.approx(0.2 * 4)
    assert spread_of(one_scale[0]).high == pytest.approx(10.2)


def test_a_pipe_thread_names_its_pipe():
    """EN 10255: thread size 3/4 is DN 20, outside 26.9 mm; 1 is DN 25, 33.7 mm (mean of limits)."""
    row = nominal_pipe(parse_size("3/4 BSP"), "mild-steel", RULES.sizes)
    assert row.outside_mm == pytest.approx(26.9, abs=0.1)
    assert nominal_pipe(parse_size("DN 25"), "mild-steel", RULES.sizes).outside_mm == pytest.approx(
        33.7, abs=0.15
    )
