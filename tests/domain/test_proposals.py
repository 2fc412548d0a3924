"""Orders that usually hold are offered from kinds, joins and nearness, and never close a ring."""

from __future__ import annotations

import pytest

from shedtally.domain.work.network import Orders
from shedtally.domain.work.proposals import proposals
from shedtally.domain.work.steps import steps_of


def offered(boat, rules, **more):
    return {(row.first, row.then): row for row in proposals(boat, rules, **more)}


def test_a_cushion_comes_before_the_board_in_its_own_compartment_alone(items, rules):
    boat = items(
        ("compartment", "cabin", {"name": "Cabin"}),
        cushion={"kind": "cushion", "compartment": "cabin"},
        board={"kind": "bunk-board", "compartment": "cabin"},
        other={"kind": "bunk-board", "compartment": "fore"},
        loose={"kind": "bunk-board"},
    )
    (pair,) = offered(boat, rules)
    assert pair == ("item/cushion", "item/board")
    row = offered(boat, rules)[pair]
    assert (row.first_name, row.then_name) == ("Cushion", "Bunk board")
    assert (row.rule, bool(row.why)) == ("cushion-before-board", True)


def test_a_hose_comes_before_the_seacock_it_ends_at_whichever_end_names_which(items, rules):
    for ends in (
        [("end", "e", {"item": "hose", "to_item": "cock"})],
        [("end", "e", {"item": "cock", "to_item": "hose"})],
    ):
        boat = items(*ends, hose={"kind": "hose-bilge"}, cock={"kind": "seacock"})
        assert set(offered(boat, rules)) == {("item/hose", "item/cock")}
    assert not offered(items(hose={"kind": "hose-bilge"}, cock={"kind": "seacock"}), rules)


def test_what_is_bolted_on_comes_before_what_it_is_part_of(items, rules):
    boat = items(
        alternator={"kind": "alternator", "part_of": "engine"},
        spare={"kind": "alternator"},
        engine={"kind": "engine"},
    )
    assert set(offered(boat, rules)) == {("item/alternator", "item/engine")}


def test_a_board_comes_before_a_tank_in_or_under_its_berth(items, rules):
    boat = items(
        ("compartment", "cabin", {"name": "Cabin"}),
        ("compartment", "berth", {"name": "Berth", "within": "cabin"}),
        board={"kind": "bunk-board", "compartment": "cabin"},
        under={"kind": "water-tank", "compartment": "berth"},
        beside={"kind": "water-tank", "compartment": "galley"},
    )
    assert set(offered(boat, rules)) == {("item/board", "item/under")}


def test_a_sole_board_comes_before_all_that_lies_under_the_sole_there(items, rules):
    boat = items(
        ("compartment", "cabin", {"name": "Cabin", "level": "cabin"}),
        ("compartment", "bilge", {"name": "Bilge", "level": "under sole", "within": "cabin"}),
        ("compartment", "well", {"name": "Well", "level": "under sole"}),
        board={"kind": "sole-board", "compartment": "cabin"},
        lost={"kind": "sole-board"},
    )
    found = offered(boat, rules)
    assert set(found) == {("item/board", "compartment/bilge")}
    assert found["item/board", "compartment/bilge"].then_name == "Cabin › Bilge"


def test_nothing_is_offered_that_is_out_new_or_written_already(items, rules):
    pair = {"first": "item/cushion", "then": "item/board"}
    here = {"kind": "cushion", "compartment": "cabin"}
    board = {"kind": "bunk-board", "compartment": "cabin"}
    assert not offered(items(("before", "o", pair), cushion=here, board=board), rules)
    for values in ({"whereabouts": "ashore"}, {"never_aboard": True}):
        assert not offered(items(cushion={**here, **values}, board=board), rules)


RINGS = {
    "of items": [("item/board", "item/cushion")],
    "through a job": [("item/board", "job/paint"), ("job/paint", "item/cushion")],
    "through an empty compartment": [
        ("item/board", "item/in-it"),
        ("compartment/locker", "item/cushion"),
    ],
}


@pytest.mark.parametrize("orders", RINGS.values(), ids=RINGS)
def test_nothing_is_offered_that_would_close_a_ring(items, rules, orders):
    rows = [
        ("before", f"o{at}", {"first": first, "then": then})
        for at, (first, then) in enumerate(orders)
    ]
    boat = items(
        ("compartment", "cabin", {"name": "Cabin"}),
        ("job", "paint", {"task": "scrape"}),
        *rows,
        **{
            "cushion": {"kind": "cushion", "compartment": "cabin"},
            "board": {"kind": "bunk-board", "compartment": "cabin"},
            "in-it": {"kind": "door", "compartment": "locker"},
        },
    )
    assert not offered(boat, rules)


def test_nothing_is_offered_that_would_close_a_ring_through_the_way_into_a_compartment(
    items, rules
):
    rows = [
        ("compartment", "cabin", {"name": "Cabin"}),
        ("compartment", "berth", {"name": "Berth", "within": "cabin"}),
    ]
    things = {
        "board": {"kind": "bunk-board", "compartment": "berth"},
        "tank": {"kind": "water-tank", "compartment": "cabin"},
    }
    assert set(offered(items(*rows, **things), rules)) == {("item/board", "item/tank")}
    way_in = ("before", "o", {"first": "item/tank", "then": "compartment/berth"})
    assert not offered(items(*rows, way_in, **things), rules)


def test_an_offer_closes_no_ring_with_one_made_before_it_through_a_compartment(items, rules):
    # The board lies under the sole of another board's compartment, and the other way round.
    boat = items(
        ("compartment", "a", {"name": "A", "level": "under sole", "within": "b"}),
        ("compartment", "b", {"name": "B", "level": "under sole", "within": "a"}),
        one={"kind": "sole-board", "compartment": "a"},
        two={"kind": "sole-board", "compartment": "b"},
    )
    found = list(offered(boat, rules))
    rows = [
        ("before", f"o{at}", {"first": first, "then": then})
        for at, (first, then) in enumerate(found)
    ]
    again = items(
        *rows,
        ("compartment", "a", {"name": "A", "level": "under sole", "within": "b"}),
        ("compartment", "b", {"name": "B", "level": "under sole", "within": "a"}),
        one={"kind": "sole-board", "compartment": "a"},
        two={"kind": "sole-board", "compartment": "b"},
    )
    assert not steps_of(again, rules).network.rings


def test_no_more_are_offered_than_asked_for(items, rules):
    boat = items(
        **{f"cushion{at}": {"kind": "cushion", "compartment": "cabin"} for at in range(9)},
        board={"kind": "bunk-board", "compartment": "cabin"},
    )
    assert len(proposals(boat, rules)) == 9
    assert len(proposals(boat, rules, most=4)) == 4


def test_a_ring_is_seen_through_what_follows_without_an_order():
    orders = Orders([("a", "b")], lambda at: {"b": ["c"]}.get(at, ()))
    assert orders.ring("c", "a") == ("c", "a", "b")
    assert orders.ring("a", "c") == ()
