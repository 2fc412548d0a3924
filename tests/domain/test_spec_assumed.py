"""What a line counts with where nothing was fixed is said with its reason; the fixed follows."""

from shedtally.domain.renewals.circuits import circuits
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.renewals.parts import PartsReader

HOSE = {"kind": "hose-raw-water", "size": "19 mm", "length_mm": 1000}
WIRE = {
    "kind": "cable-dc", "size": "2 x 2.5 mm2", "fate": "renew", "length_mm": 4000, "load_a": 10,
    "voltage_v": 12,
}  # fmt: skip


def line_of(items, rules, values):
    return PartsReader(rules).wanted(items(a=values).items["a"]).parts.id


def said(boat, rules, kind):
    (line,) = [line for line in renewals(boat, rules).lines if line.kind == kind]
    return " ".join(line.assumed), line


def test_all_that_is_assumed_of_a_hose_is_said_and_why(items, rules):
    words, line = said(items(a=HOSE), rules, "hose-raw-water")
    assert (line.section, line.service) == ("hose", "raw water")
    for part in (
        "Asked for: reinforced", "For raw water: a hose of this kind carries nothing else",
        "Inside 19 mm (3/4 in): the size that is written", "Outside about",
        "Two clamps at each end: what is usual for raw water", "10 % longer", "100 mm more",
    ):  # fmt: skip
        assert part in words


def test_what_was_fixed_is_assumed_no_more_and_what_is_added_follows(items, rules):
    key = line_of(items, rules, HOSE)
    spec = {
        "standard": "SAE J2006", "service": "exhaust", "bore_mm": 19, "outside_mm": 30,
        "clamps_each_end": 1, "allowance": 0.0, "each_end_mm": 50,
    }  # fmt: skip
    words, line = said(items(("spec", key, spec), a=HOSE), rules, "hose-raw-water")
    assert words == ""
    (run,) = line.runs
    assert run.cut_mm == 1100
    assert (line.allowance, line.order_mm) == (0.0, 1100)
    assert "50 mm more for each end." in line.details


def test_another_service_brings_its_own_clamps(items, rules):
    key = line_of(items, rules, HOSE)
    boat = items(("spec", key, {"service": "fresh water"}), a=HOSE)
    words, _ = said(boat, rules, "hose-raw-water")
    assert "One clamp at each end: what is usual for fresh water" in words


def test_insulation_that_was_fixed_for_a_line_counts_for_all_its_runs(items, rules):
    key = line_of(items, rules, WIRE)
    bare = circuits(items(a=WIRE), rules).circuits[0].sizing
    fixed = items(("spec", key, {"insulation_c": 105}), a=WIRE, b={**WIRE, "insulation_c": 75})
    found = {line.key: line.sizing for line in circuits(fixed, rules).circuits}
    assert (bare.insulation_c, found["a"].insulation_c, found["b"].insulation_c) == (60, 105, 75)
    assert len(found["a"].assumed) < len(bare.assumed)
