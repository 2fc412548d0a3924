"""Categories by amount, days and trips against what the rules print, on both sides of each limit.

U1: 40 CFR 262.13, table 1 (reproduced at ercweb.com, 8 February 2018). U5: 40 CFR 262.231 to 233.
U21: what 262.13 leaves out (ehsdailyadvisor.blr.com, February 2012). V1: 40 CFR 262.14
(reproduced at stevensehs.com). N5: Florida on the size of generators. C3: TDG Regulations 1.15.
G1: premises in Wales (recolight.co.uk, 2016). Read on 25 November 2026.
"""

import datetime

import pytest

from shedtally.domain.boat import from_values
from shedtally.domain.waste.by_stream import waste_rows
from shedtally.domain.waste.generator import (
    day_reached,
    episode_days,
    step_of,
    trip_faults,
    warning,
)
from shedtally.domain.waste.quantities import quantities
from shedtally.rules.load import load

RULES = load()
TODAY = datetime.date(2026, 11, 25)
LADDERS = {ladder.rule_set: ladder for ladder in RULES.amounts.ladders}
(EPISODE,) = RULES.amounts.episodes
(TRIP,) = RULES.amounts.trips


def of(*items, law="us-federal", holder="business", containers=(), area=None):
    rows = [("item", f"i{n}", {"fate": "waste", **values}) for n, values in enumerate(items)]
    rows += [("container", f"c{n}", values) for n, values in enumerate(containers)]
    boat = from_values("b", [*rows, ("boat", "b", {"rule_area": area})])
    case, lines, _ = waste_rows(boat, RULES, law, holder, TODAY)
    return quantities(case, lines)


def drum(stream, kg, opened="2026-11-03T09:00:00+00:00"):
    return {"stream": stream, "tare_kg": 0.0, "gross_kg": kg, "opened_at": opened}


def test_a_saying_says_once_that_it_is_from_memory():
    sayings = [text for law in RULES.rule_sets for text in of(law=law, holder="household").sayings]
    remembered = [text for text in sayings if "from memory" in text.lower()]
    assert remembered
    assert [text for text in remembered if text.lower().count("from memory") > 1] == []


@pytest.mark.parametrize(
    ("kg", "acute", "site", "step", "source"),
    [
        (100.0, 0, 0, "vsqg", "W19, U1: 100 kg or less"),
        (100.1, 0, 0, "sqg", "W19, U1: more than 100 kg"),
        (999.9, 0, 0, "sqg", "W19, U1: less than 1,000 kg"),
        (1000.0, 0, 0, "lqg", "W19, U1: 1,000 kg or more"),
        (10.0, 1.0, 0, "vsqg", "W19, U1: 1 kg of acute waste or less"),
        (10.0, 1.1, 0, "lqg", "W19, U1: more than 1 kg of acute waste"),
        (500.0, 1.0, 0, "sqg", "U1"),
        (60.0, 0, 1000.0, "vsqg", "V1: 1,000 kg on site at any time"),
        (60.0, 0, 1010.0, "sqg", "W22, V1: 950 kg and 60 kg more"),
        (60.0, 0, 6000.0, "sqg", "N5: 6,000 kg on site"),
        (60.0, 0, 6000.1, "lqg", "N5"),
        (0.0, 0, 0, "vsqg", "U1"),
    ],
)
def test_the_category_of_a_month_in_the_united_states(kg, acute, site, step, source):
    assert step_of(LADDERS["us-federal"], kg, acute, site).id == step, source


@pytest.mark.parametrize(("kg", "step"), [(499.9, "not-registered"), (500.0, "registered")])
def test_premises_in_wales_register_from_500_kg_a_year_on(kg, step):
    assert step_of(LADDERS["gb"], kg).id == step, "G1"


def test_used_oil_lead_batteries_and_universal_waste_are_not_counted():
    """W20 (U1, U21): 70 kg thinner, 45 kg oil, 30 kg lead-acid, 6 kg tubes: 70 kg count."""
    found = of(
        containers=[
            drum("thinner", 70.0),
            drum("oil-engine", 45.0),
            drum("lead-acid", 30.0),
            drum("lamp-mercury", 6.0),
        ]
    )
    assert found.counted_now.likely == pytest.approx(70.0)
    assert found.on_site.likely == pytest.approx(151.0)
    assert "VSQG" in found.step


def test_more_than_a_thousand_kilograms_on_site_lift_the_category_of_a_small_month():
    """W22 (V1): 950 kg from earlier months and 60 kg of this one."""
    before = "2026-06-03T09:00:00+00:00"
    found = of(containers=[drum("thinner", 950.0, before), drum("thinner", 60.0)])
    assert found.counted_now.likely == pytest.approx(60.0)
    assert "(SQG)" in found.step
    small = of(containers=[drum("thinner", 940.0, before), drum("thinner", 60.0)])
    assert "(VSQG)" in small.step


def test_days_of_a_planned_tank_clean_out():
    """W21 (U5): from 1 June; told 30 days before, 2 May; shipped within 60 days, 31 July."""
    days = episode_days(EPISODE, datetime.date(2026, 6, 1), 0, planned=True)
    assert days.notify_by == datetime.date(2026, 5, 2)
    assert days.ship_by == datetime.date(2026, 7, 31)
    assert not days.needs_petition
    sudden = episode_days(EPISODE, datetime.date(2026, 6, 1), 0, planned=False)
    assert sudden.notify_by == datetime.date(2026, 6, 4), "U5: 72 hours"


def test_a_second_event_of_a_year_needs_a_petition():
    """W24 (U5)."""
    assert episode_days(EPISODE, datetime.date(2026, 9, 1), 1, planned=True).needs_petition


def cans(*kgs, classes=("3",)):
    return [(f"can {n}", kg, classes) for n, kg in enumerate(kgs)]


def test_what_an_owner_may_carry_in_british_columbia():
    """W23 (C3): four cans of 20 kg and a battery of 28 kg, 108 kg gross, are allowed."""
    assert trip_faults(TRIP, [*cans(20, 20, 20, 20), ("battery", 28.0, ["8"])]) == []


@pytest.mark.parametrize(
    ("packages", "faults"),
    [
        (cans(30, 30, 30, 30, 30), 0),
        (cans(30, 30, 30, 30, 30, 0.1), 1),
        (cans(30.1), 1),
        (cans(30.1, classes=("2.1",)), 0),
    ],
)
def test_limits_of_a_trip_on_both_sides(packages, faults):
    """C3: 150 kg gross in all, 30 kg each except class 2."""
    assert len(trip_faults(TRIP, packages)) == faults


@pytest.mark.parametrize(("kg", "days"), [(150.0, 180), (1100.0, 90)])
def test_days_that_a_drum_may_stand(kg, days):
    """N5: small generators 180 days, large ones 90, from the day the drum was begun."""
    (row,) = of(containers=[drum("thinner", kg)]).standing
    assert row.days == days
    began = datetime.date(2026, 11, 3)
    assert row.due == (began + datetime.timedelta(days=days)).isoformat()


def test_a_drum_from_a_larger_month_keeps_its_days_in_a_small_one():
    """U1, N5: categories go by the month in which waste is made; judgement for what stays."""
    (row,) = of(containers=[drum("thinner", 150.0, "2026-10-03T09:00:00+00:00")]).standing
    assert (row.days, row.due) == (180, "2027-04-01")


def test_a_very_small_generator_has_no_day():
    """V1: amounts only."""
    assert not of(containers=[drum("thinner", 50.0)]).standing


def test_a_home_is_in_no_category():
    """U6: 40 CFR 261.4(b)(1)."""
    found = of(containers=[drum("thinner", 2000.0)], holder="household")
    assert not found.applies
    assert not found.limits
    assert found.step == ""


def test_warnings_come_before_the_limit_and_by_the_high_value():
    """The share of 80 % is our own choice; no source."""
    assert not warning(100.0, 79.9, 90.0)
    assert warning(100.0, 80.0, 90.0) == "near"
    assert warning(100.0, 60.0, 100.1) == "may be over"
    assert warning(100.0, 100.1, 110.0) == "over"


def test_the_day_of_a_limit_at_a_steady_rate():
    """Plain division: 40 kg are left at 2 kg a day, so day 21 is the first over it."""
    assert day_reached(100.0, 60.0, 2.0, TODAY) == TODAY + datetime.timedelta(days=21)
    assert day_reached(100.0, 60.0, 0.0, TODAY) is None
    assert day_reached(100.0, 100.5, 0.0, TODAY) == TODAY
