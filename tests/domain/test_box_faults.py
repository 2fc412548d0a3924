"""Each thing that can't be right about a container or a handover: said, with what to do, kept."""

import datetime

import pytest

from shedtally.domain.waste.boxes import box_list
from shedtally.domain.waste.by_stream import waste_list, waste_rows
from shedtally.domain.waste.container_lists import FrozenList, Papers
from shedtally.domain.waste.handovers import handover_list

DAY = datetime.date(2026, 11, 25)
OIL = {"kind": "engine-oil", "whereabouts": "ashore"}


@pytest.fixture
def box(items, rules):
    """The container ``c`` as lists show it, with these values and what lies in it."""

    def made(values, *rows, **by_key):
        boat = items(("container", "c", {"name": "Drum", **values}), *rows, **by_key)
        case, lines, _ = waste_rows(boat, rules, "eu", "business", DAY)
        return next(one for one in box_list(case, lines).boxes if one.key == "c")

    return made


@pytest.fixture
def handover(items, rules):
    """The handover ``h`` as lists show it; ``frozen`` are the rows that its list was made from."""

    def made(values, *rows, frozen=None, **by_key):
        boat = items(("handover", "h", values), *rows, **by_key)
        case, lines, _ = waste_rows(boat, rules, "eu", "business", DAY)
        kept = {}
        if frozen is not None:
            then = items(("handover", "h", values), *frozen)
            papers = Papers("2026-11-20", "Site", "", "", "")
            listed = waste_list(then, rules, "eu", "business", DAY)
            kept = {"h": FrozenList("", papers, "2026-11-20", "", "", "", listed)}
        whole = waste_list(boat, rules, "eu", "business", DAY)
        return handover_list(case, lines, whole, kept).handovers[0]

    return made


def said(view):
    return [(fault.of, fault.say) for fault in view.faults]


def only(view):
    """The one fault, which must say what to do."""
    (fault,) = view.faults
    assert fault.do.endswith(".")
    return fault


def test_a_sound_container_has_no_fault(box):
    drum = {"stream": "oil-engine", "capacity_l": 200, "limit_kg": 180, "tare_kg": 9}
    held = {**OIL, "container": "c", "mass_kg": 20, "mass_how": "weighed", "volume_l": 22}
    assert box({**drum, "gross_kg": 30}, a=held).faults == ()


def test_over_its_limit_by_mass(box):
    held = {**OIL, "container": "c", "mass_kg": 81, "mass_how": "weighed"}
    found = only(box({"stream": "oil-engine", "limit_kg": 80}, a=held))
    assert found.say == "81 kg are in it, and it may hold 80 kg."
    assert "another container" in found.do


def test_perhaps_over_its_limit_says_weigh_it(box):
    held = {**OIL, "container": "c", "mass_kg": 79, "mass_how": "guessed"}
    view = box({"stream": "oil-engine", "limit_kg": 80}, a=held)
    assert view.inside.likely < 80 < view.inside.high
    found = only(view)
    assert found.say.startswith("It may be over its limit: up to ")
    assert found.do == "Weigh it before more goes in."


def test_over_its_size_by_litres(box):
    held = {**OIL, "container": "c", "volume_l": 25}
    assert only(box({"stream": "oil-engine", "capacity_l": 20}, a=held)).say == (
        "25 L are in it, and it holds 20 L."
    )


def test_heavier_than_mercury_would_be(box):
    # Mercury weighs 13.6 kg a litre: 20 L hold 272 kg of it at most.
    scale = {"tare_kg": 1, "gross_kg": 301}
    found = only(box({"stream": "lead", "capacity_l": 20, **scale}))
    assert found.say == "300 kg can't fit in 20 L: not even mercury weighs so much."
    assert "unit" in found.do


def test_full_lighter_than_empty(box):
    found = only(box({"stream": "lead", "tare_kg": 12, "gross_kg": 9}))
    assert found.say == "Full it shows 9 kg, empty 12 kg: that can't be."
    assert "Until then its content is estimated" in found.do


def test_the_parts_weigh_more_than_the_whole(box):
    held = {"kind": "ballast-lead", "mass_how": "weighed", "container": "c", "fate": "scrap"}
    scale = {"tare_kg": 10, "gross_kg": 30}
    view = box({"stream": "lead", **scale}, a={**held, "mass_kg": 15}, b={**held, "mass_kg": 6.1})
    assert only(view).say == "Weighed one by one it makes 21.1 kg, the whole only 20 kg."
    # Two scales may differ by a twentieth.
    near = box({"stream": "lead", **scale}, a={**held, "mass_kg": 15}, b={**held, "mass_kg": 5.9})
    assert near.faults == ()


def test_closed_before_it_was_opened(box):
    days = {"opened_at": "2026-09-03T10:00:00Z", "closed_at": "2026-09-02T10:00:00Z"}
    assert only(box({"stream": "lead", **days})).say == (
        "It was closed on 2026-09-02, before it was opened on 2026-09-03."
    )


def test_a_stream_of_a_newer_phone(box):
    found = only(box({"stream": "of-a-newer-phone"}))
    assert found.say == "Its stream of-a-newer-phone isn't known to this server."
    assert found.do.startswith("Choose its stream anew")


def test_put_in_after_it_was_closed(box):
    held = {**OIL, "container": "c", "name": "Can", "boxed_at": "2026-09-04T10:00:00Z"}
    view = box({"stream": "oil-engine", "closed_at": "2026-09-03T10:00:00Z"}, a=held)
    assert said(view) == [("item/a", "It was put into Drum after that was closed.")]
    # Times are compared, not their text: 11:30 at +02:00 is before 10:00 in Greenwich.
    held["boxed_at"] = "2026-09-03T11:30:00+02:00"
    closed = {"stream": "oil-engine", "closed_at": "2026-09-03T10:00:00Z"}
    assert box(closed, a=held).faults == ()


def test_put_in_after_it_was_handed_over(box):
    sealed = ("handover", "h", {"on": "2026-09-03", "sealed_at": "2026-09-03T10:00:00Z"})
    held = {**OIL, "container": "c", "boxed_at": "2026-09-04T10:00:00Z"}
    values = {"stream": "oil-engine", "handover": "h", "closed_at": "2026-09-02T10:00:00Z"}
    view = box(values, sealed, a=held)
    assert said(view) == [("item/a", "It was put into Drum after that was handed over.")]
    assert "correction" in only(view).do


@pytest.mark.parametrize(("fate", "meant"), [("refit", "go back aboard"), ("sell", "be sold")])
def test_what_is_to_be_kept_lies_in_a_container_of_waste(box, fate, meant):
    kept = {"kind": "winch", "name": "Winch", "fate": fate, "container": "c"}
    view = box({"stream": "metal"}, a=kept)
    assert said(view) == [("item/a", f"It is meant to {meant}, and lies in Drum of waste.")]
    assert view.lines == ()


def test_a_thing_without_kind_or_fate_in_a_container_is_waste(box):
    view = box({"stream": "paint"}, a={"name": "Tin", "container": "c"})
    assert [line.name for line in view.lines] == ["Tin"]


def test_a_sealed_handover_without_papers(handover):
    view = handover({"sealed_at": "2026-11-20T10:00:00Z"})
    assert [say for _, say in said(view)] == [
        "It says no day.",
        "It says no site.",
        "Nothing went with it.",
    ]


def test_a_handover_that_is_still_being_written_is_not_faulted_for_it(handover):
    assert handover({}).faults == ()


def test_a_container_opened_and_an_item_out_after_they_left(handover):
    day = {"on": "2026-11-20", "to": "Site", "sealed_at": "2026-11-20T10:00:00Z"}
    view = handover(
        day,
        ("container", "c", {"name": "Drum", "handover": "h", "opened_at": "2026-11-21T09:00:00Z"}),
        a={**OIL, "name": "Can", "handover": "h", "out_at": "2026-11-22T09:00:00Z"},
        b={**OIL, "container": "c", "out_at": "2026-11-23T09:00:00Z"},
        c={**OIL, "container": "c", "out_at": "2026-11-20T09:00:00Z"},
    )
    assert said(view) == [
        ("container/c", "It left on 2026-11-20, and was opened on 2026-11-21, later."),
        ("item/a", "It left on 2026-11-20, and came out of the boat on 2026-11-22, later."),
        ("item/b", "It left on 2026-11-20, and came out of the boat on 2026-11-23, later."),
    ]
    assert view.faults[2].name == "engine-oil"


def test_what_joined_after_the_list_was_frozen(handover):
    day = {"on": "2026-11-20", "to": "Site", "sealed_at": "2026-11-20T10:00:00Z"}
    went = ("container", "c", {"name": "Drum", "handover": "h", "stream": "oil-engine"})
    late = ("container", "d", {"name": "Bin", "handover": "h", "stream": "lead"})
    empty = ("container", "e", {"name": "Tub", "handover": "h"})
    other = ("container", "f", {"name": "Can", "handover": "i", "stream": "lead"})
    loose = {**OIL, "name": "Jug", "handover": "h"}
    view = handover(day, went, late, empty, other, frozen=[went], a=loose)
    added = "It was added to this handover after the list was frozen, so it is not on it."
    assert said(view) == [("container/d", added), ("item/a", added)]
    assert [fault.name for fault in view.faults] == ["Bin", "Jug"]


def test_corrections_stand_at_their_own_handover_in_the_order_of_their_days(handover):
    rows = [
        ("correction", "2", {"handover": "h", "on": "2026-11-22", "text": "two", "item": "item/a"}),
        ("correction", "1", {"handover": "h", "on": "2026-11-21", "text": "one", "mass_kg": 2.5}),
        ("correction", "3", {"handover": "other", "on": "2026-11-21", "text": "three"}),
    ]
    view = handover({"on": "2026-11-20"}, *rows, a={**OIL, "name": "Can", "handover": "h"})
    assert [(row.text, row.name, row.mass_kg) for row in view.corrections] == [
        ("one", "", 2.5),
        ("two", "Can", None),
    ]
