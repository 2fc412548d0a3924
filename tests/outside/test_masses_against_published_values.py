"""Densities, wire, tube and liquids against values that others published.

Each row names its source; what is only remembered is in `tests/domain/test_masses_from_memory.py`.
Read on 25 November 2026.
"""

import math

import ht
import pytest

from shedtally.domain.masses.item_mass import mass_of
from shedtally.domain.masses.section import COPPER_SHARE, cable, tube
from shedtally.domain.measures.gauge import gauge_diameter_mm, gauge_from_text, round_area_mm2
from shedtally.domain.measures.reading import parse_length_mm, parse_mass_kg, parse_size
from shedtally.domain.records import Item
from shedtally.rules.load import load

RULES = load()
EN12524 = "EN 12524:2000 (rows of ISO 10456), as data of the library ht"


@pytest.mark.parametrize(
    ("material", "row", "source"),
    [
        ("mild-steel", "Metals, steel", EN12524),
        ("stainless-316", "Metals, stainless steel", EN12524),
        ("bronze", "Metals, bronze", EN12524),
        ("brass", "Metals, brass", EN12524),
        ("copper", "Metals, copper", EN12524),
        ("lead", "Metals, lead", EN12524),
        ("aluminium", "Metals, aluminium alloys", EN12524),
        ("cast-iron", "Metals, iron, cast", EN12524),
        ("zinc", "Metals, zinc", EN12524),
        ("glass", "Glass, soda lime", EN12524),
        ("polycarbonate", "Plastics, polycarbonates", EN12524),
        ("acrylic", "Plastics, polymethylmethacrylate (PMMA)", EN12524),
        ("polyethylene", "Plastics, polyethylene / polythene, low density", EN12524),
        ("polyethylene", "Plastics, polyethylene / polythene, high density", EN12524),
        (
            "pvc-flexible",
            "Sealant, polyvinylchloride (PVC) flexible, with 40% softner",
            EN12524,
        ),
        ("rubber-epdm", "Rubber, ethylene propylene diene monomer (EPDM)", EN12524),
        ("rubber-silicone", "Rubber, natural", EN12524),
        ("rubber-silicone", "Sealant, silicone, pure", EN12524),
        ("foam-rigid", "Sealant, polyurethane (PU) foam", EN12524),
        ("plywood", "Wood, plywood 700 kg/m^3", EN12524),
        ("plywood-light", "Wood, plywood 500 kg/m^3", EN12524),
    ],
)
def test_a_density_holds_the_design_value_of_the_standard(material, row, source):
    density = RULES.materials[material].density
    assert density.low <= ht.insulation.rho_material(row) <= density.high, source


@pytest.mark.parametrize(
    ("material", "kg_per_m3", "source"),
    [
        ("mild-steel", 7850, "BS 648 as reprinted, strutturisti.com/?p=856"),
        ("plywood", 700, "BS 648 as reprinted: 0.7 kg/m2 for each mm"),
        ("plywood-light", 450, "okoume panel sheet: 18 mm weighs 8.1 kg/m2"),
        ("laminate", 1350, "EN 438 and ISO 4586: at least 1.35 g/cm3"),
        ("aluminium", 2660, "Aluminum Association, 5083: 2.66 g/cm3"),
        ("lead", 11340, "simetric.co.uk/si_metals.htm"),
        ("lead", 10900, "antimonial ballast lead, wermac.org density_of_metal"),
        ("mahogany", 545, "Honduras mahogany, simetric.co.uk/si_wood.htm"),
        ("oak", 770, "American white oak, engineeringtoolbox.com"),
        ("grp", 1403, "measured hull plug, 33 x 25 mm weighs 30 g, ckdboats.blogspot.com/2013/02"),
        ("water", 998, "US Army Quartermaster: 8.33 lb/gal at 60 F"),
        ("petrol", 743, "US Army Quartermaster: 6.20 lb/gal at 60 F"),
        ("petrol", 720, "EN 228:2012, lower limit at 15 C"),
        ("petrol", 775, "EN 228:2012, upper limit at 15 C"),
        ("diesel", 820, "EN 590, lower limit at 15 C"),
        ("diesel", 845, "EN 590, upper limit at 15 C"),
        ("engine-oil", 839, "New Jersey DEP conversion table: 7 lb/gal"),
    ],
)
def test_a_density_holds_what_others_published(material, kg_per_m3, source):
    density = RULES.materials[material].density
    assert density.low - 1 <= kg_per_m3 <= density.high + 1, source


LITRE_PER_GALLON = 3.785411784


@pytest.mark.parametrize(
    ("kind", "gallons", "pounds", "source"),
    [
        ("old-petrol", 35.56, 220.46, "W5: 100 kg of petrol is 35.56 US gal at 6.20 lb/gal"),
        ("old-petrol", 10, 62.0, "US Army Quartermaster: 6.20 lb/gal at 60 F"),
        ("bilge-water-oily", 10, 83.3, "US Army Quartermaster: water 8.33 lb/gal at 60 F"),
        ("engine-oil", 10, 70.0, "New Jersey DEP conversion table: 7 lb/gal"),
    ],
)
def test_a_liquid_by_volume_holds_the_published_weight(kind, gallons, pounds, source):
    found = mass_of(Item(key="k", kind=kind, volume_l=gallons * LITRE_PER_GALLON), RULES)
    assert found.low <= pounds * 0.45359237 <= found.high, source


@pytest.mark.parametrize("litres", [118.3, 120.1, 122.0])
def test_a_hundred_kilograms_of_diesel_fill_about_a_hundred_and_twenty_litres(litres):
    """EN 590: 820 to 845 kg/m3, so 100 kg fill 118.3 to 122.0 L."""
    found = mass_of(Item(key="k", kind="old-diesel", volume_l=litres), RULES)
    assert found.low <= 100 <= found.high


@pytest.mark.parametrize(
    ("kind", "kilograms", "source"),
    [
        ("battery-lead-acid", 33 * 0.45359237, "New Jersey DEP: car battery 33 lb"),
        ("lamp-fluorescent", 0.62 * 0.45359237, "New Jersey DEP: tube 0.62 lb"),
        ("flare-hand", 200 * 0.45359237 / 302, "302 flares weighed 200 lb, county collection"),
        ("display-crt", 30 * 0.45359237, "New Jersey DEP: CRT monitor 30 lb"),
        ("outboard", 66 * 0.45359237, "33 CFR 183 subpart H table 4: 4 to 6.9 hp, dry 66 lb"),
    ],
)
def test_the_guess_for_a_kind_holds_the_published_weight(kind, kilograms, source):
    guess = RULES.kinds[kind].mass
    assert guess.low <= kilograms <= guess.high, source


B258 = "ASTM B258 table: diameter in inches and circular mils"


@pytest.mark.parametrize(
    ("gauge", "inches", "circular_mils", "source"),
    [
        ("4/0", 0.4600, 211600, B258),
        ("3/0", 0.4096, 167800, B258),
        ("2/0", 0.3648, 133100, B258),
        ("1/0", 0.3249, 105600, B258),
        ("1", 0.2893, 83690, B258),
        ("2", 0.2576, 66360, B258),
        ("4", 0.2043, 41740, B258),
        ("6", 0.1620, 26240, B258),
        ("8", 0.1285, 16510, B258),
        ("10", 0.1019, 10380, B258),
        ("12", 0.0808, 6530, B258),
        ("14", 0.0641, 4110, B258),
        ("16", 0.0508, 2580, B258),
        ("18", 0.0403, 1620, B258),
    ],
)
def test_a_wire_gauge_has_the_published_diameter_and_area(gauge, inches, circular_mils, source):
    diameter = gauge_diameter_mm(gauge_from_text(gauge)[0])
    assert diameter / 25.4 == pytest.approx(inches, abs=0.00006), source
    assert (diameter / 0.0254) ** 2 == pytest.approx(circular_mils, rel=0.004), source
    size = parse_size(f"AWG {gauge}")
    assert size.mm2 == pytest.approx(circular_mils * 0.000506707, rel=0.004), source


IEC60228 = "IEC 60228, largest resistance at 20 C of class 1 and 2 (etechnik-synergie.com)"


@pytest.mark.parametrize(
    ("mm2", "ohm_per_km", "source"),
    [
        (0.5, 36.0, IEC60228),
        (0.75, 24.5, IEC60228),
        (1.0, 18.1, IEC60228),
        (1.5, 12.1, IEC60228),
        (2.5, 7.41, IEC60228),
        (4.0, 4.61, IEC60228),
        (6.0, 3.08, IEC60228),
        (10.0, 1.83, IEC60228),
        (16.0, 1.15, IEC60228),
        (25.0, 0.727, IEC60228),
        (35.0, 0.524, IEC60228),
        (50.0, 0.387, IEC60228),
        (70.0, 0.268, IEC60228),
        (95.0, 0.193, IEC60228),
    ],
)
def test_the_copper_of_a_section_lies_where_its_resistance_puts_it(mm2, ohm_per_km, source):
    """17.241 ohm mm2/km is copper of 100 % IACS: the least copper that keeps the resistance."""
    least = 17.241 / ohm_per_km
    assert COPPER_SHARE.low <= least / mm2 <= COPPER_SHARE.high, source


SAE = "SAE J378/J1127 smallest circular mils, delzer.com/powerproducts p. 70"


@pytest.mark.parametrize(
    ("gauge", "circular_mils", "source"),
    [
        ("4/0", 205500, SAE),
        ("1/0", 98980, SAE),
        ("2", 62450, SAE),
        ("6", 24538, SAE),
        ("10", 9343, SAE),
        ("12", 5833, SAE),
        ("14", 3702, SAE),
        ("16", 2336, SAE),
    ],
)
def test_boat_wire_has_the_share_of_copper_that_makers_print(gauge, circular_mils, source):
    share = circular_mils / (gauge_diameter_mm(gauge_from_text(gauge)[0]) / 0.0254) ** 2
    assert COPPER_SHARE.low <= share <= COPPER_SHARE.high, source


@pytest.mark.parametrize(
    ("size", "copper_g_per_m"),
    [("2.5 mm2", 22.2), ("16 mm2", 142), ("AWG 12", 29.4), ("AWG 2/0", 599.5)],
)
def test_a_cable_weighs_more_than_its_copper_and_less_than_twice_it(size, copper_g_per_m):
    """Copper at 8.89 g/cm3 by the nominal section; insulation by common practice, no source."""
    found = cable(parse_size(size), RULES.sizes)
    assert copper_g_per_m / 1000 < found.high
    assert copper_g_per_m / 1000 * 0.97 < found.likely < 2 * copper_g_per_m / 1000


@pytest.mark.parametrize(("outside", "wall"), [(60.3, 3.91), (114.3, 6.02), (21.3, 2.77)])
def test_the_tube_formula_has_the_published_constant(outside, wall):
    """kg/m = 0.0246615 (D - t) t at 7850 kg/m3: mahavirtube.com/iss.htm, reprint of JIS/ASTM/BS."""
    published = 0.0246615 * (outside - wall) * wall
    assert tube(outside, outside - 2 * wall, 7850) == pytest.approx(published, rel=1e-4)


@pytest.mark.parametrize(
    ("number", "closed", "open_"),
    [("06", 11.2, 19.8), ("16", 20.6, 38.1), ("28", 33.3, 57.1), ("44", 58.6, 82.5)],
)
def test_clamps_close_as_the_standard_says(number, closed, open_):
    """SAE J1508 type F, as printed at lthoseclamp.com."""
    clamp = next(row for row in RULES.sizes.clamps if row.number == number)
    assert (clamp.closed_mm, clamp.open_mm) == (closed, open_)


# The international yard and pound agreement of 1959: a yard is 0.9144 m, a pound 0.45359237 kg.
YARD_MM, POUND_KG = 914.4, 0.45359237


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("1 in", YARD_MM / 36),
        ("7 ft", 7 * YARD_MM / 3),
        ("3/4 in", 0.75 * YARD_MM / 36),
        ("5 ft 6 in", 66 * YARD_MM / 36),
        ("12 cm", 120),
        ("1.2 m", 1200),
        ("0.4 mm", 0.4),
    ],
)
def test_lengths_follow_the_agreement_of_1959(text, millimetres):
    assert parse_length_mm(text) == pytest.approx(millimetres, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kilograms"),
    [
        ("1 lb", POUND_KG),
        ("5 oz", 5 * POUND_KG / 16),
        ("2 lb 8 oz", 2.5 * POUND_KG),
        ("1.2 t", 1200),
        ("250 g", 0.25),
    ],
)
def test_masses_follow_the_agreement_of_1959(text, kilograms):
    assert parse_mass_kg(text) == pytest.approx(kilograms, rel=1e-12)


def test_the_area_of_a_circle_is_pi_over_four_d_squared():
    """Geometry."""
    assert round_area_mm2(2) == pytest.approx(math.pi)
