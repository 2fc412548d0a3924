"""What must hold of what was handed over, whatever went along."""

import datetime
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.boat import from_values
from shedtally.domain.waste.by_stream import waste_list, waste_rows
from shedtally.domain.waste.freeze import digest_of, freeze, went_with
from shedtally.domain.waste.quantities import quantities
from shedtally.rules.load import load

RULES = load()
TODAY = datetime.date(2026, 11, 25)
ITEM = st.fixed_dictionaries(
    {
        "kind": st.one_of(st.none(), st.sampled_from(sorted(RULES.kinds))),
        "fate": st.sampled_from([None, "waste", "scrap", "refit"]),
        "mass_kg": st.floats(0, 500),
        "container": st.sampled_from([None, "going", "staying"]),
        "handover": st.sampled_from([None, "h"]),
        "boxed_at": st.sampled_from([None, "2026-09-03T10:00:00Z"]),
    }
)
FIXED = [
    ("container", "going", {"name": "Going", "stream": "paint", "handover": "h"}),
    ("container", "staying", {"name": "Staying", "stream": "paint"}),
    ("handover", "h", {"on": "2026-10-05", "to": "Site", "sealed_at": "2026-10-05T10:00:00Z"}),
]
LAWS = st.sampled_from(sorted(RULES.rule_sets))


def boat_of(items, law="eu"):
    rows = [("item", str(n), values) for n, values in enumerate(items)]
    return from_values("b", [*FIXED, *rows, ("boat", "b", {"rule_set": law})])


@given(st.lists(ITEM, max_size=6), LAWS)
def test_a_handover_holds_every_line_that_went_once_and_sums_them(items, law):
    boat = boat_of(items, law)
    whole = waste_list(boat, RULES, law, "business", TODAY)
    part = went_with(boat, whole, "h")
    lines = [line for stream in part.streams for line in stream.items]
    keys = {line.key for line in lines}
    assert len(keys) == len(lines)
    listed = {line.key for stream in whole.streams for line in stream.items}
    for n, values in enumerate(items):
        gone = values["handover"] == "h" or (values["container"] == "going" and str(n) in listed)
        assert (str(n) in keys) == gone
    assert part.gone.likely == pytest.approx(math.fsum(line.mass.likely for line in lines))
    assert all(ban.box == "going" for ban in part.mixed)


@given(st.lists(ITEM, max_size=5), LAWS)
def test_the_same_records_freeze_to_the_same_bytes(items, law):
    first, second = (freeze(boat_of(items, law), RULES, "h", TODAY) for _ in range(2))
    assert first == second
    assert first.digest == digest_of(first.body)


@given(st.lists(ITEM, max_size=6))
def test_what_went_loose_went_in_the_month_of_its_handover(items):
    case, rows, _ = waste_rows(boat_of(items), RULES, "eu", "business", TODAY)
    found = quantities(case, rows)
    october = math.fsum(line.gone.likely for line in found.months if line.period == "2026-10")
    assert october == pytest.approx(found.gone.likely)
    assert found.gone_undated.likely == 0


def test_what_was_put_into_a_container_came_up_then_at_the_latest():
    item = {"kind": "paint-can", "fate": "waste", "mass_kg": 4, "boxed_at": "2026-09-03T10:00:00Z"}
    case, rows, _ = waste_rows(boat_of([item]), RULES, "eu", "business", TODAY)
    came = {line.period: line.came_up.likely for line in quantities(case, rows).months}
    assert came["2026-09"] == pytest.approx(4)
