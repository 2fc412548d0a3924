"""What is left to take out, and what it waits for."""

import pytest

from shedtally.domain.work.left import UNKNOWN_ORDER, left_to_take_out

DRAIN_FUEL = ("job", "drain", {"task": "make safe", "system": "fuel", "name": "Drain the tank"})


# Fuel, gas, batteries and shore power were made safe, so that only what a test adds holds back.
ALL_SAFE = [
    ("job", f"safe-{system}", {"task": "make safe", "system": system, "done_at": "2026-05-01"})
    for system in ("fuel", "gas", "dc", "ac")
]


@pytest.fixture
def left(items, rules):
    return lambda *rows, **by_key: left_to_take_out(items(*ALL_SAFE, *rows, **by_key), rules)


@pytest.fixture
def left_unsafe(items, rules):
    return lambda *rows, **by_key: left_to_take_out(items(*rows, **by_key), rules)


def line(found, key):
    lines = [row for group in found.by_system for row in group.items]
    return next(row for row in lines if row.key == key)


def test_nothing_of_a_system_is_ready_while_its_make_safe_job_is_open(left):
    found = left(DRAIN_FUEL, hose={"kind": "hose-fuel"}, lamp={"kind": "light-cabin"})
    assert line(found, "hose").waits_for == ("Make safe: Drain the tank",)
    assert not line(found, "hose").ready
    assert line(found, "lamp").ready
    assert found.ready == 1


def test_a_done_make_safe_job_holds_nothing_back(left):
    done = ("job", "drain", {**DRAIN_FUEL[2], "done_at": "2026-05-04"})
    assert line(left(done, hose={"kind": "hose-fuel"}), "hose").ready


def test_an_engine_waits_for_every_system_it_hangs_on(left):
    raw = ("job", "raw", {"task": "make safe", "system": "raw-water"})
    found = left(DRAIN_FUEL, raw, engine={"kind": "engine"})
    assert len(line(found, "engine").waits_for) == 2
    assert line(found, "engine").waits_for[1].startswith("Make safe: Check that the boat stands")


def test_an_item_of_no_known_kind_waits_for_its_own_system(left):
    found = left(DRAIN_FUEL, what={"system": "fuel"}, other={"system": "deck"}, bare={})
    assert not line(found, "what").ready
    assert line(found, "other").ready
    assert line(found, "bare").ready


def test_the_system_written_on_an_item_counts_beside_that_of_its_kind(left):
    found = left(
        DRAIN_FUEL,
        pump={"kind": "bilge-pump", "system": "fuel"},
        hatch={"kind": "hatch", "system": "fuel"},
    )
    assert not line(found, "pump").ready
    assert line(found, "hatch").ready


def test_a_make_safe_job_without_a_system_holds_its_compartment_and_what_is_in_it(left):
    rows = [
        ("compartment", "cabin", {"name": "Cabin"}),
        ("compartment", "locker", {"name": "Locker", "within": "cabin"}),
        ("compartment", "fore", {"name": "Fore cabin"}),
        ("job", "safe", {"task": "make safe", "compartment": "cabin"}),
    ]
    found = left(
        *rows,
        near={"kind": "hose-gas", "compartment": "locker"},
        far={"kind": "hose-gas", "compartment": "fore"},
        door={"kind": "door", "compartment": "locker"},
    )
    assert line(found, "near").waits_for == ("Make safe: a job without a name",)
    assert line(found, "far").ready
    assert line(found, "door").ready


def test_a_make_safe_job_of_nothing_in_particular_holds_everything_that_needs_any(left):
    found = left(("job", "j", {"task": "make safe", "name": "Unplug"}), a={"kind": "hose-gas"})
    assert line(found, "a").waits_for == ("Make safe: Unplug",)


def test_other_work_holds_nothing_back_by_itself(left):
    found = left(("job", "j", {"task": "clean", "system": "fuel"}), a={"kind": "hose-fuel"})
    assert line(found, "a").ready


def test_a_ring_of_compartments_ends(left):
    rows = [
        ("compartment", "a", {"name": "A", "within": "b"}),
        ("compartment", "b", {"name": "B", "within": "a"}),
        ("job", "j", {"task": "make safe", "compartment": "elsewhere"}),
    ]
    assert line(left(*rows, it={"kind": "hose-gas", "compartment": "a"}), "it").ready


def test_an_item_waits_until_what_comes_before_it_is_out(left):
    order = ("before", "o", {"first": "item/steps", "then": "item/engine"})
    aboard = left(order, steps={"kind": "steps"}, engine={"kind": "engine"})
    assert line(aboard, "engine").waits_for == ("Take out first: Companionway steps",)
    out = left(order, steps={"kind": "steps", "whereabouts": "ashore"}, engine={"kind": "engine"})
    assert line(out, "engine").ready


def test_an_item_waits_until_the_job_before_it_is_done(left):
    rows = [
        ("before", "o", {"first": "job/cut", "then": "item/tank"}),
        ("before", "p", {"first": "job/cut", "then": "item/tank"}),
    ]
    job = ("job", "cut", {"name": "Cut the sole open", "task": "other"})
    assert line(left(*rows, job, tank={"kind": "water-tank"}), "tank").waits_for == (
        "Do first: Cut the sole open",
    )
    bare = ("job", "cut", {"task": "scrape"})
    assert line(left(*rows, bare, tank={}), "tank").waits_for == ("Do first: Scrape",)
    done = ("job", "cut", {"name": "Cut", "done_at": "2026-05-04"})
    assert line(left(*rows, done, tank={"kind": "water-tank"}), "tank").ready


def test_a_make_safe_job_that_is_also_in_an_order_is_named_once(left):
    order = ("before", "o", {"first": "job/drain", "then": "item/hose"})
    found = left(DRAIN_FUEL, order, hose={"kind": "hose-fuel"})
    assert line(found, "hose").waits_for == ("Make safe: Drain the tank",)


def test_two_items_that_wait_for_each_other_are_never_ready(left):
    found = left(
        ("before", "o", {"first": "item/a", "then": "item/b"}),
        ("before", "p", {"first": "item/b", "then": "item/a"}),
        a={"kind": "door"},
        b={"kind": "table"},
    )
    assert found.ready == 0


def test_an_order_that_names_something_unknown_is_a_caution(left):
    found = left(("before", "o", {"first": "item/gone", "then": "item/a"}), a={"kind": "door"})
    assert line(found, "a").ready
    assert line(found, "a").cautions == (UNKNOWN_ORDER,)
    found = left(("before", "o", {"first": "job/gone", "then": "item/a"}), a={})
    assert line(found, "a").cautions == (UNKNOWN_ORDER,)


def test_an_order_without_an_end_is_left_aside(left):
    found = left(("before", "o", {"first": "item/b"}), a={"kind": "door"}, b={})
    assert found.ready == 2


def test_a_system_that_nobody_made_safe_is_a_caution_until_there_is_a_job(left_unsafe):
    alone = line(left_unsafe(hose={"kind": "hose-fuel"}), "hose")
    assert any("Nobody has written down that Fuel was made safe" in c for c in alone.cautions)
    held = line(left_unsafe(DRAIN_FUEL, hose={"kind": "hose-fuel"}), "hose")
    assert not any("Nobody has written down" in c for c in held.cautions)


def test_counts_are_pieces_and_what_is_out_stays_counted(left):
    found = left(
        ("compartment", "c", {"name": "Saloon"}),
        clamps={"kind": "hose-clamp", "count": 22, "compartment": "c"},
        hoses={"kind": "hose-gas", "count": 3, "compartment": "c", "whereabouts": "ashore"},
        gone={"kind": "table", "whereabouts": "gone"},
        noted={"kind": "door", "out_at": "2026-05-04"},
    )
    assert (found.total, found.out, found.left, found.ready) == (27, 5, 22, 22)
    saloon = found.by_compartment[0]
    assert (saloon.name, saloon.total, saloon.out, saloon.left) == ("Saloon", 25, 3, 22)


def test_compartments_go_by_path_and_what_is_not_placed_comes_last(left):
    found = left(
        ("compartment", "b", {"name": "Galley", "within": "a"}),
        ("compartment", "a", {"name": "Cabin"}),
        ("compartment", "z", {"name": "Bilge"}),
        one={"kind": "tap", "compartment": "b"},
        two={"kind": "tap"},
        three={"kind": "tap", "compartment": "not-here-yet"},
        four={"kind": "tap", "compartment": "z", "whereabouts": "ashore"},
    )
    assert [(g.path, g.name, g.left) for g in found.by_compartment] == [
        (("Bilge",), "Bilge", 0),
        (("Cabin", "Galley"), "Galley", 1),
        ((), "Not placed", 2),
    ]


def test_systems_go_in_their_own_order_and_what_has_none_comes_last(left):
    found = left(a={"kind": "plotter"}, b={"kind": "hose-fuel"}, c={}, d={"system": "moon"})
    assert [(g.key, g.name, g.left) for g in found.by_system] == [
        ("fuel", "Fuel", 1),
        ("electronics", "Electronics", 1),
        ("", "No system", 2),
    ]


def test_what_is_ready_stands_before_what_waits(left):
    found = left(
        DRAIN_FUEL,
        a={"kind": "fuel-tank", "name": "A tank"},
        b={"kind": "fuel-can", "name": "Z can"},
    )
    assert [row.name for row in found.by_system[0].items] == ["Z can", "A tank"]


def test_a_line_carries_name_kind_tags_and_cautions(left):
    found = left(("tag", "K7Q4M2", {"on": "item/a"}), a={"kind": "flare-hand", "name": "Old red"})
    row = line(found, "a")
    assert (row.name, row.kind, row.system, row.tags) == (
        "Old red",
        "flare-hand",
        "safety",
        ("K7Q4M2",),
    )
    assert "Explosive: do not fire, open, soak or bin it." in row.cautions


def test_an_item_without_name_and_kind_is_still_on_the_list(left):
    assert line(left(a={}), "a").name == "Item without a name"


def test_an_empty_boat_has_an_empty_list(left):
    found = left()
    assert (found.total, found.by_compartment, found.by_system) == (0, (), ())


@pytest.mark.parametrize("kind", ["hose-fuel", "hose-gas", "battery-lead-acid", "shore-inlet"])
def test_what_can_kill_waits_until_somebody_writes_down_that_it_is_safe(left_unsafe, kind):
    found = line(left_unsafe(it={"kind": kind}), "it")
    assert not found.ready
    assert found.waits_for[0].startswith("Make safe: ")
    assert any("Nothing of it is ready before" in caution for caution in found.cautions)


def test_a_missing_make_safe_job_elsewhere_is_only_a_caution(left_unsafe):
    found = line(left_unsafe(it={"kind": "hose-raw-water"}), "it")
    assert found.ready
    assert any(caution.startswith("Nobody has written down") for caution in found.cautions)


CABIN = [
    ("compartment", "cabin", {"name": "Cabin"}),
    ("compartment", "bilge", {"name": "Bilge", "within": "cabin"}),
]


def test_the_way_into_a_compartment_holds_back_all_that_is_in_it(left):
    order = ("before", "o", {"first": "item/board", "then": "compartment/bilge"})
    board = {"kind": "sole-board", "compartment": "cabin"}
    tank = {"kind": "water-tank", "compartment": "bilge"}
    found = left(*CABIN, order, board=board, tank=tank, table={"compartment": "cabin"})
    assert line(found, "tank").waits_for == ("Take out first: Sole board",)
    assert line(found, "table").ready
    assert line(found, "board").ready
    out = {**board, "whereabouts": "ashore"}
    assert line(left(*CABIN, order, board=out, tank=tank), "tank").ready


def test_what_comes_after_an_empty_compartment_waits_for_everything_in_it(left):
    order = ("before", "o", {"first": "compartment/cabin", "then": "job/grind"})
    after = ("before", "p", {"first": "job/grind", "then": "item/door"})
    job = ("job", "grind", {"task": "grind", "name": "Grind the bilge"})
    tank = {"kind": "water-tank", "compartment": "bilge"}
    found = left(*CABIN, order, after, job, tank=tank, door={"kind": "door"})
    assert line(found, "door").waits_for == ("Do first: Grind the bilge",)
    assert line(found, "tank").ready


def test_a_ring_of_orders_is_shown(left):
    found = left(
        ("before", "o", {"first": "item/a", "then": "item/b"}),
        ("before", "p", {"first": "item/b", "then": "item/a"}),
        a={"kind": "door"},
        b={"kind": "table"},
    )
    assert line(found, "a").waits_for[-1] == (
        "Orders in a ring, mend one: Door before Table before Door"
    )


def test_what_was_put_back_has_come_out_and_holds_nothing_back(left):
    put_back = {"whereabouts": "aboard", "out_at": "2026-05-02", "back_at": "2027-03-01"}
    order = ("before", "order", {"first": "item/sole", "then": "item/tank"})
    found = left(order, sole={"kind": "sole-board", **put_back}, tank={"kind": "tank-water"})
    assert (found.total, found.out, found.left) == (2, 1, 1)
    assert line(found, "tank").ready
    again = left(
        order,
        sole={"kind": "sole-board", **put_back, "whereabouts": "ashore"},
        tank={"kind": "tank-water"},
    )
    assert again.out == 1
