"""The part of a list that a handover took: nothing of it lost, nothing else in it, sums kept."""

import datetime

import pytest

from shedtally.domain.waste.handed_over import part_of

DAY = datetime.date(2026, 10, 1)


@pytest.fixture
def two_runs(waste):
    """Three cans, two of them on one handover, one on another."""
    weights = {"tare_kg": 1, "gross_kg": 6}
    rows = [
        ("handover", "one", {"on": "2026-09-01T10:00:00Z"}),
        ("handover", "two", {"on": "2026-09-20T10:00:00Z"}),
        ("container", "petrol", {"stream": "petrol", "handover": "one", **weights}),
        ("container", "rags", {"stream": "rag-oil", "handover": "one"}),
        ("container", "later", {"stream": "rag-oil", "handover": "two"}),
    ]
    oily = {"kind": "rag-oily", "soaked_in": "mineral oil", "mass_how": "weighed"}
    return waste(
        *rows,
        a={**oily, "mass_kg": 2.0, "container": "rags"},
        b={**oily, "mass_kg": 3.0, "container": "later"},
        c={**oily, "mass_kg": 7.0, "whereabouts": "ashore"},
    )


def test_a_handover_holds_its_own_containers_and_nothing_else(two_runs):
    part = part_of(two_runs, {"petrol", "rags"})
    assert {box.key for stream in part.streams for box in stream.containers} == {"petrol", "rags"}
    assert {item.key for stream in part.streams for item in stream.items} == {"petrol", "a"}
    assert part.gone.likely == pytest.approx(5 + 2)


def test_all_handovers_together_are_all_that_is_gone(two_runs):
    runs = [part_of(two_runs, {"petrol", "rags"}), part_of(two_runs, {"later"})]
    assert sum(run.gone.likely for run in runs) == pytest.approx(two_runs.gone.likely)
    everything = part_of(two_runs, {"petrol", "rags", "later"}).gone
    assert everything.likely == pytest.approx(two_runs.gone.likely)
    assert everything.low <= two_runs.gone.low + 1e-9
    assert everything.high >= two_runs.gone.high - 1e-9


def test_a_handover_of_nothing_is_empty_and_unknown_not_zero(two_runs):
    part = part_of(two_runs, set())
    assert part.streams == ()
    assert part.gone.basis == "unknown"
