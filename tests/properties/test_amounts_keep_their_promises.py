"""What must hold of amounts, categories and frozen lists whatever a boat has in it."""

import datetime
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.boat import from_values
from shedtally.domain.boxes import box_list
from shedtally.domain.freeze import digest_of, freeze
from shedtally.domain.generator import day_reached, step_of
from shedtally.domain.quantities import quantities
from shedtally.domain.waste import waste_list, waste_rows
from shedtally.rules.load import load

RULES = load()
DAY = datetime.date(2026, 6, 20)
LAWS = st.sampled_from(sorted(RULES.rule_sets))
LADDERS = st.sampled_from(RULES.amounts.ladders)
KG = st.floats(0, 20_000)
KINDS = st.sampled_from(sorted(RULES.kinds))
DAYS = st.sampled_from([None, "2026-04-30", "2026-05-01", "2026-06-20", "2025-06-20"])
ITEM = st.fixed_dictionaries(
    {
        "kind": KINDS,
        "fate": st.just("waste"),
        "whereabouts": st.sampled_from(["ashore", "gone"]),
        "out_at": DAYS,
        "container": st.sampled_from([None, "tub", "scale"]),
        "mass_kg": st.one_of(st.none(), st.floats(0.01, 2_000)),
        "mass_how": st.sampled_from(["weighed", "guessed"]),
    }
)
ITEMS = st.lists(ITEM, max_size=8)
BOXES = [
    ("container", "tub", {"stream": "rag-oil", "opened_at": "2026-05-01"}),
    ("container", "scale", {"stream": "rag-oil", "tare_kg": 2.0, "gross_kg": 14.0}),
]


def boat_of(items, *more):
    rows = [("item", str(n), values) for n, values in enumerate(items)]
    return from_values("b", [*BOXES, *rows, *more])


def amounts(items, law="us-federal", *more):
    case, rows, _ = waste_rows(boat_of(items, *more), RULES, law, "business", DAY)
    return quantities(case, rows)


def rank(name):
    return [step.name for step in RULES.amounts.ladders[0].steps].index(name)


@given(ladder=LADDERS, one=KG, more=KG, site=KG, site_more=KG, acute=st.floats(0, 3))
def test_more_of_anything_never_lowers_a_step(ladder, one, more, site, site_more, acute):
    order = list(ladder.steps)
    before = order.index(step_of(ladder, one, 0.0, site))
    assert order.index(step_of(ladder, one + more, acute, site + site_more)) >= before


@given(items=ITEMS, extra=ITEM)
def test_one_item_more_never_lowers_the_category(items, extra):
    """What is put on a scale with others is in its mass already, so the item lies elsewhere."""
    new = {**extra, "container": None if extra["container"] == "scale" else extra["container"]}
    before, after = amounts(items), amounts([*items, new])
    assert rank(after.step) >= rank(before.step)
    assert rank(after.step_high) >= rank(before.step_high)


@given(items=ITEMS, law=LAWS)
def test_streams_months_and_the_whole_are_one_sum(items, law):
    found = amounts(items, law)
    whole = found.on_site.likely + found.gone.likely
    by_stream = math.fsum(row.on_site.likely + row.gone.likely for row in found.streams)
    by_month = math.fsum(row.came_up.likely for row in found.months)
    listed = waste_list(boat_of(items), RULES, law, "business", DAY)
    assert by_stream == pytest.approx(whole)
    assert by_month == pytest.approx(whole)
    assert listed.on_site.likely + listed.gone.likely == pytest.approx(whole)
    assert math.fsum(row.gone.likely for row in found.months) == pytest.approx(found.gone.likely)


@given(items=ITEMS)
def test_a_day_that_nobody_wrote_down_never_makes_the_category_lower(items):
    undated = amounts([{**values, "out_at": None} for values in items])
    dated = amounts(items)
    assert rank(undated.step) >= rank(dated.step)
    assert undated.undated.likely >= dated.undated.likely - 1e-9


@given(limit=st.floats(1, 10_000), now=KG, rate=st.floats(0, 500), more=st.floats(0, 500))
def test_a_faster_rate_never_reaches_a_limit_later(limit, now, rate, more):
    slow = day_reached(limit, now, rate, DAY)
    fast = day_reached(limit, now, rate + more, DAY)
    assert slow is None or (fast is not None and DAY <= fast <= slow)


@given(items=ITEMS, law=LAWS)
def test_freezing_the_same_records_gives_the_same_bytes_in_any_order(items, law):
    handover = ("handover", "h", {"on": "2026-06-19", "to": "Site"})
    rule = ("boat", "b", {"rule_set": law})
    went = [{**values, "handover": "h"} for values in items]
    one = freeze(boat_of(went, handover, rule), RULES, "h", DAY)
    rows = [("item", str(n), values) for n, values in enumerate(went)]
    other = from_values("b", [rule, handover, *reversed(rows), *reversed(BOXES)])
    same = [("item", key) for key in other.items]
    assert len(same) == len(went)
    assert one.digest == digest_of(one.body)
    assert freeze(boat_of(went, handover, rule), RULES, "h", DAY) == one


@given(items=ITEMS)
def test_every_item_in_a_container_is_a_line_of_it_once(items):
    case, rows, _ = waste_rows(boat_of(items), RULES, "eu", "business", DAY)
    views = {box.key: box for box in box_list(case, rows).boxes}
    for key in ("tub", "scale"):
        held = {str(n) for n, values in enumerate(items) if values["container"] == key}
        assert sorted(line.key for line in views[key].lines) == sorted(held)
