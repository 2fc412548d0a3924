"""How fast a crew is, from what it logged and what that was estimated at."""

from __future__ import annotations

import datetime as dt

import pytest

from shedtally.domain.work.pace import pace_of

TODAY = dt.date(2026, 11, 25)


def work(key, on, hours, **more):
    return ("work", key, {"on": on, "hours": hours, **more})


def out(key, hours):
    return ("item", key, {"work_hours": hours, "whereabouts": "ashore", "kind": "door"})


def test_until_anything_is_logged_the_estimates_count(items, rules):
    found = pace_of(items(), rules, TODAY)
    assert found.share == pytest.approx(rules.efforts.pace)
    assert (found.sittings, found.weeks) == (0, ())


def test_the_logged_share_counts_more_the_more_sittings_there_are(items, rules):
    """All takes twice as long as estimated: one evening says little, thirty say it all."""
    shares = []
    for count in (1, 5, 30):
        rows = [work(f"w{n}", f"2026-{5 + n % 6:02d}-10T10:00:00Z", 4.0) for n in range(count)]
        found = pace_of(items(*rows, out("a", 2.0 * count)), rules, TODAY)
        assert (found.logged_hours, found.estimated_hours) == (4.0 * count, 2.0 * count)
        shares.append(found.share)
    assert 1.0 < shares[0].likely < shares[1].likely < shares[2].likely < 2.0
    assert shares[2].likely == pytest.approx(1.88, abs=0.01)
    widths = [share.high / share.low for share in shares]
    assert widths[0] > widths[1] > widths[2]


def test_person_hours_are_hours_times_people(items, rules):
    found = pace_of(items(work("w", "2026-11-01T10:00:00Z", 3.0, people=2)), rules, TODAY)
    assert found.logged_hours == 6.0


def test_weeks_of_nothing_count_and_the_week_that_goes_on_does_not(items, rules):
    rows = [
        work("a", "2026-10-26T10:00:00Z", 5.0),
        work("b", "2026-11-11T10:00:00Z", 3.0, people=2),
        work("c", "2026-11-24T10:00:00Z", 9.0),
    ]
    assert pace_of(items(*rows), rules, TODAY).weeks == (5.0, 0.0, 6.0, 0.0)


def test_what_is_logged_for_tomorrow_or_without_a_day_does_not_count(items, rules):
    rows = [work("a", "2026-11-26T10:00:00Z", 5.0), ("work", "b", {"hours": 4.0})]
    assert pace_of(items(*rows), rules, TODAY).logged_hours == 0
