"""New parts take the old ones' places in putting back, and buying keeps step with them."""

import pytest

from shedtally.domain.buying.order import order_list
from shedtally.domain.buying.packs import cheapest_packs
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.renewals.parts import PartsReader
from shedtally.domain.work.left import left_to_take_out
from shedtally.domain.work.put_back import put_back
from shedtally.printing.put_back import put_back_csv

ROOM = ("compartment", "galley", {"name": "Galley"})
PLACE = ("place", "rack", {"name": "Rack B"})
OLD = {
    "kind": "seacock", "size": "38 mm", "fate": "renew", "whereabouts": "ashore",
    "out_at": "2026-09-01T10:00:00Z", "compartment": "galley", "sat": "behind the stove",
    "fastened": "four bolts",
}  # fmt: skip
NEW = {
    "name": "Seacock, new", "kind": "seacock", "never_aboard": True, "replaces": "old",
    "whereabouts": "ashore", "place": "rack", "fate": "refit",
}  # fmt: skip
DAY = "2026-11-01T10:00:00Z"


@pytest.fixture
def line_id(items, rules):
    return PartsReader(rules).wanted(items(old=OLD).items["old"]).parts.id


def only(found):
    (line,) = [line for group in found.by_compartment for line in group.items]
    return line


def test_what_is_renewed_and_not_bought_is_missing(items, rules):
    line = only(put_back(items(ROOM, old=OLD), rules))
    assert (line.key, line.state, line.in_place_of) == ("old", "new", "")
    assert line.missing == "To be renewed, and not bought yet"


def test_a_kind_that_is_always_renewed_is_missing_too_though_nobody_decided(items, rules):
    hose = {**OLD, "kind": "hose-raw-water", "fate": None}
    assert only(put_back(items(ROOM, old=hose), rules)).state == "new"


def test_a_new_part_stands_where_the_old_one_sat_under_its_own_tag(items, rules):
    rows = [
        ROOM,
        PLACE,
        ("tag", "AAAAAA", {"on": "item/new"}),
        ("tag", "BBBBBB", {"on": "item/old"}),
    ]
    found = put_back(items(*rows, old=OLD, new=NEW), rules)
    line = only(found)
    assert (line.key, line.in_place_of, line.name, line.tags) == (
        "new", "old", "Seacock, new", ("AAAAAA",),
    )  # fmt: skip
    assert (line.sat, line.fastened, line.place) == ("behind the stove", "four bolts", ("Rack B",))
    assert (line.state, line.missing, found.total) == ("here", "", 1)
    assert found.by_compartment[0].key == "galley"
    assert (line.old_name, line.old_tags) == ("Seacock", ("BBBBBB",))
    assert "Seacock BBB-BBB" in put_back_csv(found)


def test_what_was_joined_to_an_old_part_is_joined_to_the_new_one(items, rules):
    sink = {**OLD, "kind": "sink", "fate": "refit"}
    end = ("end", "e", {"item": "sink", "to_item": "old", "joined": "two clamps"})
    found = put_back(items(ROOM, end, sink=sink, old=OLD, new=NEW), rules)
    lines = {line.key: line for group in found.by_compartment for line in group.items}
    assert [join.to for join in lines["sink"].joins] == ["Seacock, new"]


def test_a_new_part_goes_in_whatever_becomes_of_the_old_one(items, rules):
    gone = {**OLD, "fate": "scrap", "whereabouts": "gone"}
    assert only(put_back(items(ROOM, old=gone, new=NEW), rules)).key == "new"


def test_of_a_part_that_was_renewed_twice_the_newest_goes_in(items, rules):
    newer = {**NEW, "replaces": "new", "name": "Seacock, the second"}
    line = only(put_back(items(ROOM, old=OLD, new=NEW, newer=newer), rules))
    assert (line.key, line.in_place_of) == ("newer", "old")


def test_two_new_parts_that_name_each_other_end_no_one_in_a_ring(items, rules):
    ring = {**NEW, "replaces": "b"}, {**NEW, "replaces": "a"}
    put_back(items(ROOM, old=OLD, a=ring[0], b=ring[1]), rules)


@pytest.mark.parametrize(
    ("purchase", "stands"),
    [
        ({"bought_at": DAY}, ("new", "To be renewed: bought, and not here yet")),
        ({"bought_at": DAY, "arrived_at": DAY}, ("here", "")),
        ({"fitted_at": DAY}, ("back", "")),
    ],
)
def test_without_a_tag_of_its_own_the_line_says_how_far_it_is(
    items, rules, line_id, purchase, stands
):
    line = only(put_back(items(ROOM, ("purchase", line_id, purchase), old=OLD), rules))
    assert (line.state, line.missing) == stands


def test_the_clamps_of_a_hose_say_nothing_of_how_far_the_hose_is(items, rules):
    hose = {**OLD, "kind": "hose-raw-water", "size": "19 mm"}
    rows = [ROOM, ("end", "e", {"item": "old", "to_point": "engine", "joined": "two clamps"})]
    boat = items(*rows, old=hose)
    lines = {line.spec.partition(",")[0]: line.id for line in order_list(boat, rules).lines}
    bought = ("purchase", lines["Raw-water hose"], {"arrived_at": DAY})
    clamps = ("purchase", lines["Hose clamp"], {"bought_at": DAY})
    assert only(put_back(items(*rows, bought, clamps, old=hose), rules)).state == "here"


def states(boat, rules):
    return [(line.state, line.fitted_parts) for line in order_list(boat, rules).lines]


def test_the_order_keeps_step_with_its_new_parts(items, rules, line_id):
    assert states(items(ROOM, old=OLD), rules) == [("to buy", 0)]
    assert states(items(ROOM, old=OLD, new=NEW), rules) == [("arrived", 0)]
    aboard = {**NEW, "whereabouts": "aboard"}
    assert states(items(ROOM, old=OLD, new=aboard), rules) == [("fitted", 1)]
    assert states(items(ROOM, old=OLD, second=OLD, new=aboard), rules) == [("to buy", 1)]
    fitted = items(ROOM, ("purchase", line_id, {"fitted_at": DAY}), old=OLD, new=NEW)
    (line,) = order_list(fitted, rules).lines
    assert any("still lie ashore" in ask for ask in line.asks)


def test_a_line_bought_as_one_of_another_kind_is_fitted_once_both_are(items, rules):
    hose = {"size": "19 mm", "length_mm": 500, "fate": "renew"}
    old = {"one": {**hose, "kind": "hose-raw-water"}, "other": {**hose, "kind": "hose-bilge"}}
    first, second = (line.id for line in renewals(items(**old), rules).lines)
    spec = ("spec", second, {"bought_as": first})
    new = {
        f"new {of}": {"replaces": of, "never_aboard": True, "whereabouts": "aboard"} for of in old
    }
    both = states(items(spec, **old, **new), rules)
    assert both == [("fitted", 2)]
    for of in old:
        half = {key: row for key, row in new.items() if row["replaces"] == of}
        assert states(items(spec, **old, **half), rules) == [("to buy", 1)]


def test_a_new_part_that_was_put_in_is_nothing_to_take_out(items, rules):
    boat = items(ROOM, old=OLD, new={**NEW, "whereabouts": "aboard"})
    found = left_to_take_out(boat, rules)
    assert (found.total, found.left) == (1, 0)


@pytest.mark.parametrize(
    ("offers", "count", "cost", "words"),
    [
        ([(1.0, 1)], 3, 3.0, "3 pieces"),
        ([(4.0, 5)], 11, 12.0, "3 packs of 5"),
        ([(4.0, 5), (1.5, 1)], 11, 9.5, "2 packs of 5, 1 piece"),
        ([(4.0, 5), (1.5, 1)], 14, 12.0, "3 packs of 5"),
        ([(4.0, 5), (7.0, 10)], 10, 7.0, "1 pack of 10"),
        ([(5.0, 5), (1.0, 1)], 5, 5.0, "5 pieces"),
        # As floats a tenth thrice is more than three tenths.
        ([(0.3, 5), (0.1, 1)], 3, 0.3, "3 pieces"),
    ],
)
def test_packs_and_pieces_are_bought_the_cheapest_way(offers, count, cost, words):
    found = cheapest_packs(offers, count)
    assert (found.cost, found.words) == (cost, words)


def test_a_pack_of_no_number_is_asked_for(items, rules, line_id):
    price = ("price", "p", {"spec": line_id, "amount": 9, "currency": "EUR", "per": "pack"})
    (line,) = order_list(items(ROOM, price, old=OLD), rules).lines
    assert line.cost is None
    assert any("how many are in it" in ask for ask in line.asks)


def test_a_length_left_by_the_cut_is_not_used_for_what_was_bought(items, rules):
    hose = {**OLD, "kind": "hose-raw-water", "size": "19 mm", "length_mm": 500}
    key = PartsReader(rules).wanted(items(old=hose).items["old"]).parts.id
    rows = [
        ROOM,
        ("price", "p", {"spec": key, "amount": 9, "currency": "EUR", "per": "metre"}),
        ("leftover", "l", {"spec": key, "length_mm": 900, "from_cut": True}),
    ]
    hose_line = {line.id: line for line in order_list(items(*rows, old=hose), rules).lines}[key]
    assert hose_line.cut.stock[0].from_shed
    bought = items(*rows, ("purchase", key, {"bought_at": DAY}), old=hose)
    hose_line = {line.id: line for line in order_list(bought, rules).lines}[key]
    assert hose_line.cut.stock == ()
    assert hose_line.cost == pytest.approx(9 * 0.75)
