"""What phones that were apart can write although none of them would let one person write it."""

from __future__ import annotations

import datetime as dt

import pytest

from shedtally.domain.records import Work
from shedtally.domain.records.shape import faults
from shedtally.domain.work.ahead import work_ahead
from shedtally.domain.work.pace import pace_of

TODAY = dt.date(2026, 11, 25)


def words(boat, rules):
    return " ".join(work_ahead(boat, rules, TODAY).cautions)


def test_a_compartment_under_its_own_child_takes_no_list_down_and_is_named(items, rules):
    boat = items(
        ("compartment", "saloon", {"name": "Saloon", "within": "locker"}),
        ("compartment", "locker", {"name": "Locker", "within": "saloon"}),
        ("compartment", "shelf", {"name": "Shelf", "within": "locker"}),
        ("compartment", "self", {"name": "Self", "within": "self"}),
        ("compartment", "deck", {"name": "Deck"}),
        lamp={"kind": "door", "compartment": "shelf"},
    )
    assert boat.compartment_rings == (("Locker", "Saloon"), ("Self",))
    assert "Locker in Saloon in Locker" in words(boat, rules)
    assert [step.path[-1] for step in work_ahead(boat, rules, TODAY).ready] == ["Shelf"]


def test_a_ring_of_orders_through_a_compartment_is_shown_and_takes_no_list_down(items, rules):
    boat = items(
        ("compartment", "bilge", {"name": "Bilge"}),
        ("job", "paint", {"task": "scrape", "name": "Scrape it"}),
        ("before", "a", {"first": "item/board", "then": "compartment/bilge"}),
        ("before", "b", {"first": "item/ballast", "then": "job/paint"}),
        ("before", "c", {"first": "job/paint", "then": "item/board"}),
        board={"kind": "door", "name": "Board"},
        ballast={"kind": "door", "name": "Ballast", "compartment": "bilge"},
        free={"kind": "door", "name": "Free"},
    )
    made = work_ahead(boat, rules, TODAY)
    (ring,) = made.rings
    assert set(ring) == {"Board", "Way into Bilge", "Ballast", "Scrape it"}
    assert [step.name for step in made.ready] == ["Free"]


def test_an_order_on_what_has_gone_holds_nothing_back(items, rules):
    boat = items(
        ("before", "a", {"first": "item/gone", "then": "item/door"}),
        ("before", "b", {"first": "item/never", "then": "item/door"}),
        ("before", "c", {"first": "item/door", "then": "item/gone"}),
        gone={"kind": "door", "whereabouts": "gone"},
        door={"kind": "door", "name": "Door"},
    )
    assert [step.name for step in work_ahead(boat, rules, TODAY).ready] == ["Door"]


def test_hours_on_a_day_to_come_are_named_and_count_for_nothing(items, rules):
    rows = [
        ("work", "a", {"on": "2026-11-26", "hours": 8.0}),
        ("work", "b", {"on": "2026-11-25", "hours": 2.0}),
    ]
    boat = items(*rows, door={"kind": "door"})
    assert "Hours were written down once on a day to come" in words(boat, rules)
    assert pace_of(boat, rules, TODAY).logged_hours == 2.0


def test_hours_on_a_job_that_is_not_here_are_named_and_count(items, rules):
    rows = [
        ("work", "a", {"on": "2026-11-24", "hours": 8.0, "job": "lost"}),
        ("work", "b", {"on": "2026-11-25", "hours": 2.0, "job": "lost"}),
    ]
    boat = items(*rows, door={"kind": "door"})
    assert "2 times on a job that is not here" in words(boat, rules)
    assert pace_of(boat, rules, TODAY).logged_hours == 10.0


def test_nothing_to_mend_says_nothing(items, rules):
    rows = [("work", "a", {"on": "2026-11-25", "hours": 2.0})]
    boat = items(*rows, door={"kind": "door"})
    assert tuple(work_ahead(boat, rules, TODAY).cautions) == tuple(rules.efforts.cautions)


@pytest.mark.parametrize("hours", [-1, 24.5, 100_000, float("nan")])
def test_a_day_has_no_more_hours_and_no_less_than_none(hours):
    (fault,) = faults(Work, {"hours": hours})
    assert "24 h" in fault.detail or "number" in fault.detail
    assert not faults(Work, {"hours": 24, "people": 3, "on": "2026-11-25"})
