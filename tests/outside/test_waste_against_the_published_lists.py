"""Streams, codes, dates and UN numbers against what the law and the lists print.

E1: Decision 2000/532/EC as amended by 2014/955/EU, copy in a regulator's database
(github.com/DEFRA/prsd-iws, script of 11 February 2016). E2: Delegated Decision (EU) 2025/934.
E3: its corrigendum, OJ L 2025/90657. U3, U4: 40 CFR 261.21 and 261.24. T2: UN list in the same
database. Read on 25 November 2026. *judgement* marks a code whose title doesn't name the thing.
"""

import datetime

import pytest

from shedtally.domain.boat import from_values
from shedtally.domain.waste.by_stream import waste_list
from shedtally.rules.load import load

RULES = load()
OLD = datetime.date(2026, 10, 1)


def one(law, holder, on, **values):
    boat = from_values("b", [("item", "it", {"fate": "waste", **values})])
    (stream,) = waste_list(boat, RULES, law, holder, on).streams
    return stream


@pytest.mark.parametrize(
    ("values", "code", "title", "source"),
    [
        ({"kind": "rag-oily", "soaked_in": "mineral oil"}, "15 02 02*", "absorbents, filter", "E1"),
        ({"kind": "rag-drying-oil"}, "15 02 02*", "absorbents, filter", "E1"),
        ({"kind": "rag-solvent"}, "15 02 02*", "absorbents, filter", "E1"),
        ({"kind": "old-diesel"}, "13 07 01*", "fuel oil and diesel", "E1"),
        ({"kind": "old-petrol"}, "13 07 02*", "petrol", "E1"),
        ({"kind": "fuel-sludge"}, "13 07 03*", "other fuels (including mixtures)", "E1"),
        ({"kind": "engine-oil"}, "13 02 08*", "other engine, gear and lubricating oils", "E1"),
        ({"kind": "hydraulic-oil"}, "13 01 13*", "other hydraulic oils", "E1"),
        ({"kind": "bilge-water-oily"}, "13 04 03*", "bilge oils from other navigation", "E1"),
        ({"kind": "coolant"}, "16 01 14*", "antifreeze fluids containing hazardous", "E1"),
        ({"kind": "oil-filter"}, "16 01 07*", "oil filters", "E1"),
        ({"kind": "battery-lead-acid"}, "16 06 01*", "lead batteries", "E1"),
        ({"kind": "battery-nicd"}, "16 06 02*", "Ni-Cd batteries", "E1"),
        ({"kind": "cells-mercury"}, "16 06 03*", "mercury-containing batteries", "E1"),
        ({"kind": "cells-alkaline"}, "16 06 04", "alkaline batteries (except 16 06 03)", "E1"),
        ({"kind": "battery-lithium"}, "16 06 05", "other batteries and accumulators", "E1"),
        ({"kind": "battery-electrolyte"}, "16 06 06*", "separately collected electrolyte", "E1"),
        ({"kind": "flare-hand"}, "16 04 03*", "other waste explosives", "E1, judgement"),
        ({"kind": "extinguisher-halon"}, "16 05 04*", "gases in pressure containers", "E1"),
        ({"kind": "fridge-unit"}, "16 02 11*", "discarded equipment containing chloro", "E1"),
        ({"kind": "lamp-fluorescent"}, "20 01 21*", "fluorescent tubes and other mercury", "E1"),
        ({"kind": "paint-can"}, "08 01 11*", "waste paint and varnish containing organic", "E1"),
        ({"kind": "paint-remover"}, "08 01 21*", "waste paint or varnish remover", "E1"),
        ({"kind": "dust-antifouling"}, "08 01 17*", "wastes from paint or varnish removal", "E1"),
        ({"kind": "thinner"}, "14 06 03*", "other solvents and solvent mixtures", "E1"),
        ({"kind": "catalyst"}, "16 09 03*", "peroxides, for example hydrogen peroxide", "E1"),
        ({"kind": "lagging-exhaust"}, "17 06 01*", "insulation materials containing asb", "E1"),
        ({"kind": "gasket-old"}, "17 06 05*", "construction materials containing", "E1, judgement"),
        ({"kind": "ballast-lead"}, "17 04 03", "lead", "E1"),
        ({"kind": "anode"}, "17 04 04", "zinc", "E1"),
        ({"kind": "cable-dc"}, "17 04 11", "cables other than those mentioned in 17 04 10", "E1"),
        ({"kind": "sewage-residue"}, "20 03 04", "septic tank sludge", "E1, judgement"),
        ({"kind": "panel-ply"}, "17 02 01", "wood", "E1"),
    ],
)
def test_a_business_gets_the_code_and_title_of_the_european_list(values, code, title, source):
    found = one("eu", "business", OLD, **values)
    assert found.code == code, source
    assert found.code_title.startswith(title), source
    assert found.hazardous is code.endswith("*")


@pytest.mark.parametrize(
    ("kind", "code", "title", "source"),
    [
        ("engine-oil", "20 01 26*", "oil and fat other than those mentioned in 20 01 25", "E1"),
        ("paint-can", "20 01 27*", "paint, inks, adhesives and resins containing", "E1"),
        ("thinner", "20 01 13*", "solvents", "E1"),
        ("battery-agm", "20 01 33*", "batteries and accumulators included in 16 06 01", "E1"),
        ("cells-alkaline", "20 01 34", "batteries and accumulators other than those", "E1"),
        ("battery-lithium", "20 01 34", "batteries and accumulators other than those", "E1"),
        ("fridge-unit", "20 01 23*", "discarded equipment containing chlorofluoro", "E1"),
        ("plotter", "20 01 36", "discarded electrical and electronic equipment other", "E1"),
        ("panel-ply", "20 01 38", "wood other than that mentioned in 20 01 37", "E1"),
    ],
)
def test_a_household_gets_chapter_twenty(kind, code, title, source):
    found = one("eu", "household", OLD, kind=kind)
    assert found.code == code, source
    assert found.code_title.startswith(title), source


@pytest.mark.parametrize(
    ("kind", "holder", "day", "code", "source"),
    [
        ("cells-alkaline", "business", "2026-12-07", "16 06 04", "E1, E3"),
        ("cells-alkaline", "business", "2026-12-10", "16 06 04*", "E2, E3"),
        ("cells-alkaline", "business", "2026-11-09", "16 06 04", "E3: not yet, as corrected"),
        ("cells-alkaline", "household", "2026-12-09", "20 01 42*", "E2, E3"),
        ("battery-lead-acid", "business", "2026-12-09", "16 06 01*", "E2"),
        ("battery-lead-acid", "household", "2026-12-09", "20 01 42*", "E2"),
        ("battery-lithium", "business", "2026-12-09", "16 06 07*", "E2"),
        ("battery-lithium", "household", "2026-12-09", "20 01 43*", "E2"),
        ("battery-nimh", "business", "2026-12-09", "16 06 08*", "E2"),
        ("cells-zinc", "business", "2026-12-09", "16 06 09*", "E2"),
        ("battery-unknown", "business", "2026-12-09", "16 06 13*", "E2"),
        ("battery-nimh", "business", "2026-12-08", "16 06 05", "E1"),
        ("battery-unknown", "business", "2026-12-08", "16 06 01*", "E1"),
    ],
)
def test_batteries_change_their_code_on_the_ninth_of_december_2026(kind, holder, day, code, source):
    found = one("eu", holder, datetime.date.fromisoformat(day), kind=kind)
    assert found.code == code, source


@pytest.mark.parametrize(
    ("values", "code", "hazardous", "source"),
    [
        ({"kind": "old-diesel", "flash_point_c": 59.9}, "D001", True, "U3: below 60 C"),
        ({"kind": "old-diesel", "flash_point_c": 60.0}, "none", False, "U3: below 60 C"),
        ({"kind": "old-diesel", "flash_point_c": 55.0}, "D001", True, "EN 590: from 55 C; U3"),
        ({"kind": "old-diesel"}, "D001", True, "U3, cautious"),
        ({"kind": "old-petrol"}, "D001, D018", True, "U3, U4: benzene"),
        ({"kind": "rag-drying-oil"}, "D001", True, "U3: spontaneous chemical change; judgement"),
        ({"kind": "rag-oily", "soaked_in": "mineral oil"}, "none", False, "EPA, Managing Used Oil"),
        ({"kind": "engine-oil"}, "279", False, "40 CFR 279.10"),
        ({"kind": "oil-filter", "drained": True}, "none", False, "EPA answer on oil filters"),
        ({"kind": "oil-filter", "drained": False}, "279", True, "EPA answer on oil filters"),
        ({"kind": "battery-lead-acid"}, "D002, D008", True, "U4; D002 from memory"),
        ({"kind": "battery-nicd"}, "D006", True, "U4: cadmium"),
        ({"kind": "cells-mercury"}, "D009", True, "U4: mercury"),
        ({"kind": "cells-alkaline"}, "none", False, "from memory"),
        ({"kind": "battery-lithium"}, "D001, D003", True, "EPA memorandum of 24 May 2023"),
        ({"kind": "dust-paint", "lead": "found"}, "D008", True, "U4: lead 5.0 mg/L"),
        ({"kind": "gas-cylinder"}, "D001", True, "U3: ignitable compressed gas"),
        ({"kind": "lamp-fluorescent"}, "D009", True, "U4; 40 CFR 273"),
    ],
)
def test_a_us_business_gets_the_code_of_its_characteristic(values, code, hazardous, source):
    found = one("us-federal", "business", OLD, **values)
    assert (found.code, found.hazardous) == (code, hazardous), source


def test_copper_settles_nothing_under_us_federal_law():
    """U4: copper and tin are not on the list; the metals that are stay untested."""
    found = one("us-federal", "business", OLD, kind="dust-antifouling")
    assert found.code == "to be tested"
    assert "not on the federal list" in found.why


@pytest.mark.parametrize(
    ("kind", "number", "name", "source"),
    [
        ("old-diesel", "UN1202", "Gas oil or diesel fuel", "T2"),
        ("old-petrol", "UN1203", "Petrol", "T2"),
        ("rag-drying-oil", "UN1856", "Rags, oily, class 4.2", "T2"),
        ("rag-solvent", "UN3175", "Solids containing flammable liquid, n.o.s.", "T2"),
        ("battery-lead-acid", "UN2794", "Batteries, wet, filled with acid, class 8", "T2"),
        ("battery-nicd", "UN2795", "Batteries, wet, filled with alkali, class 8", "T2"),
        ("battery-nimh", "UN3496", "class 9, by sea only", "from memory"),
        ("beacon-distress", "UN3091", "Lithium metal batteries contained in equipment", "T2"),
        ("flare-hand", "UN0191", "class 1.4G", "T2, T3"),
        ("flare-smoke", "UN0197", "class 1.4G", "T2, T3"),
        ("flare-parachute", "UN0195", "class 1.3G", "T2, T3"),
        ("extinguisher-powder", "UN1044", "Fire extinguishers, class 2.2", "T2"),
        ("gas-cylinder-co2", "UN1013", "Carbon dioxide, class 2.2", "T2"),
        ("aerosol-can", "UN1950", "Aerosols, class 2", "T2"),
        ("paint-can", "UN1263", "Paint, class 3", "T2"),
        ("adhesive", "UN1133", "Adhesives, class 3", "T2"),
        ("resin", "UN1866", "Resin solution, class 3", "T2"),
        ("catalyst", "UN3105", "Organic peroxide, class 5.2", "T2"),
        ("thermostat-mercury", "UN3506", "Mercury contained in manufactured articles", "T2"),
        ("lagging-exhaust", "UN2590", "Asbestos, class 9", "T2"),
        ("fridge-unit", "UN2857", "class 2.2", "T2"),
        ("dust-antifouling", "UN3077", "Environmentally hazardous substance, solid", "T2"),
    ],
)
def test_transport_names_the_un_number_of_the_list(kind, number, name, source):
    transport = RULES.streams[RULES.kinds[kind].waste].transport
    assert number in transport, source
    assert name in transport, source


def test_no_stream_is_sent_under_the_number_of_vinyl_acetate():
    """T2: UN1301 is vinyl acetate, which no boat makes; it is often printed for oily rags."""
    assert not any("UN1301" in stream.transport for stream in RULES.streams.values())


def test_rags_with_drying_oil_lie_under_water_in_a_shut_metal_can():
    """Fire marshals of Essex, Connecticut and of Vancouver, Washington."""
    keep = RULES.streams["rag-drying"].keep_in
    assert all(word in keep for word in ("metal can", "tight lid", "under water", "out of doors"))


def test_acid_batteries_and_oily_rags_never_share_a_vehicle():
    """49 CFR 177.848(d): class 4.2 against class 8 liquid is X."""
    assert any("class 8" in row for row in RULES.streams["rag-oil"].keep_apart)
    assert any("class 4.2" in row for row in RULES.streams["lead-acid"].keep_apart)


def test_nobody_is_sent_to_the_coastguard_with_flares():
    """MCA press release: the UK Coastguard stopped taking private flares on 31 December 2022."""
    said = " ".join(call for stream in RULES.streams.values() for call in stream.call)
    assert "oastguard" not in said
