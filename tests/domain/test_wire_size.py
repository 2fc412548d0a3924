"""Sizing a wire: what is asked, what is refused with its range, and the old wire beside the new."""

from __future__ import annotations

import importlib.util
import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Boat, End, Item
from shedtally.domain.renewals.circuits import circuits
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.schedules import wire_columns
from shedtally.domain.wiring.cable_size import order_size
from shedtally.domain.wiring.lists import WireSizing
from shedtally.domain.wiring.rings import ring_for
from shedtally.domain.wiring.size import size_wire

CONTRACT = Path(__file__).parents[2] / "fixtures/contract"
GOOD: dict[str, Any] = {
    "load_a": 10, "voltage_v": 12, "length_mm": 3200, "critical": True, "duty": "at times",
    "hot_space": False, "bundled": 2, "insulation_c": 105, "sheathed": True,
}  # fmt: skip


@pytest.fixture
def sized(rules):
    def size(ac: bool = False, **fields: Any) -> WireSizing:
        return size_wire(Item(key="run", **{**GOOD, **fields}), ac, rules.wiring)

    return size


def test_the_fixture_of_both_languages_is_what_the_server_says() -> None:
    spec = importlib.util.spec_from_file_location("make_wiring", CONTRACT / "make_wiring.py")
    assert spec
    assert spec.loader
    maker = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(maker)
    kept = json.loads((CONTRACT / "wiring.json").read_text("utf-8"))
    assert kept == json.loads(maker.made()), "run python fixtures/contract/make_wiring.py"


def test_what_is_missing_is_asked_for_in_one_go(rules) -> None:
    sizing = size_wire(Item(key="run"), False, rules.wiring)
    assert [text.split(" first")[0] for text in sizing.asks] == [
        "Write the load",
        "Write the voltage",
        "Write the length",
    ]
    assert sizing.gauge is None


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"load_a": 0}, "more than 0 A"),
        ({"load_a": None, "load_w": 0}, "more than 0 A"),
        ({"load_a": 501}, "up to 500 A"),
        ({"length_mm": 0}, "more than 0, up to 100 m"),
        ({"length_mm": 50_000, "return_mm": 50_001}, "up to 100 m"),
        ({"voltage_v": 5}, "6 to 60 V DC"),
        ({"voltage_v": 72}, "6 to 60 V DC"),
        ({"voltage_v": 400, "ac": True}, "100 to 250 V AC of one phase"),
        ({"ambient_c": 71}, "-20 to 70 °C"),
        ({"ambient_c": 51, "insulation_c": 60}, "-20 to 50 °C with insulation for 60 °C"),
        ({"bundled": 101}, "1 to 100"),
        ({"load_a": 480, "length_mm": 400}, "4/0, the thickest, bears 445 A of 480 A"),
        ({"load_a": 300, "length_mm": 20_000}, "drops"),
        ({"load_a": 110, "voltage_v": 230, "ac": True, "insulation_c": 75}, "With AC this reaches"),
    ],
)
def test_outside_what_it_covers_it_says_why_the_range_and_the_way_out(sized, fields, said) -> None:
    sizing = sized(**fields)
    assert said in sizing.refused
    assert sizing.gauge is None
    assert sizing.metric is None


def test_what_nobody_said_counts_at_its_worst_and_is_named(sized) -> None:
    unsaid = sized(
        critical=None, duty=None, hot_space=None, insulation_c=None, bundled=None, sheathed=None
    )
    assert unsaid.allowed_share == 0.03
    assert unsaid.fuse_from_a == 12.5
    assert unsaid.ambient_c == 50
    assert unsaid.insulation_c == 60
    assert len(unsaid.assumed) == 7
    assert sized(return_mm=3200).assumed == ()


def test_loads_that_disagree_are_named_and_the_larger_counts(sized) -> None:
    sizing = sized(load_a=3, load_w=120)
    assert sizing.amps == 10
    assert "don't agree" in sizing.notes[0]
    assert sized(load_a=10, load_w=118).notes == ()


def test_a_gauge_of_the_table_bears_what_the_table_says(sized) -> None:
    # Areas are rounded in the table: AWG 10 must not fall to the row of AWG 12.
    assert sized(size="AWG 10").old.bears_a == 60
    assert sized(size="10 AWG", new_size="2 x AWG 14").taken.bears_a == 35


@pytest.mark.parametrize(
    ("size", "said"),
    [
        (
            "AWG 14",
            "thinner than the AWG 12 that it takes, and fails: drops 4.6 % where 3 % is allowed.",
        ),
        ("2 x 4 mm2", "The old 4 mm2 is what it takes"),
        ("10 mm2", "thicker than it needs"),
        ("AWG 24", "thinner than"),
        ("19 mm", "is no conductor: write mm2 or AWG"),
        ("thick", "can't be compared"),
        (None, "is not written"),
    ],
)
def test_the_old_wire_is_compared_in_its_own_series(sized, size, said) -> None:
    assert said in sized(size=size).old_words


def test_a_fuse_lies_between_the_load_and_what_the_wire_bears(sized) -> None:
    sizing = sized(duty="hours")
    for fit in (sizing.gauge, sizing.metric):
        assert all(12.5 <= rating <= fit.bears_a for rating in fit.fuses)
    # 10 A for hours asks for 12.5 A; a wire for 14 A has no fuse that is sold between.
    thin = sized(duty="hours", new_size="AWG 16", insulation_c=80, bundled=3)
    assert thin.taken.bears_a == pytest.approx(14)
    assert thin.taken.fails[0] == "no fuse is sold between 12.5 and 14 A"


def test_rings_are_named_by_conductor_and_stud(rules) -> None:
    wiring = rules.wiring
    assert ring_for(50, "M10", wiring) == "50 mm2, AWG 1 to 1/0; ring M10"
    assert ring_for(2.5, None, wiring).endswith("stud open")
    assert ring_for(2.5, "big", wiring).endswith("write M8 or 5/16 in")
    assert "none common for the stud M12" in ring_for(2.5, "M12", wiring)
    assert ring_for(None, "M8", wiring) == "conductor open"
    assert "ask the supplier" in ring_for(240, "M12", wiring)


@pytest.mark.parametrize("stud", ["M\u00b3", "M1,2.3", "M\u0663", "M", "M8.", "m 8 x"])
def test_a_stud_in_other_signs_than_figures_is_said_to_be_unreadable(rules, stud) -> None:
    assert f"the stud {stud} can't be read" in ring_for(2.5, stud, rules.wiring)


@pytest.mark.parametrize(("stud", "name"), [("M8", "8"), (" m 8 ", "8"), ("M3,5", "3.5")])
def test_a_stud_is_read_with_either_decimal_sign(rules, stud, name) -> None:
    assert ring_for(2.5, stud, rules.wiring).endswith(f"ring M{name}")


def test_a_load_next_to_nothing_over_next_to_no_length_takes_the_thinnest_wire(sized) -> None:
    found = sized(load_a=5e-324, length_mm=1e-300)
    assert (found.metric.name, found.metric.fails) == ("1 mm2", ())


@pytest.fixture
def boat() -> BoatRecords:
    wire = {**GOOD, "kind": "cable-dc", "trunking": "Port, 25 x 16 mm"}
    items = [
        Item(key="panel", name="Panel", kind="switch-panel-dc"),
        Item(key="light", name="Light", kind="light-cabin"),
        Item(key="a", name="A", size="2 x 1.5 mm2", new_size="2 x 4 mm2", **wire),
        Item(key="b", name="B", size="AWG 14", **{**wire, "count": 2, "length_mm": 5000}),
        Item(key="c", name="C", kind="cable-battery", size="50 mm2"),
        Item(key="d", name="Aerial", kind="cable-signal", size="10 mm"),
    ]
    ends = [
        End(key="1", item="a", to_item="light", stud="M4"),
        End(key="2", item="a", to_item="panel", stud="M5"),
        End(key="3", item="panel", to_item="b"),
    ]
    return BoatRecords(
        boat=Boat(key="boat"),
        items={item.key: item for item in items},
        ends={end.key: end for end in ends},
    )


def test_circuits_read_from_where_they_are_fed(boat, rules) -> None:
    found = {line.key: line for line in circuits(boat, rules).circuits}
    assert set(found) == {"a", "b", "c"}
    assert [end.to for end in found["a"].ends] == ["Panel", "Light"]
    assert [end.to for end in found["b"].ends] == ["Panel", "not written"]
    assert found["a"].verdict == "the old one fails"
    assert found["c"].verdict == "not sized yet"
    assert (found["a"].order_size, found["a"].order_how) == ("2 x 4 mm2", "as it was taken")
    assert found["b"].order_how == "copied, not sized"


def test_the_wiring_schedule_has_a_column_for_each_thing_that_a_new_one_needs(boat, rules) -> None:
    of = wire_columns.columns(boat, rules)
    said = dict(zip(wire_columns.HEADS, of(boat.items["a"]), strict=True))
    assert said == {
        "current": "DC 12 V",
        "fed from": "Panel",
        "load": "10 A",
        "old fuse": "",
        "studs": "M5 at Panel; M4 at Light",
        "trunking": "Port, 25 x 16 mm",
        "new wire": "the old one fails; takes 4 mm2 or AWG 12; 2 x 4 mm2, as it was taken",
    }
    assert set(of(boat.items["d"])) == {""}
    assert of(boat.items["c"])[-1] == "not sized yet; 50 mm2, copied, not sized"


def test_parts_are_counted_at_both_ends_of_every_run(boat, rules) -> None:
    made = circuits(boat, rules)
    rings = [part for part in made.parts if part.sort == "terminal"]
    # A: two cores, B: two cores in each of two pieces (one sheath each), C: one.
    assert sum(part.count for part in rings) == 2 * (2 + 4 + 1)
    assert {part.name for part in rings if "A" in part.runs} == {
        "4 to 6 mm2, AWG 12 to 10, yellow; ring M4",
        "4 to 6 mm2, AWG 12 to 10, yellow; ring M5",
    }
    (trunking,) = [part for part in made.parts if part.sort == "trunking"]
    assert trunking.length_mm == 5000
    fuses = [part for part in made.parts if part.sort == "fuse or breaker"]
    assert sum(part.count for part in fuses) == 2


def test_renewals_buy_the_size_that_was_taken_and_say_what_was_only_copied(boat, rules) -> None:
    lines = {line.size: line for line in renewals(boat, rules).lines}
    assert lines["2 x 4 mm2"].items == ("a",)
    assert lines["2 x 4 mm2"].open_questions == ()
    assert any("copied, not sized" in text for text in lines["AWG 14"].open_questions)
    assert "2 x 1.5 mm2" not in lines


def test_renewals_buy_the_terminals_fuses_and_trunking_too(boat, rules) -> None:
    lines = renewals(boat, rules).lines
    rings = [line for line in lines if line.kind == "cable-terminal"]
    assert sum(line.count for line in rings) == 14
    assert all(line.open_questions for line in rings)
    assert {line.size for line in lines if line.kind == "fuse"} == {"10 A"}
    (trunking,) = [line for line in lines if line.spec.startswith("Trunking")]
    assert trunking.order_mm == 5000


def test_a_trunking_that_is_named_after_mains_is_no_fuse(rules) -> None:
    run = Item(key="a", kind="cable-dc", fate="renew", trunking="Behind the AC", length_mm=3000.0)
    lines = renewals(BoatRecords(boat=Boat(key="boat"), items={"a": run}), rules).lines
    (trunking,) = [line for line in lines if line.order_mm and line.size == "Behind the AC"]
    assert (trunking.kind, trunking.system) == ("trunking", rules.kinds["trunking"].system)


def test_what_is_counted_from_wires_is_another_line_than_what_is_listed_itself(boat, rules) -> None:
    listed = {
        "fuse": Item(key="fuse", kind="fuse", size="10 A", fate="renew"),
        "duct": Item(key="duct", kind="trunking", size="25 x 16 mm", fate="renew"),
        "e": replace(boat.items["b"], key="e", trunking="25 x 16 mm"),
    }
    lines = renewals(replace(boat, items={**boat.items, **listed}), rules).lines
    assert len({line.id for line in lines}) == len(lines)
    assert sorted(line.count for line in lines if line.size == "10 A") == [1, 3]


def test_a_taken_size_that_cannot_be_read_is_not_ordered() -> None:
    item = Item(key="1", size="2.5 mm2", new_size="thick")
    assert order_size(item) == ("2.5 mm2", "copied, not sized")
