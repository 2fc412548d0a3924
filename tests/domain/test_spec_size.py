"""The title of a line says what is bought: the size that was fixed, not the one that comes out."""

import pytest

from shedtally.domain.renewals.lines import renewals

HOSE = {"kind": "hose-bilge", "size": "38 mm", "length_mm": 1200, "fate": "renew"}
CABLE = {"kind": "cable-dc", "size": "2 x 1.5 mm2", "length_mm": 900, "fate": "renew"}
COCK = {"kind": "seacock", "size": "G 3/4", "fate": "renew"}
TAIL = {"kind": "hose-tail", "size": "19 mm", "thread": "3/4 NPT", "fate": "renew"}
BOLT = {"kind": "fastener", "size": "M8 x 40", "fate": "renew"}


def titled(items, rules, item, **fixed):
    (line,) = [one for one in renewals(items(a=item), rules).lines if one.kind == item["kind"]]
    spec = ("spec", line.id, fixed)
    lines = renewals(items(spec, a=item), rules).lines
    (found,) = [one for one in lines if one.kind == item["kind"]]
    assert found.id == line.id
    return line, found, lines


@pytest.mark.parametrize(
    ("item", "fixed", "sizes"),
    [
        (HOSE, {"bore_mm": 25.0}, ("38 mm (1 1/2 in)", "25 mm (1 in)")),
        (HOSE, {"bore_mm": 43.0}, ("38 mm (1 1/2 in)", "43 mm")),
        (CABLE, {"conductor": "2.5 mm2"}, ("2 x 1.5 mm2", "2 x 2.5 mm2")),
        (CABLE, {"conductor": "AWG 12", "cores": 3}, ("2 x 1.5 mm2", "3 x AWG 12")),
        (CABLE, {"conductor": "4 x 4 mm2"}, ("2 x 1.5 mm2", "4 x 4 mm2")),
        (BOLT, {"size": "m10x40"}, ("M8 x 40", "M10 x 40")),
    ],
)
def test_the_title_has_the_size_that_was_fixed(items, rules, item, fixed, sizes):
    old, new = sizes
    before, after, _ = titled(items, rules, item, **fixed)
    assert (before.size, after.size) == sizes
    assert f", {old}" in before.spec
    assert f", {new}" in after.spec
    assert f", {old}" not in after.spec


@pytest.mark.parametrize(
    ("item", "fixed", "thread"),
    [
        (COCK, {"thread_family": "R"}, "thread R 3/4"),
        (COCK, {"thread_size": "1"}, "thread G 1"),
        (TAIL, {"thread_family": "NPS", "thread_size": "1"}, "thread 1 NPS"),
        (TAIL, {"thread_family": "G"}, "thread G 3/4"),
        (TAIL, {"thread_family": "metric", "thread_size": "20 x 1.5"}, "thread M20 x 1.5"),
        (TAIL, {}, "thread 3/4 NPT"),
    ],
)
def test_the_title_has_the_thread_that_was_fixed(items, rules, item, fixed, thread):
    _, after, _ = titled(items, rules, item, **fixed)
    assert thread in after.spec.split(", ")


def test_a_material_that_was_fixed_stands_in_the_title(items, rules):
    _, after, _ = titled(items, rules, COCK, material="DZR brass")
    assert "DZR brass" in after.spec.split(", ")


def test_the_clamps_are_those_of_the_hose_that_is_bought(items, rules):
    ends = [("end", f"e{n}", {"item": "a", "joined": "one clamp"}) for n in (1, 2)]
    (line,) = [one for one in renewals(items(a=HOSE), rules).lines if one.kind == HOSE["kind"]]
    bought = renewals(items(*ends, ("spec", line.id, {"bore_mm": 25.0}), a=HOSE), rules)
    (clamps,) = [one for one in bought.lines if one.kind == "hose-clamp"]
    same = renewals(items(*ends, a={**HOSE, "size": "25 mm"}), rules)
    (usual,) = [one for one in same.lines if one.kind == "hose-clamp"]
    assert (clamps.id, clamps.size) == (usual.id, usual.size)
    assert "for hose 25 mm (1 in)" in clamps.size


def test_a_hose_by_its_thread_is_asked_for_its_inside(items, rules):
    (line,) = renewals(items(a={**HOSE, "size": "R 3/4"}), rules).lines
    assert any("R 3/4 is a thread" in ask and "19 mm" in ask for ask in line.open_questions)
