"""What was left at the end of each week, and what was put in."""

from __future__ import annotations

import datetime as dt

import pytest

from shedtally.domain.work.effort import toll_of_item, toll_of_job
from shedtally.domain.work.progress import progress
from shedtally.domain.work.steps import steps_of

# A Wednesday; the weeks before it begin on 31 August, 7, 14 and 21 September.
TODAY = dt.date(2026, 9, 23)


def out(day, **more):
    return {"kind": "door", "whereabouts": "ashore", "out_at": f"{day}T10:00:00Z", **more}


def hours(boat, rules, key):
    toll = toll_of_item(boat.items[key], rules)
    return toll.hours.likely * toll.people


def test_nothing_done_has_no_weeks(items, rules):
    assert progress(items(door={"kind": "door"}), rules, TODAY) == ()


def test_weeks_run_from_the_first_work_to_this_one_without_a_gap(items, rules):
    boat = items(a=out("2026-09-02"), b=out("2026-09-16", count=3), c={"kind": "door"})
    found = progress(boat, rules, TODAY)
    mondays = ["2026-08-31", "2026-09-07", "2026-09-14", "2026-09-21"]
    assert [week.monday for week in found] == mondays
    assert [week.pieces_left for week in found] == [4, 4, 1, 1]
    left = [hours(boat, rules, "b") + hours(boat, rules, "c")] * 2 + [hours(boat, rules, "c")] * 2
    assert [week.hours_left for week in found] == pytest.approx(left)


def test_a_sunday_belongs_to_the_week_before_and_a_monday_to_its_own(items, rules):
    boat = items(a=out("2026-09-13"), b=out("2026-09-14"))
    assert [(w.monday, w.pieces_left) for w in progress(boat, rules, TODAY)] == [
        ("2026-09-07", 1),
        ("2026-09-14", 0),
        ("2026-09-21", 0),
    ]


def test_hours_put_in_are_summed_by_week_and_person_and_days_to_come_are_left_out(items, rules):
    rows = [
        ("work", "a", {"on": "2026-09-14", "hours": 2.0, "people": 2}),
        ("work", "b", {"on": "2026-09-20T21:00:00+02:00", "hours": 1.5}),
        ("work", "c", {"on": "2026-09-30", "hours": 8.0}),
        ("work", "d", {"hours": 8.0}),
        ("work", "e", {"on": "2026-09-22"}),
    ]
    found = progress(items(*rows, door={"kind": "door"}), rules, TODAY)
    assert [week.hours_put_in for week in found] == [5.5, 0.0]
    assert [week.pieces_left for week in found] == [1, 1]


def test_what_came_out_on_an_unknown_day_or_one_to_come_counts_from_the_first_week(items, rules):
    boat = items(
        dated=out("2026-09-08"),
        undated={"kind": "door", "whereabouts": "gone"},
        ahead=out("2027-01-01"),
        here={"kind": "door"},
    )
    assert [week.pieces_left for week in progress(boat, rules, TODAY)] == [1, 1, 1]
    assert progress(items(undated={"whereabouts": "gone"}), rules, TODAY) == ()


def test_jobs_count_in_hours_but_are_no_pieces(items, rules):
    rows = [
        ("job", "done", {"task": "scrape", "hours": 6.0, "done_at": "2026-09-15"}),
        ("job", "open", {"task": "scrape", "hours": 4.0}),
    ]
    boat = items(*rows)
    people = toll_of_job(boat.jobs["open"], rules).people
    found = progress(boat, rules, TODAY)
    assert [(w.pieces_left, w.hours_left) for w in found] == [(0, 4.0 * people)] * 2


def test_a_new_part_was_never_to_come_out(items, rules):
    boat = items(a=out("2026-09-15"), new={"kind": "door", "never_aboard": True})
    assert [week.pieces_left for week in progress(boat, rules, TODAY)] == [0, 0]


def test_steps_that_are_known_already_change_nothing(items, rules):
    boat = items(a=out("2026-09-02"), b={"kind": "engine"}, c={"work_hours": 3.0})
    known = steps_of(boat, rules).steps
    assert progress(boat, rules, TODAY, known) == progress(boat, rules, TODAY)
