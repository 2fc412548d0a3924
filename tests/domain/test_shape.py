"""What a field may hold, and the sentence for what it may not."""

import pytest

from shedtally.domain.boat import from_values
from shedtally.domain.records import TABLES, Compartment, Container, Item, Photo, Tag
from shedtally.domain.records.shape import faults, fields_of


def detail(record, **values):
    found = faults(record, values)
    return found[0].detail if found else ""


@pytest.mark.parametrize(
    ("record", "values"),
    [
        (Item, {"name": "Seacock"}),
        (Item, {"name": None}),
        (Item, {"count": 3}),
        (Item, {"count": 3.0}),
        (Item, {"length_mm": 1200.5}),
        (Item, {"length_mm": 50_000}),
        (Item, {"length_mm": 0}),
        (Item, {"leaking": True}),
        (Item, {"fate": "renew"}),
        (Item, {"out_at": "2026-05-04"}),
        (Item, {"out_at": "2026-05-04T18:30:00+01:00"}),
        (Item, {"out_at": "2026-05-04T18:30:00Z"}),
        (Item, {"compartment": "0190c0de"}),
        (Item, {"written_by_a_newer_phone": "anything"}),
        (Item, {"written_by_a_newer_phone": 3}),
        (Tag, {"on": "item/0190"}),
        (Tag, {"on": "a-newer-table/0190"}),
        (Photo, {"sha256": "0" * 64}),
    ],
)
def test_what_can_be_kept_has_no_fault(record, values):
    assert faults(record, values) == []


@pytest.mark.parametrize(
    ("record", "values", "part"),
    [
        (Item, {"name": 3}, "must be text"),
        (Item, {"name": "x" * 201}, "longer than 200 characters"),
        (Item, {"name": "a\x00b"}, "can't be kept"),
        (Item, {"count": 0}, "must lie from 1 to 100000 pieces"),
        (Item, {"count": 2.5}, "whole number"),
        (Item, {"count": True}, "must be a number"),
        (Item, {"count": "3"}, "must be a number"),
        (Item, {"length_mm": -1}, "must lie from 0 to 50000 mm"),
        (Item, {"length_mm": 50_001}, "must lie from 0 to 50000 mm"),
        (Item, {"length_mm": float("nan")}, "must be a number"),
        (Item, {"length_mm": float("inf")}, "must be a number"),
        (Item, {"leaking": "yes"}, "must be yes (true) or no (false)"),
        (Item, {"leaking": 1}, "must be yes (true) or no (false)"),
        (Item, {"fate": "burn"}, "must be one of: undecided, refit"),
        (Item, {"out_at": "yesterday"}, "must be a date"),
        (Item, {"out_at": "2026-05-04T18:30:00"}, "offset from UTC"),
        (Item, {"compartment": ""}, "must be the key of a record"),
        (Item, {"compartment": "k" * 65}, "must be the key of a record"),
        (Item, {"newer": "x" * 4001}, "at most 4000 characters"),
        (Item, {"newer": ["a", "list"]}, "can be kept"),
        (Tag, {"on": "item"}, "must name a table and a key"),
        (Tag, {"on": "/0190"}, "must name a table and a key"),
        (Tag, {"on": "item/" + "k" * 65}, "must name a table and a key"),
        (Photo, {"sha256": "0" * 63}, "not in the expected form"),
        (Photo, {"type": "text/html"}, "must be one of: image/jpeg"),
    ],
)
def test_what_cannot_be_kept_is_named_with_what_to_do(record, values, part):
    assert part in detail(record, **values)


def test_an_order_may_only_join_items_and_jobs():
    before = TABLES["before"]
    assert detail(before, first="item/a") == ""
    assert detail(before, first="job/a") == ""
    assert "must belong to one of: item, job" in detail(before, first="photo/a")


def test_every_fault_of_a_change_is_found_and_names_its_field():
    found = faults(Item, {"count": 0, "name": "ok", "fate": "burn"})
    assert [fault.field for fault in found] == ["count", "fate"]


def test_the_fields_of_a_table_do_not_count_its_key():
    assert "key" not in fields_of(Item)
    assert {"name", "binned", "asbestos"} <= set(fields_of(Item))


def test_a_value_of_a_faulty_phone_reads_as_missing():
    boat = from_values("b", [("item", "i", {"name": "Cock", "count": -4, "fate": "burn"})])
    assert boat.items["i"] == Item(key="i", name="Cock")


def test_a_whole_number_that_was_written_with_a_point_counts_as_one():
    boat = from_values("b", [("item", "i", {"count": 3.0, "length_mm": 1200, "bundled": 2.5})])
    item = boat.items["i"]
    assert (item.count, type(item.count), item.length_mm, item.bundled) == (3, int, 1200, None)


def test_records_in_the_bin_and_tables_of_a_newer_phone_are_left_out():
    rows = [
        ("item", "a", {"binned": True}),
        ("item", "b", {"binned": False}),
        ("a-newer-table", "c", {}),
        ("container", "d", {"name": "Drum"}),
    ]
    boat = from_values("b", rows)
    assert set(boat.items) == {"b"}
    assert boat.containers == {"d": Container(key="d", name="Drum")}
    assert boat.boat.key == "b"


def test_a_path_goes_from_the_outside_in_and_stops_at_a_ring():
    rows = [
        ("boat", "b", {"name": "Corncrake"}),
        ("compartment", "cabin", {"name": "Cabin"}),
        ("compartment", "galley", {"within": "cabin"}),
        ("compartment", "x", {"name": "X", "within": "y"}),
        ("compartment", "y", {"name": "Y", "within": "x"}),
    ]
    boat = from_values("b", rows)
    assert boat.boat.name == "Corncrake"
    assert boat.path("galley") == ("Cabin", "unnamed")
    assert boat.path("x") == ("Y", "X")
    assert boat.path("nowhere") == ()
    assert boat.path(None) == ()


def test_tags_and_ends_are_found_by_what_they_belong_to():
    rows = [
        ("tag", "B", {"on": "item/i"}),
        ("tag", "A", {"on": "item/i"}),
        ("tag", "C", {}),
        ("end", "e2", {"item": "i", "label": "aft"}),
        ("end", "e1", {"item": "i", "label": "forward"}),
        ("end", "e3", {}),
    ]
    boat = from_values("b", rows)
    assert boat.codes == {"item/i": ("A", "B")}
    assert [end.label for end in boat.ends_by_item["i"]] == ["forward", "aft"]


def test_a_compartment_is_a_record_like_any_other():
    assert detail(Compartment, level="attic").startswith("must be one of: aloft")
