"""What must hold of amounts over time, whatever was entered."""

import datetime
import math

from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.boat import from_values
from shedtally.domain.waste.by_stream import waste_rows
from shedtally.domain.waste.quantities import ladder_of, quantities
from shedtally.rules.load import load

RULES = load()
TODAY = datetime.date(2026, 11, 25)
DAYS = st.dates(datetime.date(2025, 1, 1), datetime.date(2027, 1, 1))
MOMENTS = st.one_of(st.none(), DAYS.map(lambda day: f"{day.isoformat()}T09:00:00+00:00"))
KINDS = ["thinner", "old-petrol", "engine-oil", "battery-lead-acid", "paint-can", "rag-solvent"]
ITEM = st.fixed_dictionaries(
    {
        "kind": st.sampled_from([kind for kind in KINDS if kind in RULES.kinds]),
        "fate": st.just("waste"),
        "mass_kg": st.floats(0.0, 2000.0),
        "out_at": MOMENTS,
        "whereabouts": st.sampled_from([None, "aboard", "ashore", "gone"]),
        "container": st.sampled_from([None, "weighed", "not weighed"]),
    }
)
BOXES = [
    ("container", "weighed", {"stream": "thinner", "tare_kg": 2.0, "gross_kg": 90.0}),
    ("container", "not weighed", {"stream": "paint"}),
]
LAWS = st.sampled_from(sorted(RULES.rule_sets))


def found(items, law="us-federal", area=None):
    rows = [("item", f"i{n}", values) for n, values in enumerate(items)]
    boat = from_values("b", [*BOXES, *rows, ("boat", "b", {"rule_area": area})])
    case, lines, _ = waste_rows(boat, RULES, law, "business", TODAY)
    return quantities(case, lines), ladder_of(case)


def rank(ladder, name):
    return [step.name for step in ladder.steps].index(name)


@given(st.lists(ITEM, max_size=5), ITEM, st.sampled_from([("us-federal", None), ("gb", "wales")]))
def test_adding_an_item_never_lowers_a_category(items, more, where):
    # What is put into a weighed container changes what its weight is divided over, not the weight;
    # what was in it alone before is no item, so the added one lies loose.
    more = {**more, "container": None}
    law, area = where
    before, ladder = found(items, law, area)
    after, _ = found([*items, more], law, area)
    assert rank(ladder, after.step) >= rank(ladder, before.step)
    assert rank(ladder, after.step_high) >= rank(ladder, before.step_high)
    assert after.on_site_counted.likely >= before.on_site_counted.likely - 1e-9


@given(st.lists(ITEM, min_size=1, max_size=5), ITEM)
def test_an_item_put_into_a_weighed_container_makes_nothing_smaller(items, more):
    inside = {**items[0], "container": "weighed", "whereabouts": "ashore"}
    more = {**more, "container": "weighed", "whereabouts": "ashore"}
    before, _ = found([inside, *items[1:]])
    after, _ = found([inside, *items[1:], more])
    assert after.on_site_counted.likely >= before.on_site_counted.likely - 1e-9


@given(st.lists(ITEM, max_size=6), LAWS)
def test_months_and_undated_are_all_that_came_up(items, law):
    got, _ = found(items, law)
    months = math.fsum(row.came_up.likely for row in got.months)
    whole = got.on_site.likely + got.gone.likely
    assert math.isclose(months + got.undated.likely, whole, rel_tol=1e-9, abs_tol=1e-9)
    streams = math.fsum(row.on_site.likely + row.gone.likely for row in got.streams)
    assert math.isclose(streams, whole, rel_tol=1e-9, abs_tol=1e-9)
    went = math.fsum(row.gone.likely for row in got.months)
    assert math.isclose(went + got.gone_undated.likely, got.gone.likely, rel_tol=1e-9, abs_tol=1e-9)
