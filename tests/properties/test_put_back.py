"""The order of putting back is the order of taking out, turned round, whatever the orders are."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.boat import from_values
from shedtally.domain.work.put_back import put_back
from shedtally.rules.load import load

KEYS = "abcdefgh"
PAIRS = st.lists(st.tuples(st.sampled_from(KEYS), st.sampled_from(KEYS)), max_size=16)
DAYS = st.lists(st.integers(1, 28), min_size=len(KEYS), max_size=len(KEYS))


def boat(pairs, days, **more):
    rows = [
        ("item", key, {
            "name": key, "kind": "door", "fate": "refit", "whereabouts": "ashore",
            "out_at": f"2026-09-{day:02d}T10:00:00Z", **more.get(key, {}),
        })
        for key, day in zip(KEYS, days, strict=True)
    ]  # fmt: skip
    rows += [
        ("before", f"o{n}", {"first": f"item/{first}", "then": f"item/{then}"})
        for n, (first, then) in enumerate(pairs)
    ]
    return from_values("boat", rows)


def lines(found):
    return {line.key: line for group in found.by_system for line in group.items}


@given(PAIRS, DAYS)
def test_what_came_out_first_goes_back_after(pairs, days):
    forward = [pair for pair in pairs if pair[0] < pair[1]]
    found = lines(put_back(boat(forward, days), load()))
    assert sorted(line.order for line in found.values()) == list(range(1, len(KEYS) + 1))
    for first, then in forward:
        assert found[then].order < found[first].order
        assert then in found[first].after


@given(DAYS)
def test_without_orders_the_last_out_is_the_first_in(days):
    found = lines(put_back(boat([], days), load()))
    out = dict(zip(KEYS, days, strict=True))
    back = sorted(found.values(), key=lambda line: line.order)
    assert [out[line.key] for line in back] == sorted(days, reverse=True)


@given(PAIRS, DAYS)
def test_a_ring_of_orders_loses_nothing(pairs, days):
    found = put_back(boat(pairs, days), load())
    assert len(lines(found)) == found.total == len(KEYS)


def test_what_is_back_is_counted_and_waited_for_no_more():
    back = {"back_at": "2027-03-01T10:00:00Z", "whereabouts": "aboard"}
    made = put_back(boat([("a", "b")], range(1, 9), b=back), load())
    assert made.back == 1
    assert lines(made)["a"].after == ()


def test_what_has_gone_or_is_to_be_renewed_is_missing_and_waste_does_not_go_back():
    states = {
        "a": {"whereabouts": "gone"},
        "b": {"fate": "renew"},
        "c": {"fate": "waste"},
        "d": {"fate": "undecided"},
    }
    made = put_back(boat([], range(1, 9), **states), load())
    found = lines(made)
    assert made.missing == 3
    assert "c" not in found
    assert (found["a"].state, found["b"].state, found["d"].state) == ("gone", "new", "here")
    assert found["e"].missing == ""
