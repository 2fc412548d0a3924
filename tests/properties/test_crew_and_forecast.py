"""Schedules respect orders and hands; forecasts move with the pace and never lie about bounds."""

from __future__ import annotations

import datetime as dt
import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.rulebook import Three
from shedtally.domain.work.crew import QUICK, TooFewHands, lower_bound, schedule
from shedtally.domain.work.effort import Toll
from shedtally.domain.work.forecast import forecast
from shedtally.domain.work.network import arrange, times_of
from shedtally.domain.work.pace import Pace
from shedtally.domain.work.sitting import plan_sitting
from shedtally.domain.work.steps import Step, Steps

KEYS = [f"item/{letter}" for letter in "abcdefgh"]
PAIRS = st.lists(st.tuples(st.sampled_from(KEYS), st.sampled_from(KEYS)), max_size=16)
TODAY = dt.date(2026, 11, 25)


def forward(pairs):
    return [pair for pair in pairs if pair[0] < pair[1]]


@st.composite
def work(draw):
    """Steps with orders that have no ring."""
    steps = {}
    for key in KEYS:
        likely = draw(st.integers(1, 16)) / 4
        toll = Toll(
            hours=Three(likely / 2, likely, likely * 2),
            people=draw(st.integers(1, 2)),
            toil=draw(st.sampled_from(["light", "steady", "hard"])),
            dirty=False,
            sparks=draw(st.booleans()),
            vapour=draw(st.booleans()),
            said=False,
        )
        steps[key] = Step(key, key, "", draw(st.sampled_from(["x", "y"])), toll)
    return Steps(steps, tuple(dict.fromkeys(forward(draw(PAIRS)))))


@given(work(), st.integers(2, 4))
def test_a_schedule_keeps_orders_and_hands_and_lies_between_bound_and_one_by_one(open_steps, hands):
    network = open_steps.network
    needs = [{"hands": float(open_steps.steps[key].toll.people)} for key in network.keys]
    made = schedule(network, needs, {"hands": float(hands)}, effort=QUICK)
    ends = [start + time for start, time in zip(made.starts, network.hours, strict=True)]
    for step, thens in enumerate(network.after):
        assert all(ends[step] <= made.starts[then] + 1e-9 for then in thens)
    for moment in made.starts:
        at_once = sum(
            need["hands"]
            for need, start, end in zip(needs, made.starts, ends, strict=True)
            if start <= moment + 1e-9 < end - 1e-9
        )
        assert at_once <= hands
    assert lower_bound(network, needs, {"hands": float(hands)}) <= made.length + 1e-9
    assert made.length <= sum(network.hours) + 1e-9
    assert times_of(network).length <= made.length + 1e-9


@given(work(), st.integers(2, 3))
def test_more_effort_never_makes_a_schedule_longer(open_steps, hands):
    needs = [{"hands": 1.0 + at % 2} for at in range(len(open_steps.network.keys))]
    quick = schedule(open_steps.network, needs, {"hands": float(hands)}, effort=0)
    slow = schedule(open_steps.network, needs, {"hands": float(hands)}, effort=200)
    assert slow.length <= quick.length + 1e-9


def test_a_step_that_needs_more_than_there_is_is_refused():
    with pytest.raises(TooFewHands, match="a needs 2 of hands, there are 1"):
        schedule(arrange({"a": 1.0}, []), [{"hands": 2.0}], {"hands": 1.0})


@given(work(), st.sampled_from([2.0, 4.0, 8.0]), st.integers(1, 3), st.booleans())
def test_a_sitting_does_only_what_is_ready_by_then(open_steps, hours, people, mix):
    plan = plan_sitting(open_steps, hours, people, 1.0, mix)
    ends = {turn.target: turn.start + turn.hours for turn in plan.turns if not turn.goes_on}
    assert len({turn.target for turn in plan.turns}) == len(plan.turns)
    for turn in plan.turns:
        assert turn.people <= people
        assert 0 <= turn.start < turn.start + turn.hours <= hours + 1e-9
        firsts = [first for first, then in open_steps.orders if then == turn.target]
        assert all(ends[first] <= turn.start + 1e-9 for first in firsts)
    tolls = [open_steps.steps[turn.target].toll for turn in plan.turns]
    assert not (any(toll.sparks for toll in tolls) and any(toll.vapour for toll in tolls))
    for moment in {turn.start for turn in plan.turns}:
        at_once = sum(
            turn.people
            for turn in plan.turns
            if turn.start <= moment + 1e-9 < turn.start + turn.hours - 1e-9
        )
        assert at_once <= people


@given(work())
def test_no_hard_turn_follows_a_hard_one_of_one_person_while_there_was_a_lighter(open_steps):
    plan = plan_sitting(open_steps, 8.0, 1, 1.0, mix=True)
    ends = {turn.target: turn.start + turn.hours for turn in plan.turns if not turn.goes_on}
    done = {turn.target for turn in plan.turns}
    for before, turn in itertools.pairwise(plan.turns):
        if before.toil == turn.toil == "hard":
            fits = [
                step
                for key, step in open_steps.steps.items()
                if key not in done
                and step.toll.people == 1
                and step.toll.toil != "hard"
                and step.toll.hours.likely <= 8.0 - turn.start
                and not any(first not in ends for first, then in open_steps.orders if then == key)
            ]
            flames = [open_steps.steps[key].toll for key in done]
            sparks, vapour = any(t.sparks for t in flames), any(t.vapour for t in flames)
            assert not [
                step
                for step in fits
                if not (step.toll.sparks and (vapour or step.toll.vapour))
                and not (step.toll.vapour and sparks)
            ]


def pace(share: float, weeks: tuple[float, ...] = ()) -> Pace:
    return Pace(
        share=Three(share * 0.6, share, share / 0.6),
        sittings=5,
        logged_hours=0,
        estimated_hours=0,
        weeks=weeks,
        usual_week=Three(0.0, 12.0, 24.0),
    )


@given(work(), st.sampled_from([0.7, 1.0, 1.3]), st.sampled_from([(), (4.0, 0.0, 12.0)]))
def test_a_slower_pace_never_ends_sooner_nor_leaves_fewer_hours(open_steps, share, weeks):
    steps = list(open_steps.steps.values())
    fast = forecast(steps, pace(share, weeks), TODAY)
    slow = forecast(steps, pace(share * 1.2, weeks), TODAY)
    assert fast.hours_low <= fast.hours_likely <= fast.hours_high
    assert fast.hours_likely < slow.hours_likely
    for name in ("early", "likely", "late"):
        assert getattr(fast, name) <= getattr(slow, name)
    assert fast.early <= fast.likely <= fast.late
    for ahead, behind in zip(fast.weeks, slow.weeks, strict=False):
        assert ahead.likely <= behind.likely + 1e-9
        assert ahead.low <= ahead.likely <= ahead.high


@pytest.mark.parametrize("weeks", [(), (4.0, 0.0, 12.0), (3.0, 0.0, 0.0, 9.0)])
def test_every_percent_slower_shows_in_the_weeks_and_never_as_sooner(weeks):
    """Steps so small that trials which were drawn anew would be seen to jump about."""
    toll = Toll(Three(30, 60, 120), 1, "light", False, False, False, False)
    steps = [Step(f"item/{at}", "a", "", "", toll) for at in range(3)]
    courses = [forecast(steps, pace(1 + at / 100, weeks), TODAY) for at in range(13)]
    for fast, slow in itertools.pairwise(courses):
        assert fast.hours_low < slow.hours_low
        assert fast.hours_high < slow.hours_high
        for name in ("early", "likely", "late"):
            assert getattr(fast, name) <= getattr(slow, name)
        for ahead, behind in zip(fast.weeks, slow.weeks, strict=False):
            for name in ("low", "likely", "high"):
                assert getattr(ahead, name) <= getattr(behind, name) + 1e-9


@given(work(), st.sampled_from([(1.0, 0.0), (8.0, 2.0, 0.0)]))
def test_more_hours_a_week_never_end_later(open_steps, weeks):
    steps = list(open_steps.steps.values())
    few = forecast(steps, pace(1.0, weeks), TODAY)
    many = forecast(steps, pace(1.0, tuple(2 * week for week in weeks)), TODAY)
    assert many.late <= few.late
    assert many.hours_likely == few.hours_likely


def test_nothing_left_ends_today_and_a_crew_that_never_works_never_ends():
    assert forecast([], pace(1.0), TODAY).late == "2026-11-25"
    one = Step("item/a", "a", "", "", Toll(Three(1, 2, 3), 1, "light", False, False, False, False))
    never = forecast([one], pace(1.0, (0.0, 0.0, 0.0)), TODAY)
    assert (never.early, never.late) == (None, None)
    assert forecast([one], pace(1.0), TODAY) == forecast([one], pace(1.0), TODAY)
