"""Areas, resistances, amperes, drops and fuses of wires against what others publish.

* Gauges: ASTM B258 as tabled at us.misumi-ec.com/blog/awg-wire-size-table; read 2026-11-25.
* Resistance of gauges at 75 °C, stranded: NEC chapter 9 table 8 as at
  voltdropcalc.com/nec-chapter-9-table-8; read 2026-11-25.
* IEC 60228, class 5, tinned: mycableengineering.com/knowledge-base/iec-60228-dc-resistance (another
  copy than the one that the rules were made from); temperature: uecables.com/471; read 2026-11-25.
* Amperes: 33 CFR 183.425 table 5 at federal.elaws.us; read 2026-11-25.
* Warm air: NEC table 310.15(B)(1) at up.codes/s/correction-factor-for-ambient-temperatures.
* Bundles and engine space at 105 °C: delzer.com/actuant/globalmarinecatalog page 212 and
  cableyutai.com.tw/tech-02.htm (UL 1426).
* Worked drops: address beside each.
"""

from __future__ import annotations

from typing import Any

import pytest

from shedtally.domain.measures.reading import parse_size
from shedtally.domain.records import Item
from shedtally.domain.wiring.load import Load, ambient_share, load_of
from shedtally.domain.wiring.rings import ring_for
from shedtally.domain.wiring.size import bears_a, fit, ohm_per_m, size_wire
from shedtally.rules.load import load

WIRING = load().wiring
FOOT_MM = 304.8
PLAIN: dict[str, Any] = {
    "voltage_v": 12, "critical": True, "duty": "at times", "hot_space": False, "bundled": 2,
    "insulation_c": 105, "sheathed": True,
}  # fmt: skip


def carried(**fields: Any) -> Load:
    run = Item(key="run", **{"load_a": 1.0, "length_mm": 1000, **PLAIN, **fields})
    return load_of(run, False, WIRING)


def bears(gauge: str, **fields: Any) -> float:
    return bears_a(parse_size(f"AWG {gauge}").mm2 or 0, carried(**fields), WIRING)


AREAS = {
    "18": 0.823, "16": 1.31, "14": 2.08, "12": 3.31, "10": 5.26, "8": 8.37, "6": 13.3,
    "3": 26.7, "2": 33.6, "1": 42.4, "1/0": 53.5, "2/0": 67.4, "3/0": 85.0, "4/0": 107.2,
}  # fmt: skip


@pytest.mark.parametrize("gauge", AREAS)
def test_areas_of_gauges_are_those_of_astm_b258(gauge: str) -> None:
    row = next(row for row in WIRING.gauges if row.name == gauge)
    assert row.mm2 == pytest.approx(AREAS[gauge], rel=0.002)


# ohm/km at 75 °C, uncoated stranded copper.
NEC_TABLE_8 = {
    "14": 10.07, "12": 6.332, "10": 3.970, "8": 2.507, "6": 1.611, "4": 1.010, "3": 0.804,
    "2": 0.636, "1": 0.505, "1/0": 0.400, "2/0": 0.317, "3/0": 0.251, "4/0": 0.199,
}  # fmt: skip


@pytest.mark.parametrize("gauge", NEC_TABLE_8)
def test_resistances_of_gauges_at_75_degrees_are_those_of_the_nec(gauge: str) -> None:
    # From AWG 8 the NEC counts 2 to 3 % for the lay of the strands.
    ours = ohm_per_m(parse_size(f"AWG {gauge}"), 75, WIRING) * 1000
    assert ours == pytest.approx(NEC_TABLE_8[gauge], rel=0.026)


# ohm/km at 20 °C.
IEC_60228 = {
    0.5: 40.1, 0.75: 26.7, 1: 20.0, 1.5: 13.7, 2.5: 8.21, 4: 5.09, 6: 3.39, 10: 1.95, 16: 1.24,
    25: 0.795, 35: 0.565, 50: 0.393, 70: 0.277, 95: 0.210, 120: 0.164,
}  # fmt: skip


@pytest.mark.parametrize("mm2", IEC_60228)
def test_metric_resistances_are_those_of_iec_60228(mm2: float) -> None:
    # Published conductance factor at 30 °C: 0.962. Nothing is counted cooler than that.
    ours = ohm_per_m(parse_size(f"{mm2:g} mm2"), 30, WIRING) * 1000
    assert ours * 0.962 == pytest.approx(IEC_60228[mm2], rel=0.001)


@pytest.mark.parametrize(("celsius", "factor"), [(40, 0.926), (50, 0.893), (60, 0.862)])
def test_warm_copper_resists_as_published(celsius: float, factor: float) -> None:
    ours = ohm_per_m(parse_size("2.5 mm2"), celsius, WIRING) * 1000
    assert ours * factor == pytest.approx(8.21, rel=0.003)


CFR_183_425 = """
18 10 10 15 20 20 25 25
16 15 15 20 25 25 30 35
14 20 20 25 30 35 40 45
12 25 25 35 40 45 50 55
10 40 40 50 55 60 70 70
8 55 65 70 70 80 90 100
6 80 95 100 100 120 125 135
4 105 125 130 135 160 170 180
3 120 145 150 155 180 195 210
2 140 170 175 180 210 225 240
1 165 195 210 210 245 265 280
1/0 195 230 245 245 285 305 325
2/0 225 265 285 285 330 355 370
3/0 260 310 330 330 385 410 430
4/0 300 360 385 385 445 475 510
"""


@pytest.mark.parametrize("row", CFR_183_425.strip().splitlines(), ids=lambda row: row.split()[0])
def test_amperes_at_30_degrees_are_those_of_the_federal_rule(row: str) -> None:
    gauge, *amperes = row.split()
    classes = (60, 75, 80, 90, 105, 125, 200)
    ours = [bears(gauge, insulation_c=limit) for limit in classes]
    assert ours == [float(value) for value in amperes]


# Insulation, top of the band of air, published share.
NEC_310 = [
    (60, 35, 0.91), (60, 40, 0.82), (60, 45, 0.71), (60, 50, 0.58),
    (75, 35, 0.94), (75, 40, 0.88), (75, 45, 0.82), (75, 50, 0.75), (75, 55, 0.67), (75, 60, 0.58),
    (90, 35, 0.96), (90, 40, 0.91), (90, 45, 0.87), (90, 50, 0.82), (90, 55, 0.76), (90, 60, 0.71),
    (90, 65, 0.65), (90, 70, 0.58),
]  # fmt: skip


@pytest.mark.parametrize(("insulation", "celsius", "share"), NEC_310)
def test_shares_in_warm_air_are_those_of_the_nec(
    insulation: int, celsius: float, share: float
) -> None:
    at = WIRING.insulation_c.index(insulation)
    assert ambient_share(celsius, at, WIRING) == pytest.approx(share, abs=0.006)


# Gauge, conductors together, through the engine space: amperes at 105 °C.
MARINE_105 = [
    ("18", 2, True, 17.0), ("10", 2, True, 51.0), ("2/0", 2, True, 280.5), ("14", 2, True, 29.8),
    ("6", 3, False, 84.0), ("6", 3, True, 71.4), ("2", 7, True, 89.3), ("2", 24, True, 89.3),
]  # fmt: skip


@pytest.mark.parametrize(("gauge", "together", "hot", "amperes"), MARINE_105)
def test_amperes_in_bundles_and_the_engine_space(
    gauge: str, together: int, hot: bool, amperes: float
) -> None:
    assert bears(gauge, bundled=together, hot_space=hot) == pytest.approx(amperes, abs=0.06)


@pytest.mark.parametrize(
    ("together", "share"), [(2, 1.0), (3, 0.7), (4, 0.6), (6, 0.6), (7, 0.5), (24, 0.5), (25, 0.4)]
)
def test_shares_of_bundles_are_those_of_the_guideline(together: int, share: float) -> None:
    assert carried(bundled=together).bundle_share == share


# Amperes, feet out and back, volts, critical: the gauge that is published for it.
WORKED = [
    # A bilge pump: 11 ft out, 10 back; jamestowndistributors.com, with copper of ASTM B258.
    (10, 21, 12, True, "AWG 12"),
    # The same at 10 %: hollandmarine.com flip-book 2021, page 53.
    (10, 21, 12, False, "AWG 16"),
    # zrd.com/faq/esdfaqwiresize.html
    (45, 40, 12, False, "AWG 8"),
    # Table of 3 % at 12 V: hollandmarine.com flip-book 2022, page 52.
    (5, 15, 12, True, "AWG 16"),
    (5, 20, 12, True, "AWG 14"),
    (40, 20, 12, True, "AWG 6"),
]


@pytest.mark.parametrize(("amps", "feet", "volts", "critical", "gauge"), WORKED)
def test_published_examples_come_out_at_the_published_gauge(
    amps: float, feet: float, volts: float, critical: bool, gauge: str
) -> None:
    run = Item(key="run", **{
        **PLAIN, "load_a": amps, "length_mm": feet * FOOT_MM / 2, "critical": critical,
        "voltage_v": volts,
    })  # fmt: skip
    found = size_wire(run, False, WIRING).gauge
    assert found is not None
    assert found.name == gauge


def test_the_drop_of_a_gauge_is_the_published_formula() -> None:
    # Circular mils = 10.75 I L / E, so E = 10.75 * 10 A * 21 ft / 6530 of AWG 12.
    length = 21 * FOOT_MM / 2
    found = fit(parse_size("AWG 12"), carried(load_a=10, length_mm=length), WIRING)
    assert found.drop_v == pytest.approx(10.75 * 10 * 21 / 6530, rel=0.001)


# mV lost by each ampere and metre of two cores at 70 °C: aaelectricalservices.co.uk/voltage-drop.
BS_7671 = {1.0: 44, 1.5: 29, 2.5: 18, 4: 11, 6: 7.3, 10: 4.4, 16: 2.8}


@pytest.mark.parametrize("mm2", BS_7671)
def test_drops_are_those_of_building_cable_and_a_little_more(mm2: float) -> None:
    # Building cable is solid or of few plain wires; boat cable of many tinned ones, 8 to 11 % more
    # by IEC 60228 itself. The published figures are rounded to two places.
    ours = 2 * 1e6 * ohm_per_m(parse_size(f"{mm2:g} mm2"), 70, WIRING) / 1000
    assert 1.03 * BS_7671[mm2] <= ours <= 1.16 * BS_7671[mm2]


def test_a_steaming_light_loses_what_a_boat_builders_page_says() -> None:
    # eventides.org.uk/tip8.htm: 10 W at 12 V, 12 m of 1.0 mm2 at 40 mV a metre and ampere: 0.4 V.
    found = fit(parse_size("1 mm2"), carried(load_w=10, load_a=None, length_mm=12_000), WIRING)
    assert found.drop_v == pytest.approx(0.4, rel=0.05)


def test_a_masthead_lamp_takes_what_a_chandlers_page_says() -> None:
    # svb-media.de: 25 W on 18 m, 12 V, at most 0.6 V: 2.5 mm2 by the formula with nominal copper.
    # With the copper that IEC 60228 allows, 2.5 mm2 loses more, but under 10 %.
    found = fit(parse_size("2.5 mm2"), carried(load_a=2.1, length_mm=18_000), WIRING)
    nominal = 2 * 18 * 2.1 / (56 * 2.5)
    assert nominal < 0.6
    assert found.drop_v == pytest.approx(nominal, rel=0.25)
    assert found.drop_v > nominal


def test_a_fuse_for_what_runs_for_hours_is_125_percent() -> None:
    # electricalcode.net on NEC 210.20: 15 A asks for 18.75 A, so a breaker of 20 A.
    load_15 = carried(load_a=15, duty="hours")
    assert load_15.fuse_from_a == 18.75
    assert fit(parse_size("AWG 10"), load_15, WIRING).fuses[0] == 20


def test_ratings_from_15_to_500_a_are_those_of_the_nec() -> None:
    published = (
        15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250,
        300, 350, 400, 450, 500,
    )  # fmt: skip
    assert tuple(rating for rating in WIRING.fuses if rating >= 15) == published


@pytest.mark.parametrize(("sheathed", "least"), [(True, "AWG 18"), (False, "AWG 16")])
def test_the_thinnest_gauge_is_that_of_the_federal_rule(sheathed: bool, least: str) -> None:
    # 33 CFR 183.425 (d) and (e).
    run = Item(key="run", **{**PLAIN, "load_a": 1, "length_mm": 500, "sheathed": sheathed})
    found = size_wire(run, False, WIRING).gauge
    assert found is not None
    assert found.name == least


# Conductor, stud: easymanua.ls, table of round solderless terminals (2, 5.5 and 8 mm2).
@pytest.mark.parametrize(
    ("mm2", "stud", "made"),
    [(2, "M4", True), (2, "M8", True), (5.5, "M5", True), (5.5, "M10", False), (8, "M8", True)],
)
def test_rings_are_made_for_the_published_studs(mm2: float, stud: str, made: bool) -> None:
    assert (f"ring {stud}" in ring_for(mm2, stud, WIRING)) is made


# thenewsindependent.com and halleynation.com: studs in inches beside the metric ones.
@pytest.mark.parametrize(
    ("stud", "metric"),
    [("#6", "M3.5"), ("#8", "M4"), ("#10", "M5"), ("1/4 in", "M6"), ("5/16 in", "M8")],
)
def test_studs_in_inches_take_the_ring_next_to_them(stud: str, metric: str) -> None:
    assert ring_for(2.5, stud, WIRING).endswith(f"ring {metric}")
