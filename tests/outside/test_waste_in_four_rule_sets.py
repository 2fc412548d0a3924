"""Codes, dates, limits and pairs of the four rule sets against what is published.

E1: Decision 2000/532/EC as amended by 2014/955/EU, copy in a regulator's database
(github.com/DEFRA/prsd-iws, script of 11 February 2016). E2: Delegated Decision (EU) 2025/934,
annex. E3: its corrigendum, OJ L 2025/90657 of 19 August 2025, read again on 25 November 2026 in
three places (insic.it, e-cycle.it/ita/news/3225, rivistarifiuti.it 343/62304): from 9 December,
not 9 November 2026. E5: International Energy Agency on UK guidance WM3. U3, U4: 40 CFR 261.21,
261.24 table 1. U8: EPA on oil filters. U9: EPA, Managing Used Oil. U10: 40 CFR 279.10, 279.11.
U12: 40 CFR 273.1-273.2, 261.9. U14: EPA memorandum of 24 May 2023. U17: 40 CFR 82.154. U18: 63
FR 11084. T1: 49 CFR 177.848(c)-(e). T2: UN numbers and proper shipping names in the database of
E1. T3: UN classes. T4: IMDG Code special provisions. C1: B.C. Reg. 63/88. C2: its registration
page. C3: TDG Regulations s. 1.15. G1 to G7, O5, WFD18 (Directive 2008/98/EC article 18): as in
the rules' list of sources. What is in them from memory is not tested here.
"""

import datetime

import pytest

from shedtally.domain.boat import from_values
from shedtally.domain.waste.apart import may_share, transport_table
from shedtally.domain.waste.by_stream import waste_list
from shedtally.rules.load import load

RULES = load()
OLD = datetime.date(2026, 10, 1)
EVE, DAY = datetime.date(2026, 12, 8), datetime.date(2026, 12, 9)


def one(law, holder, on, **values):
    boat = from_values("b", [("item", "it", {"fate": "waste", **values})])
    (stream,) = waste_list(boat, RULES, law, holder, on).streams
    return stream


@pytest.mark.parametrize(
    ("stream", "business", "household", "source"),
    [
        ("rag-oil", "15 02 02*", "15 02 02*", "E1"),
        ("rag-clean", "15 02 03", "20 03 01", "E1: mirror entry"),
        ("diesel", "13 07 01*", "13 07 01*", "E1"),
        ("petrol", "13 07 02*", "13 07 02*", "E1"),
        ("fuel-mixed", "13 07 03*", "13 07 03*", "E1"),
        ("oil-engine", "13 02 08*", "20 01 26*", "E1"),
        ("oil-halogen", "13 02 04*", "20 01 26*", "E1: chlorinated"),
        ("oil-hydraulic", "13 01 13*", "20 01 26*", "E1"),
        ("bilge-oily", "13 04 03*", "13 04 03*", "E1: the entry names bilge oil"),
        ("coolant", "16 01 14*", "16 01 14*", "E1"),
        ("filter-oil", "16 01 07*", "16 01 07*", "E1"),
        ("lead-acid", "16 06 01*", "20 01 33*", "E1"),
        ("nicd", "16 06 02*", "20 01 33*", "E1"),
        ("battery-mercury", "16 06 03*", "20 01 33*", "E1"),
        ("alkaline", "16 06 04", "20 01 34", "E1"),
        ("lithium", "16 06 05", "20 01 34", "E1"),
        ("nimh", "16 06 05", "20 01 34", "E1"),
        ("battery-zinc", "16 06 05", "20 01 34", "E1"),
        ("battery-sodium", "16 06 05", "20 01 34", "E1"),
        ("electrolyte", "16 06 06*", "20 01 14*", "E1"),
        ("extinguisher-halon", "16 05 04*", "16 05 04*", "E1: the title names halons"),
        ("extinguisher-other", "16 05 05", "16 05 05", "E1"),
        ("gas-lpg", "16 05 04*", "16 05 04*", "E1"),
        ("refrigerant", "16 02 11*", "20 01 23*", "E1"),
        ("refrigerant-gas", "14 06 01*", "14 06 01*", "E1"),
        ("lamp-mercury", "20 01 21*", "20 01 21*", "E1"),
        ("mercury-liquid", "16 03 07*", "20 01 21*", "E1: metallic mercury"),
        ("switch-mercury", "16 01 08*", "20 01 21*", "E1"),
        ("paint", "08 01 11*", "20 01 27*", "E1"),
        ("paint-remover", "08 01 21*", "20 01 27*", "E1"),
        ("thinner", "14 06 03*", "20 01 13*", "E1"),
        ("thinner-halogen", "14 06 02*", "20 01 13*", "E1: halogenated"),
        ("dust-antifouling", "08 01 17*", "20 01 27*", "E1"),
        ("abrasives", "12 01 20*", "20 01 27*", "E1"),
        ("adhesive-wet", "08 04 09*", "20 01 27*", "E1"),
        ("sealant-cured", "08 04 10", "20 01 28", "E1: mirror entry"),
        ("sealant-pcb", "17 09 02*", "17 09 02*", "E1: PCB, sealants named"),
        ("peroxide", "16 09 03*", "16 09 03*", "E1: the title names peroxides"),
        ("asbestos", "17 06 01*", "17 06 01*", "E1"),
        ("asbestos-board", "17 06 05*", "17 06 05*", "E1"),
        ("insulation-other", "17 06 04", "17 06 04", "E1"),
        ("lead", "17 04 03", "20 01 40", "E1"),
        ("electronics", "16 02 14", "20 01 36", "E1"),
        ("beacon", "16 02 13*", "20 01 35*", "E1: mirror entry"),
        ("cable-copper", "17 04 11", "20 01 40", "E1"),
        ("cable-dirty", "17 04 10*", "17 04 10*", "E1"),
        ("anode-zinc", "17 04 04", "20 01 40", "E1"),
        ("sewage", "20 03 04", "20 03 04", "E1"),
        ("timber", "17 02 01", "20 01 38", "E1"),
        ("timber-treated", "17 02 04*", "20 01 37*", "E1"),
        ("package-empty", "15 01 10*", "15 01 10*", "E1"),
        ("package-clean", "15 01 04", "15 01 04", "E1"),
    ],
)
@pytest.mark.parametrize("law", ["eu", "gb"])
def test_the_list_of_waste_up_to_the_new_batteries(law, stream, business, household, source):
    rules = RULES.rule_sets[law]
    assert rules.entry(stream, "business", OLD).code == business, source
    assert rules.entry(stream, "household", OLD).code == household, source


@pytest.mark.parametrize(
    ("stream", "before", "after", "home_before", "home_after", "source"),
    [
        ("lead-acid", "16 06 01*", "16 06 01*", "20 01 33*", "20 01 42*", "E2, E3"),
        ("nicd", "16 06 02*", "16 06 02*", "20 01 33*", "20 01 42*", "E2, E3"),
        ("battery-mercury", "16 06 03*", "16 06 03*", "20 01 33*", "20 01 42*", "E2, E3"),
        ("alkaline", "16 06 04", "16 06 04*", "20 01 34", "20 01 42*", "E2, E3; ten cells"),
        ("lithium", "16 06 05", "16 06 07*", "20 01 34", "20 01 43*", "E2, E3"),
        ("lithium-damaged", "16 06 05", "16 06 07*", "20 01 34", "20 01 43*", "E2, E3"),
        ("nimh", "16 06 05", "16 06 08*", "20 01 34", "20 01 42*", "E2, E3"),
        ("battery-zinc", "16 06 05", "16 06 09*", "20 01 34", "20 01 42*", "E2, E3"),
        ("battery-sodium", "16 06 05", "16 06 10*", "20 01 34", "20 01 42*", "E2, E3"),
        ("battery-mixed", "16 06 01*", "16 06 13*", "20 01 33*", "20 01 42*", "E2, E3"),
    ],
)
def test_europe_changes_on_the_corrected_day_and_great_britain_does_not(  # noqa: PLR0917
    stream, before, after, home_before, home_after, source
):
    eu, gb = RULES.rule_sets["eu"], RULES.rule_sets["gb"]
    for day, work, home in ((EVE, before, home_before), (DAY, after, home_after)):
        assert eu.entry(stream, "business", day).code == work, source
        assert eu.entry(stream, "household", day).code == home, source
        assert gb.entry(stream, "business", day).code == before, "E5: old entries stay"
        assert gb.entry(stream, "household", day).code == home_before, "E5: old entries stay"
    assert eu.entry(stream, "business", DAY).basis.in_force == DAY


@pytest.mark.parametrize(
    ("day", "doubt"),
    [
        ("2026-11-08", False),
        ("2026-11-09", True),
        ("2026-12-08", True),
        ("2026-12-09", False),
    ],
)
def test_the_doubt_of_the_printed_day_is_said_from_9_november_to_8_december(day, doubt):
    """E3: the decision printed 9 November; many pages still say so."""
    found = one("eu", "business", datetime.date.fromisoformat(day), kind="cells-alkaline")
    assert ("9 November" in found.why) is doubt


@pytest.mark.parametrize(
    ("values", "stream", "code", "hazardous", "source"),
    [
        ({"kind": "old-diesel", "flash_point_c": 59.9}, "diesel", "D001", True, "U3"),
        ({"kind": "old-diesel", "flash_point_c": 60.0}, "diesel-high-flash", "none", False, "U3"),
        ({"kind": "old-diesel", "flash_point_c": 60.1}, "diesel-high-flash", "none", False, "U3"),
        ({"kind": "engine-oil", "halogens_ppm": 1000}, "oil-engine", "279", False, "U10: over"),
        ({"kind": "engine-oil", "halogens_ppm": 1001}, "oil-halogen", "F001, F002", True, "U10"),
        ({"kind": "oil-filter", "drained": True}, "filter-oil-drained", "none", False, "U8"),
        ({"kind": "oil-filter", "drained": False}, "filter-oil", "279", True, "U8"),
        ({"kind": "oil-filter"}, "filter-oil", "279", True, "U8, cautious"),
        ({"kind": "rag-oily", "soaked_in": "mineral oil"}, "rag-oil", "none", False, "U9"),
        ({"kind": "rag-oily", "soaked_in": "drying oil"}, "rag-drying", "D001", True, "U3"),
        ({"kind": "rag-unknown"}, "rag-drying", "D001", True, "U3, O5, cautious"),
        ({"kind": "battery-nicd"}, "nicd", "D006", True, "U4: cadmium 1.0 mg/L; U12"),
        ({"kind": "cells-mercury"}, "battery-mercury", "D009", True, "U4: mercury 0.2; U12"),
        ({"kind": "dust-paint", "lead": "found"}, "dust-paint", "D008", True, "U4: lead 5.0"),
        ({"kind": "dust-paint"}, "dust-paint", "D008", True, "U4, cautious"),
        ({"kind": "coolant"}, "coolant", "D008", True, "U4: 5 mg/L; EPA document 1102"),
        ({"kind": "coolant", "lead": "not found"}, "coolant-tested", "none", False, "the same"),
        ({"kind": "old-petrol"}, "petrol", "D001, D018", True, "U3; U4: benzene 0.5"),
        ({"kind": "gas-cylinder"}, "gas-lpg", "D001", True, "U3: ignitable gas"),
        ({"kind": "aerosol-can"}, "aerosol", "D001", True, "U3; U12"),
        ({"kind": "lamp-fluorescent"}, "lamp-mercury", "D009", True, "U4; U12"),
        ({"kind": "extinguisher-halon"}, "extinguisher-halon", "none", True, "U18: no venting"),
        ({"kind": "fridge-unit"}, "refrigerant", "none", True, "U17: no knowing release"),
        ({"kind": "battery-lithium"}, "lithium-damaged", "D001, D003", True, "U14"),
    ],
)
def test_decisions_of_us_federal_law(values, stream, code, hazardous, source):
    found = one("us-federal", "business", OLD, **values)
    assert (found.id, found.code, found.hazardous) == (stream, code, hazardous), source


def test_aerosols_are_universal_waste_since_7_february_2020():
    """84 FR 67217."""
    entry = RULES.rule_sets["us-federal"].entry("aerosol", "business", OLD)
    assert entry.basis.in_force == datetime.date(2020, 2, 7)


@pytest.mark.parametrize(
    ("stream", "number", "name", "source"),
    [
        ("diesel", "UN1202", "Gas oil or diesel fuel", "T2, T3"),
        ("petrol", "UN1203", "Gasoline", "T2, T3"),
        ("fuel-mixed", "UN1993", "Flammable liquid, n.o.s.", "T2, T3"),
        ("rag-drying", "UN1856", "Rags, oily", "T2, T3"),
        ("rag-solvent", "UN3175", "Solids containing flammable liquid", "T2, T3"),
        ("lead-acid", "UN2794", "Batteries, wet, filled with acid", "T2, T3"),
        ("nicd", "UN2795", "Batteries, wet, filled with alkali", "T2, T3"),
        ("lithium", "UN3480", "Lithium ion batteries", "T2, T4"),
        ("beacon", "UN3091", "Lithium metal batteries contained in equipment", "T2, T4"),
        ("aerosol", "UN1950", "Aerosols", "T2, T3"),
        ("paint", "UN1263", "Paint", "T2, T3"),
        ("adhesive-wet", "UN1133", "Adhesives", "T2, T3"),
        ("resin-uncured", "UN1866", "Resin solution", "T2, T3"),
        ("peroxide", "UN3105", "Organic peroxide type D, liquid", "T2, T3"),
        ("extinguisher-other", "UN1044", "Fire extinguishers", "T2, T3"),
        ("gas-lpg", "UN1075", "Liquefied petroleum gases", "T2, T3"),
        ("gas-co2", "UN1013", "Carbon dioxide", "T2, T3"),
        ("refrigerant", "UN2857", "Refrigerating machines", "T2, T4"),
        ("mercury-liquid", "UN2809", "Mercury", "T2, T3"),
        ("switch-mercury", "UN3506", "Mercury contained in manufactured articles", "T2"),
        ("flare", "UN0191", "Signal devices, hand", "T2, T3"),
        ("flare-rocket", "UN0195", "Signals, distress, ship", "T2, T3"),
        ("flare-smoke", "UN0197", "Signals, smoke", "T2, T3"),
        ("flare-cartridge", "UN0312", "Cartridges, signal", "T2, T3"),
        ("dust-antifouling", "UN3077", "Environmentally hazardous substance, solid", "T2, T3"),
    ],
)
def test_british_columbia_names_dangerous_goods_by_number(stream, number, name, source):
    entry = RULES.rule_sets["ca-bc"].entry(stream, "business", OLD)
    assert number in entry.code, source
    assert entry.title.startswith(name), source
    assert entry.hazardous


def test_what_was_not_found_for_british_columbia_is_not_invented():
    """C2: the amounts of Schedule 6 were not found; alkaline cells neither."""
    law = RULES.rule_sets["ca-bc"]
    assert any("Schedule 6" in note.text and "not found" in note.text for note in law.notes)
    assert law.entry("alkaline", "business", OLD).code == "not found"
    assert law.entry("alkaline", "business", OLD).hazardous


X, O, FREE = "never", "unless apart", "no rule"  # noqa: E741 - as 49 CFR 177.848 prints them


@pytest.mark.parametrize(
    ("one_class", "other", "cell", "source"),
    [
        ("3", "4.1", FREE, "T1"),
        ("3", "4.2", FREE, "T1"),
        ("3", "5.1", O, "T1: petrol and an oxidiser in one van"),
        ("3", "5.2", FREE, "T1"),
        ("3", "8 liquid", FREE, "T1"),
        ("4.1", "4.2", FREE, "T1"),
        ("4.1", "8 liquid", O, "T1"),
        ("4.2", "8 liquid", X, "T1, also (c)"),
        ("4.3", "8 liquid", O, "T1"),
        ("5.1", "8 liquid", O, "T1"),
        ("5.2", "8 liquid", O, "T1"),
        ("4.1", "5.1", FREE, "T1"),
        ("4.2", "5.1", FREE, "T1"),
        ("1.1", "3", X, "T1"),
        ("1.3", "2.2", FREE, "T1"),
        ("9", "3", FREE, "T1: class 9 has no row"),
        ("9", "8 liquid", FREE, "T1: class 9 has no row"),
    ],
)
def test_cells_of_the_segregation_table(one_class, other, cell, source):
    row = transport_table(RULES, one_class, other)
    found = FREE if row is None else O if row.only_if else X
    assert found == cell, source
    assert transport_table(RULES, other, one_class) is row


@pytest.mark.parametrize(
    ("first", "second", "level", "cell", "source"),
    [
        ("rag-oil", "lead-acid", "shelf", X, "T1: 4.2 with liquid of class 8"),
        ("rag-oil", "electrolyte", "shelf", X, "T1: 4.2 with liquid of class 8"),
        ("rag-drying", "lead-acid", "shelf", X, "T1"),
        ("rag-drying", "timber", "shelf", X, "O5: self-heating"),
        ("rag-solvent", "lead-acid", "shelf", O, "T1: 4.1 with liquid of class 8"),
        ("peroxide", "lead-acid", "shelf", O, "T1: 5.2 with liquid of class 8"),
        ("oil-engine", "thinner", "container", X, "U10: halogens"),
        ("oil-engine", "petrol", "container", X, "U10: halogens"),
        ("oil-engine", "oil-halogen", "container", X, "U10; WFD18"),
        ("diesel", "petrol", "container", X, "WFD18: no mixing"),
        ("petrol", "timber", "container", X, "WFD18: no mixing"),
        ("flare", "petrol", "shelf", X, "California Coastal Commission: away from fuel"),
        ("lithium", "lithium-damaged", "shelf", X, "49 CFR 173.185 letters"),
        ("lithium-damaged", "lithium-damaged", "container", X, "49 CFR 173.185 letters"),
        ("petrol", "petrol", "container", FREE, "one liquid in one can"),
        ("filter-oil", "filter-oil-drained", "container", FREE, "one sort, judged differently"),
        ("metal", "electronics", "container", FREE, "neither is hazardous"),
        ("lead-acid", "metal", "shelf", FREE, "no rule"),
        ("petrol", "diesel", "shelf", FREE, "T1: class 3 with class 3"),
    ],
)
def test_pairs_that_may_or_may_not_lie_together(first, second, level, cell, source):
    ban = may_share(RULES, first, second, level)
    found = FREE if ban is None else O if ban.only_if else X
    assert found == cell, (source, ban)
    assert ban is None or all(ban.cited(law) for law in RULES.rule_sets)


@pytest.mark.parametrize(
    ("law", "area", "words", "source"),
    [
        ("gb", "england", "1 April 2016", "G1"),
        ("gb", "england", "seat cushions of household type", "G6"),
        ("gb", "wales", "500 kg", "G1"),
        ("gb", "scotland", "special waste", "G7"),
        ("gb", "england", "every movement, of any amount", "G1"),
        ("gb", "scotland", "first movement from a home needs no consignment note", "G2"),
        ("gb", "wales", "regulation 19", "G2"),
        ("gb", "wales", "6 to 12", "G4"),
        ("us-federal", "california", "2,500 mg/kg copper", "U20"),
        ("us-federal", "washington", "MQG", "U2"),
        ("us-federal", "other", "261.4(b)(1)", "U6, U7"),
        ("ca-bc", None, "within 30 days", "C2"),
        ("ca-bc", None, "BCG", "C2"),
        ("ca-bc", None, "s. 36", "C1"),
        ("ca-bc", None, "150 kg gross", "C3"),
        ("ca-bc", None, "30 kg gross", "C3"),
        ("ca-bc", None, "UN0191, UN0197 and UN0373", "C3"),
    ],
)
def test_what_a_place_says_besides_codes_stands_on_its_list(law, area, words, source):
    boat = from_values("b", [("boat", "b", {"rule_area": area})])
    notes = waste_list(boat, RULES, law, "business", OLD).notes
    assert any(words in note for note in notes), source


def test_limits_that_the_calculations_read_are_the_published_ones():
    assert RULES.rule_sets["us-federal"].flash_below_c == 60.0, "U3: 140 F"
    (oil,) = [row for row in RULES.streams["oil-engine"].answers if row.field == "halogens_ppm"]
    assert oil.above == 1000, "U10"


@pytest.mark.parametrize("law", sorted(RULES.rule_sets))
def test_every_row_says_where_it_is_printed_and_what_is_from_memory(law):
    rules = RULES.rule_sets[law]
    for rows in rules.entries.values():
        for row in rows:
            assert row.basis.publication
            said = {RULES.sources[key].standing for key in row.sources}
            assert row.from_memory or "from memory" not in said, row
    assert rules.edition == datetime.date(2026, 11, 25)
