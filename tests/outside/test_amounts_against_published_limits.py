"""Amounts, categories, days and trips against what is published.

U1: 40 CFR 262.13 table 1, reproduced at ercweb.com (8 Feb 2018) and iwrc.org. U5: 40 CFR
262.231-233, govregs.com part 262 subpart L and law.lawstack.com. U10, U13, U12: what is not
counted, as U21 (ehsdailyadvisor.blr.com, "counting your hazardous wastes"). V1: 40 CFR 262.14 at
stevensehs.com. N5: Florida's page on generator size. C3: TDG Regulations s. 1.15 at dges.ca. G1:
letsrecycle.com and recolight.co.uk (2016). SI: 1 lb is 0.45359237 kg exactly.
"""

import datetime
import math

import pytest

from shedtally.domain.boat import from_values
from shedtally.domain.generator import (
    day_reached,
    episode_days,
    step_of,
    trip_faults,
    warning,
)
from shedtally.domain.quantities import quantities
from shedtally.domain.waste import waste_rows
from shedtally.rules.load import load

RULES = load()
LADDER, WALES = RULES.amounts.ladders
(EPISODE,) = RULES.amounts.episodes
(TRIP,) = RULES.amounts.trips
DAY = datetime.date(2026, 6, 20)
LB = 0.45359237


@pytest.mark.parametrize(
    ("kg", "acute", "step", "source"),
    [
        (0.0, 0.0, "vsqg", "U1"),
        (99.99, 0.0, "vsqg", "U1"),
        (100.0, 0.0, "vsqg", "U1: 100 kg or less (W19)"),
        (100.1, 0.0, "sqg", "U1 (W19)"),
        (math.nextafter(100.0, 200.0), 0.0, "sqg", "U1: more than 100 kg"),
        (999.9, 0.0, "sqg", "U1 (W19)"),
        (math.nextafter(1000.0, 0.0), 0.0, "sqg", "U1: less than 1,000 kg"),
        (1000.0, 0.0, "lqg", "U1: 1,000 kg or more (W19)"),
        (5000.0, 0.0, "lqg", "U1"),
        (50.0, 1.0, "vsqg", "U1: 1 kg acute or less (W19)"),
        (500.0, 1.0, "sqg", "U1: 1 kg acute or less"),
        (50.0, 1.1, "lqg", "U1: more than 1 kg acute (W19)"),
        (220 * LB, 0.0, "vsqg", "U1 prints 220 lb: 99.79 kg, on the safe side (W3)"),
        (220.47 * LB, 0.0, "sqg", "100 kg is 220.46 lb (W2)"),
        (2200 * LB, 0.0, "sqg", "U1 prints 2,200 lb: 997.90 kg (W3)"),
        (2204.63 * LB, 0.0, "lqg", "1,000 kg is 2,204.62 lb (W2)"),
    ],
)
def test_the_category_of_a_month_is_the_published_one(kg, acute, step, source):
    assert step_of(LADDER, kg, acute).id == step, source


@pytest.mark.parametrize(
    ("site", "step", "source"),
    [
        (1000.0, "vsqg", "V1: 1,000 kg at any time"),
        (950.0 + 60.0, "sqg", "V1: holds 950 kg, adds 60 kg (W22)"),
        (6000.0, "sqg", "N5: 6,000 kg"),
        (6000.1, "lqg", "N5"),
        (13_200 * LB, "sqg", "N5: 13,200 lb is 5,987 kg"),
        (13_228 * LB, "lqg", "N5 prints 13,228 lb, which is 6,000.1 kg (W2: 13,227.74)"),
    ],
)
def test_what_stands_here_lifts_the_category_though_the_month_is_small(site, step, source):
    assert step_of(LADDER, 60.0, site_kg=site).id == step, source


@pytest.mark.parametrize(
    ("step", "days", "far", "source"),
    [("vsqg", None, None, "U1"), ("sqg", 180, 270, "N5"), ("lqg", 90, None, "U1")],
)
def test_waste_may_stand_as_long_as_is_published(step, days, far, source):
    row = next(row for row in LADDER.steps if row.id == step)
    assert (row.days, row.far_days) == (days, far), source


def test_only_what_the_rules_count_makes_the_month():
    """W20: 70 kg spent thinner, 45 kg used oil, 30 kg lead-acid, 6 kg tubes: 70 kg count [U1, U21]."""
    out = {"out_at": "2026-06-02T10:00:00Z", "whereabouts": "ashore", "fate": "waste"}
    weighed = {"mass_how": "weighed", **out}
    kinds = {kind.waste: kind.id for kind in RULES.kinds.values()}
    rows = [
        ("item", "a", {"kind": kinds["thinner"], "mass_kg": 70.0, **weighed}),
        ("item", "b", {"kind": kinds["oil-engine"], "mass_kg": 45.0, **weighed}),
        ("item", "c", {"kind": kinds["lead-acid"], "mass_kg": 30.0, **weighed}),
        ("item", "d", {"kind": kinds["lamp-mercury"], "mass_kg": 6.0, **weighed}),
    ]
    boat = from_values("b", rows)
    case, lines, _ = waste_rows(boat, RULES, "us-federal", "business", DAY)
    found = quantities(case, lines)
    (month,) = found.months
    assert month.counted.likely == pytest.approx(70.0)
    assert month.came_up.likely == pytest.approx(151.0)
    assert "VSQG" in found.step


@pytest.mark.parametrize(
    ("begins", "earlier", "planned", "notify", "ship", "petition", "source"),
    [
        ("2026-06-01", 0, True, "2026-05-02", "2026-07-31", False, "U5 (W21)"),
        ("2026-06-01", 1, True, "2026-05-02", "2026-07-31", True, "U5: second of a year (W24)"),
        ("2026-06-01", 0, False, "2026-06-04", "2026-07-31", False, "U5: within 72 hours"),
        ("2028-02-10", 0, True, "2028-01-11", "2028-04-10", False, "U5, over a leap day"),
    ],
)
def test_an_episode_is_told_and_shipped_in_time(
    begins, earlier, planned, notify, ship, petition, source
):
    day = datetime.date.fromisoformat
    found = episode_days(EPISODE, day(begins), earlier, planned=planned)
    assert (found.notify_by, found.ship_by) == (day(notify), day(ship)), source
    assert found.needs_petition is petition, source


CANS = [(f"Can {n}", 20.0, ("3",)) for n in range(4)]


@pytest.mark.parametrize(
    ("packages", "faults", "source"),
    [
        ([*CANS, ("Battery", 28.0, ("8 liquid",))], 0, "C3: 108 kg, none over 30 kg (W23)"),
        ([("Can", 30.0, ("3",))] * 5, 0, "C3: 150 kg is allowed"),
        ([("Can", 30.0, ("3",))] * 5 + [("One", 0.1, ())], 1, "C3: over 150 kg"),
        ([("Can", 30.1, ("3",))], 1, "C3: a package of at most 30 kg"),
        ([("Cylinder", 40.0, ("2.1",))], 0, "C3: except class 2"),
        ([("Drum", 200.0, ("3",))], 2, "C3: both"),
    ],
)
def test_a_trip_of_ones_own_carries_what_is_published(packages, faults, source):
    assert len(trip_faults(TRIP, packages)) == faults, source


@pytest.mark.parametrize(
    ("kg", "step", "source"), [(499.9, "not-registered", "G1"), (500.0, "registered", "G1: 500 kg")]
)
def test_premises_in_wales_are_registered_from_the_published_amount(kg, step, source):
    assert step_of(WALES, kg).id == step, source


def test_where_no_amount_was_found_none_is_made_up():
    """Schedule 6 of B.C. Reg. 63/88 was not found; the EU list has no categories."""
    for law in ("ca-bc", "eu"):
        case, lines, _ = waste_rows(from_values("b", []), RULES, law, "business", DAY)
        found = quantities(case, lines)
        assert (found.limits, found.step) == ((), "")
        assert found.no_limits
        assert found.sayings


@pytest.mark.parametrize(
    ("likely", "high", "warn"),
    [
        (79.9, 90.0, ""),
        (80.0, 90.0, "near"),
        (60.0, 100.1, "may be over"),
        (100.0, 100.0, "near"),
        (100.1, 120.0, "over"),
    ],
)
def test_a_warning_comes_before_the_limit(likely, high, warn):
    """80 % and the high value: common practice, no source."""
    assert warning(100.0, likely, high) == warn


def test_the_day_of_a_limit_is_plain_arithmetic():
    """40 kg in 20 days is 2 kg a day: 60 kg more are passed on the 31st day after. Derived."""
    assert day_reached(100.0, 40.0, 2.0, DAY) == DAY + datetime.timedelta(days=31)
    assert day_reached(100.0, 40.0, 0.0, DAY) is None
    assert day_reached(100.0, 100.1, 0.0, DAY) == DAY


@pytest.mark.parametrize("kg", [-0.1, math.nan, math.inf])
def test_what_is_no_amount_is_refused_with_the_range(kg):
    with pytest.raises(ValueError, match="0 kg or more"):
        step_of(LADDER, kg)
