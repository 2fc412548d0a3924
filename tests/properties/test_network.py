"""The order of work against networkx, an independent library for graphs, over random ones."""

from __future__ import annotations

import itertools

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.work.network import Orders, arrange, longest_chain, opened_by, times_of

KEYS = [f"item/{letter}" for letter in "abcdefgh"]
HOURS = st.lists(st.integers(0, 40), min_size=len(KEYS), max_size=len(KEYS))
PAIRS = st.lists(st.tuples(st.sampled_from(KEYS), st.sampled_from(KEYS)), max_size=24)


def forward(pairs):
    """The pairs that go forwards in the alphabet, so that there is no ring."""
    return [pair for pair in pairs if pair[0] < pair[1]]


def graph(hours, pairs):
    """The same work with times on the arrows, as networkx wants them: the end is a node."""
    made = nx.DiGraph()
    for key, time in hours.items():
        made.add_edge(key, "end", weight=time)
    for first, then in pairs:
        made.add_edge(first, then, weight=hours[first])
    return made


@given(HOURS, PAIRS)
def test_the_length_is_that_of_the_longest_path(times, pairs):
    hours = dict(zip(KEYS, map(float, times), strict=True))
    network = arrange(hours, forward(pairs))
    found = times_of(network)
    assert found.length == nx.dag_longest_path_length(graph(hours, forward(pairs)))
    chain = longest_chain(network, found)
    assert sum(network.hours[step] for step in chain) == found.length
    assert all(then in network.after[first] for first, then in itertools.pairwise(chain))


@given(HOURS, PAIRS)
def test_starts_lie_between_early_and_late_and_a_chain_has_no_slack(times, pairs):
    network = arrange(dict(zip(KEYS, map(float, times), strict=True)), forward(pairs))
    found = times_of(network)
    for step in range(len(KEYS)):
        assert 0 <= found.earliest[step] <= found.latest[step] + 1e-9
        assert found.latest[step] + network.hours[step] <= found.length + 1e-9
        for then in network.after[step]:
            assert found.earliest[step] + network.hours[step] <= found.earliest[then]
            assert found.latest[step] + network.hours[step] <= found.latest[then]
    assert all(found.slack(step) == 0 for step in longest_chain(network, found))


@given(PAIRS)
def test_rings_are_the_knots_that_networkx_finds(pairs):
    network = arrange(dict.fromkeys(KEYS, 1.0), pairs)
    made = nx.DiGraph(pairs)
    knots = [
        knot
        for knot in nx.strongly_connected_components(made)
        if len(knot) > 1 or any(made.has_edge(key, key) for key in knot)
    ]
    assert len(network.rings) == len(knots)
    for ring in network.rings:
        assert any(set(ring) <= knot for knot in knots)
        assert all(made.has_edge(*pair) for pair in zip(ring, (*ring[1:], ring[0]), strict=True))
    in_ring = {key for knot in knots for key in knot}
    for step, key in enumerate(network.keys):
        assert not (key in in_ring and network.waiting[step] == 0)


@given(PAIRS)
def test_the_order_has_every_step_once_and_after_all_that_is_before_it(pairs):
    network = arrange(dict.fromkeys(KEYS, 1.0), pairs)
    place = {step: at for at, step in enumerate(network.order)}
    assert sorted(place) == list(range(len(KEYS)))
    assert all(place[a] < place[b] for a in place for b in network.after[a])


@given(PAIRS, st.sampled_from(KEYS), st.sampled_from(KEYS))
def test_an_order_closes_a_ring_exactly_if_there_is_a_way_back(pairs, first, then):
    made = nx.DiGraph(forward(pairs))
    made.add_nodes_from(KEYS)
    ring = Orders(forward(pairs)).ring(first, then)
    assert bool(ring) == nx.has_path(made, then, first)
    if ring:
        steps = [*ring, ring[0]]
        made.add_edge(first, then)
        assert steps[0] == first
        assert all(made.has_edge(*pair) for pair in itertools.pairwise(steps))


@given(PAIRS, st.sampled_from(KEYS))
def test_doing_a_step_makes_ready_what_it_opens_and_nothing_unready(pairs, done):
    network = arrange(dict.fromkeys(KEYS, 1.0), forward(pairs))
    step = network.keys.index(done)
    ready = {key for key, count in zip(network.keys, network.waiting, strict=True) if not count}
    rest = [key for key in KEYS if key != done]
    after = arrange(dict.fromkeys(rest, 1.0), forward(pairs))
    now = {key for key, count in zip(after.keys, after.waiting, strict=True) if not count}
    assert ready - {done} <= now
    if done in ready:
        opened = {network.keys[then] for then in opened_by(network, step)}
        assert now == (ready - {done}) | opened


def test_a_time_below_zero_is_refused():
    with pytest.raises(ValueError, match="less than no time"):
        arrange({"a": -1.0}, [])


def test_no_steps_take_no_time():
    network = arrange({}, [("a", "b")])
    assert times_of(network).length == 0
    assert longest_chain(network) == ()
