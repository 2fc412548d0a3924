"""The schedule of pipes and wires: each run once in the table, and a drawing that can be read."""

import pytest

from shedtally.domain.schedules.blocks import blocks
from shedtally.domain.schedules.layout import Box, Link
from shedtally.domain.schedules.schedule import schedule

HOSE = {"kind": "hose-raw-water", "size": "25 mm"}


def place(key, from_m, to_m, **more):
    return ("compartment", key, {"name": key, "from_m": from_m, "to_m": to_m, **more})


def end(key, item, **values):
    return ("end", key, {"item": item, **values})


@pytest.fixture
def drawn(items, rules):
    def made(*rows, sort="piping", **by_key):
        return schedule(items(("boat", "boat", {"length_m": 10}), *rows, **by_key), rules, sort)

    return made


def test_a_run_stands_between_what_its_ends_lead_to(drawn):
    found = drawn(
        place("heads", 2, 4),
        place("engine", 5, 7),
        end("1", "hose", to_item="cock"),
        end("2", "hose", to_item="pump"),
        cock={"kind": "seacock", "compartment": "engine"},
        pump={"kind": "toilet-pump", "compartment": "heads"},
        hose={**HOSE, "compartment": "engine", "length_mm": 900},
    )
    (system,) = found.systems
    (row,) = system.rows
    assert (row.ends, row.length_mm, system.name) == (("Seacock", "Toilet pump"), 900, "Raw water")
    (block,) = system.blocks
    assert [column.name for column in block.columns] == [("heads",), ("engine",)]
    left, right = sorted(block.nodes, key=lambda node: node.x)
    assert (left.key, right.key) == ("item/pump", "item/cock")
    (run,) = block.runs
    assert (run.item, run.name, run.size) == ("hose", "no. 1", "25 mm")


def test_what_is_joined_within_a_compartment_stands_side_by_side(drawn):
    found = drawn(
        place("engine", 5, 7),
        *(end(f"{n}a", f"h{n}", to_point=f"point {n}") for n in range(3)),
        *(end(f"{n}b", f"h{n}", to_point=f"point {n + 1}") for n in range(3)),
        **{f"h{n}": {**HOSE, "compartment": "engine"} for n in range(3)},
    )
    (block,) = found.systems[0].blocks
    assert sorted({node.x for node in block.nodes}) == sorted(node.x for node in block.nodes)
    assert [column.name for column in block.columns] == [("engine",)]


def test_an_end_that_nobody_wrote_down_is_drawn_open_and_asked_for(drawn):
    found = drawn(end("1", "hose", to_point="bilge"), hose=HOSE)
    (system,) = found.systems
    assert {node.sort for node in system.blocks[0].nodes} == {"point", "open"}
    assert system.open_questions == (
        "Raw-water hose (no. 1): nobody wrote down where one end leads.",
    )


def test_an_end_that_only_the_other_side_wrote_down_counts(drawn):
    found = drawn(
        end("1", "pump", label="inlet", to_item="hose"),
        end("2", "hose", to_point="bilge"),
        pump={"kind": "bilge-pump"},
        hose=HOSE,
    )
    assert found.systems[0].rows[0].ends == ("bilge", "Bilge pump")
    both = drawn(
        end("1", "pump", to_item="hose"),
        end("2", "hose", to_item="pump"),
        pump={"kind": "bilge-pump"},
        hose=HOSE,
    )
    assert both.systems[0].rows[0].ends == ("Bilge pump", "")


def test_two_runs_that_are_joined_to_each_other_meet_in_one_point(drawn):
    found = drawn(
        end("1", "a", to_item="b"),
        end("2", "b", to_item="a"),
        end("3", "a", to_point="tank"),
        end("4", "b", to_point="pump"),
        a=HOSE,
        b=HOSE,
    )
    (block,) = found.systems[0].blocks
    assert sorted(node.sort for node in block.nodes) == ["joint", "point", "point"]
    assert len(block.runs) == 2


def test_a_run_of_three_ends_is_a_box_with_three_lines(drawn):
    found = drawn(
        *(end(str(n), "tee", to_point=f"place {n}") for n in range(3)), tee={**HOSE, "name": "Tee"}
    )
    (block,) = found.systems[0].blocks
    assert sorted(node.sort for node in block.nodes) == ["point", "point", "point", "run"]
    assert {run.item for run in block.runs} == {"tee"}
    assert len(block.runs) == 3


def test_wires_and_pipes_are_two_schedules_and_new_parts_are_in_neither(drawn):
    rows = {
        "wire": {"kind": "cable-dc"},
        "hose": HOSE,
        "new": {**HOSE, "never_aboard": True},
        "rope": {"kind": "rope"},
    }
    assert [row.item for row in drawn(**rows).systems[0].rows] == ["hose"]
    assert [row.item for row in drawn(**rows, sort="wiring").systems[0].rows] == ["wire"]


def test_a_boat_without_runs_has_an_empty_schedule(drawn):
    assert drawn(cock={"kind": "seacock"}).systems == ()


def test_a_run_of_three_open_ends_asks_for_all_of_them(drawn):
    ends = [end(f"e{n}", "a", joined="clamp") for n in range(3)]
    (system,) = drawn(*ends, a=HOSE).systems
    (asked,) = system.open_questions
    assert asked.endswith("nobody wrote down where its 3 ends lead.")


def test_a_name_in_a_drawing_is_measured_as_often_however_many_runs_there_are():
    measured = []

    class Name(str):
        __slots__ = ()

        def __len__(self):
            measured.append(self)
            return super().__len__()

    def times(count):
        measured.clear()
        boxes = {
            str(n): Box(str(n), "item", f"no. {n}", "", (float(n % 5), f"c{n % 5}"), f"c{n % 5}")
            for n in range(count + 1)
        }
        blocks(boxes, [Link(str(n), Name("K7Q4"), "", "0", str(n + 1)) for n in range(count)])
        return len(measured)

    assert times(200) == 2 * times(100)
