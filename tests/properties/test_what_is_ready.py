"""What is ready on a whole boat: orders, whole compartments, make-safe steps, sparks."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from shedtally.domain.boat import from_values
from shedtally.domain.work.left import waits_for
from shedtally.domain.work.steps import steps_of
from shedtally.rules.load import load

RULES = load()
ITEMS = [f"i{at}" for at in range(7)]
JOBS = ["j0", "j1", "j2"]
PLACES = ["a", "b", "c"]
WITHIN = {"a": None, "b": "a", "c": "b"}
KINDS = ["door", "fuel-tank", "gas-regulator", "battery-agm", None]
SYSTEMS = ["fuel", "gas", "dc", "joinery", None]
TARGETS = [
    *(f"item/{key}" for key in ITEMS),
    *(f"job/{key}" for key in JOBS),
    *(f"compartment/{key}" for key in PLACES),
]


@st.composite
def boats(draw):
    """Rows of a boat on which everything is still aboard, and orders of any sort, rings too."""
    rows = [("compartment", key, {"name": key, "within": WITHIN[key]}) for key in PLACES]
    for key in ITEMS:
        place, kind = draw(st.sampled_from([*PLACES, None])), draw(st.sampled_from(KINDS))
        rows.append(("item", key, {"compartment": place, "kind": kind}))
    for key in JOBS:
        values = {
            "task": draw(st.sampled_from(["make safe", "grind", "scrape"])),
            "system": draw(st.sampled_from(SYSTEMS)),
            "compartment": draw(st.sampled_from([*PLACES, None])),
        }
        rows.append(("job", key, values))
    pairs = st.tuples(st.sampled_from(TARGETS), st.sampled_from(TARGETS))
    for at, (first, then) in enumerate(draw(st.lists(pairs, max_size=10))):
        rows.append(("before", f"o{at}", {"first": first, "then": then}))
    return rows


def ready(rows):
    """The items and jobs that wait for nothing."""
    found = steps_of(from_values("boat", rows), RULES)
    waits = waits_for(found)
    return {key for key, step in found.steps.items() if not step.gate and key not in waits}


def orders(rows):
    return [(values["first"], values["then"]) for table, _, values in rows if table == "before"]


def inside(rows, key):
    """The targets in a compartment and below it."""
    below = {key, *(place for place in PLACES if WITHIN[place] in {key, *_below(key)})}
    return {
        f"{table}/{name}"
        for table, name, values in rows
        if table in ("item", "job") and values.get("compartment") in below
    }


def _below(key):
    return {place for place in PLACES if WITHIN[place] == key}


@given(boats())
@settings(max_examples=150)
def test_nothing_is_ready_while_something_before_it_is_open(rows):
    can = ready(rows)
    for first, then in orders(rows):
        first_table, _, first_key = first.partition("/")
        then_table, _, then_key = then.partition("/")
        held = inside(rows, then_key) if then_table == "compartment" else {then}
        # An empty compartment holds nothing up.
        if first_table != "compartment" or inside(rows, first_key):
            assert not held & can


@given(boats(), st.data())
@settings(max_examples=150)
def test_taking_out_or_doing_what_is_ready_makes_nothing_else_unready(rows, data):
    can = ready(rows)
    choices = sorted(key for key in can if not key.startswith("safe/"))
    if not choices:
        return
    table, _, key = data.draw(st.sampled_from(choices)).partition("/")
    done = {"whereabouts": "ashore"} if table == "item" else {"done_at": "2026-11-25"}
    later = [
        (t, k, {**values, **done} if (t, k) == (table, key) else values) for t, k, values in rows
    ]
    assert can - {f"{table}/{key}"} <= ready(later)
