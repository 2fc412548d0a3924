"""Sizes of plain parts, and hoses by service, against other tables than the rules were made from.

* Metric bolts: hirpa, University of Stavanger, MetricBolts.htm (keys); monsterbolts.com and
  industrialcalc.com (pitches); ingreim.com (spanners to M8). Read 2026-11-26.
* Unified threads: albanycountyfasteners.com, reference tables (threads to the inch).
* Batteries: energy-batteries.com and redwaypower.com (groups in inches);
  erdmanns-reisedienst.de (a 55 Ah battery after EN 60095).
* O-rings: AS568 in inches and its series, utilitiesbunker.com and globaloring.com.
* Fuses: grainews.ca, how to identify blade fuses. Lights: navcen.uscg.gov, rule 22.
* Hoses: scopes at BSI (ISO 13363), EVS and AENOR (ISO 7840, ISO 8469), mydoc123.com (SAE J2006).
"""

from __future__ import annotations

import pytest

from shedtally.domain.renewals.plain_parts import LITRES_PER_UK_GALLON, sized
from shedtally.rules.load import load

RENEWAL = load().renewal
PARTS = {part.id: part for part in RENEWAL.parts.values()}
INCH_MM = 25.4


def measures(part: str, name: str) -> tuple[float, ...]:
    return next(row.measures for row in PARTS[part].sizes if row.name == name)


# Size, coarse pitch, key of a socket head.
BOLTS = [
    ("M3", 0.5, 2.5), ("M4", 0.7, 3), ("M5", 0.8, 4), ("M6", 1.0, 5), ("M8", 1.25, 6),
    ("M10", 1.5, 8), ("M12", 1.75, 10), ("M16", 2.0, 14), ("M20", 2.5, 17), ("M24", 3.0, 19),
]  # fmt: skip


@pytest.mark.parametrize(("name", "pitch", "key"), BOLTS)
def test_pitch_and_key_of_a_bolt_are_those_of_another_table(name: str, pitch: float, key: float):
    found = measures("fastener", name)
    assert (found[1], found[3]) == (pitch, key)


@pytest.mark.parametrize(
    ("name", "spanner"), [("M3", 5.5), ("M4", 7), ("M5", 8), ("M6", 10), ("M8", 13), ("M16", 24)]
)
def test_spanners_that_are_the_same_in_every_standard(name: str, spanner: float):
    assert measures("fastener", name)[2] == spanner


# Threads to the inch, and the bolt across its flats in inches (BS 1768 prints the largest).
UNC = [
    ("1/4-20 UNC", 20, 1 / 4), ("5/16-18 UNC", 18, 5 / 16), ("3/8-16 UNC", 16, 3 / 8),
    ("7/16-14 UNC", 14, 7 / 16), ("1/2-13 UNC", 13, 1 / 2), ("5/8-11 UNC", 11, 5 / 8),
    ("3/4-10 UNC", 10, 3 / 4),
]  # fmt: skip


@pytest.mark.parametrize(("name", "per_inch", "diameter"), UNC)
def test_unified_bolts_have_the_published_threads(name: str, per_inch: int, diameter: float):
    found = measures("fastener", name)
    assert found[3] == per_inch
    assert found[0] == pytest.approx(diameter * INCH_MM, abs=0.01)
    assert found[1] == pytest.approx(INCH_MM / per_inch, abs=0.001)


# Length, width, height in inches.
GROUPS = [
    ("group 24", 10.25, 6.81, 8.88), ("group 27", 12.06, 6.81, 8.94), ("group 31", 13.0, 6.8, 9.44),
    ("group 34", 10.25, 6.8, 7.9),
]  # fmt: skip


@pytest.mark.parametrize(("name", "length", "width", "height"), GROUPS)
def test_battery_groups_are_those_of_another_table(
    name: str, length: float, width: float, height: float
):
    inches = tuple(mm / INCH_MM for mm in measures("battery", name))
    assert inches == pytest.approx((length, width, height), abs=0.1)


def test_a_battery_of_a_published_plate_is_found_by_its_measures():
    # 12 V 55 Ah, L 242 mm, B 175 mm, H 190 mm.
    assert sized("242 x 175 x 190 mm", PARTS["battery"])[0] == "L2"


# Number, inside diameter and thickness in inches.
RINGS = [
    ("AS568-010", 0.239, 0.070), ("AS568-012", 0.364, 0.070), ("AS568-014", 0.489, 0.070),
    ("AS568-016", 0.614, 0.070), ("AS568-020", 0.864, 0.070), ("AS568-024", 1.114, 0.070),
    ("AS568-110", 0.362, 0.103), ("AS568-120", 0.987, 0.103), ("AS568-210", 0.734, 0.139),
    ("AS568-214", 0.984, 0.139), ("AS568-218", 1.234, 0.139), ("AS568-222", 1.484, 0.139),
    ("AS568-226", 1.984, 0.139), ("AS568-230", 2.484, 0.139),
]  # fmt: skip


@pytest.mark.parametrize(("name", "inside", "thick"), RINGS)
def test_rings_by_number_are_those_of_as568_in_inches(name: str, inside: float, thick: float):
    found = measures("o-ring", name)
    assert found == pytest.approx((inside * INCH_MM, thick * INCH_MM), abs=0.01)


# Amperes and the bodies that they are made in.
BLADES = [
    (1, {"blade"}), (2, {"mini blade", "blade"}), (7.5, {"mini blade", "blade"}),
    (20, {"mini blade", "blade", "large blade"}), (40, {"blade", "large blade"}),
    (50, {"large blade"}), (80, {"large blade"}),
]  # fmt: skip


@pytest.mark.parametrize(("amps", "bodies"), BLADES)
def test_blade_fuses_are_made_in_the_published_bodies(amps: float, bodies: set[str]):
    made = {row.name for row in PARTS["fuse"].sizes if row.measures[0] <= amps <= row.measures[1]}
    assert made == bodies


# Miles under 12 m, and from 12 to 20 m.
LIGHTS = [("masthead light", 2, 3), ("sidelight, red", 1, 2), ("sternlight", 2, 2)]


@pytest.mark.parametrize(("name", "small", "large"), LIGHTS)
def test_lights_are_seen_as_far_as_rule_22_asks(name: str, small: float, large: float):
    assert measures("light-navigation", name) == (small, large)


def test_flows_are_told_in_litres_a_minute_as_iso_8849_rates_them():
    # 1 US gallon is 231 cubic inches; 1 imperial gallon 4.54609 litres, by definition.
    assert sized("60 gph", PARTS["pump"])[0] == f"{231 * 0.0254**3 * 1000:.3g} l/min"
    assert sized("60 uk gph", PARTS["pump"])[0] == f"{LITRES_PER_UK_GALLON:.3g} l/min"
    assert sized("600 l/h", PARTS["pump"])[0] == "10 l/min"


# What the scope of a standard says that its hose is for.
SCOPES = [
    ("diesel", "ISO 7840"), ("petrol", "ISO 7840"), ("diesel", "ISO 8469"), ("petrol", "J1527"),
    ("exhaust", "ISO 13363"), ("exhaust", "J2006"),
]  # fmt: skip


@pytest.mark.parametrize(("service", "standard"), SCOPES)
def test_a_hose_is_asked_for_by_the_standard_whose_scope_has_its_service(
    service: str, standard: str
):
    assert any(standard in text for text in RENEWAL.services[service].standards)


def test_iso_13363_has_class_a_for_diesel_and_b_for_petrol():
    first, second, *_ = RENEWAL.services["exhaust"].standards
    assert ("class A" in first, "diesel" in first) == (True, True)
    assert ("class B" in second, "petrol" in second) == (True, True)


def test_a_hose_that_resists_no_fire_is_never_offered_for_petrol():
    assert not any("ISO 8469" in text for text in RENEWAL.services["petrol"].standards)


@pytest.mark.parametrize("service", ["raw water", "fresh water", "sanitation", "bilge", "gas"])
def test_no_standard_for_fuel_or_exhaust_is_asked_for_where_something_else_flows(service: str):
    wrong = ("ISO 7840", "ISO 8469", "J1527", "ISO 13363")
    assert not any(name in text for text in RENEWAL.services[service].standards for name in wrong)
