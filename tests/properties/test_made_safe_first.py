"""Nothing of fuel, gas, batteries or shore power is ready while its make-safe step is open."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.boat import from_values
from shedtally.domain.work.left import left_to_take_out
from shedtally.rules.load import load

RULES = load()
STRICT = sorted(system.id for system in RULES.systems.values() if system.strict)
KINDS = sorted(
    (kind, system)
    for kind, row in RULES.kinds.items()
    for system in row.make_safe
    if system in STRICT
)
OTHERS = [*(kind for kind, _ in KINDS), "door", "cushion", None]


def line(rows, key="it"):
    found = left_to_take_out(from_values("boat", rows), RULES)
    return next(i for g in found.by_system for i in g.items if i.key == key)


def test_the_strict_systems_are_those_that_kill():
    assert STRICT == ["ac", "dc", "fuel", "gas"]
    assert {system for _, system in KINDS} == set(STRICT)


@pytest.mark.parametrize(("kind", "system"), KINDS)
def test_a_kind_waits_for_its_step_written_or_not_and_says_why(kind: str, system: str) -> None:
    item = ("item", "it", {"kind": kind, "name": "It"})
    others = [
        ("job", other, {"task": "make safe", "system": other, "done_at": "2026-09-01"})
        for other in RULES.systems
        if other != system
    ]
    for rows in (
        [item, *others],
        [item, *others, ("job", "open", {"task": "make safe", "system": system})],
    ):
        found = line(rows)
        assert not found.ready
        assert any(text.startswith("Make safe: ") for text in found.waits_for)
    done = ("job", "open", {"task": "make safe", "system": system, "done_at": "2026-09-01"})
    assert line([item, *others, done]).ready


@given(
    st.lists(st.sampled_from(OTHERS), min_size=1, max_size=8),
    st.lists(
        st.tuples(
            st.sampled_from([*STRICT, "sanitation", None]), st.booleans(), st.sampled_from("ab-")
        ),
        max_size=8,
    ),
    st.lists(st.tuples(st.integers(0, 7), st.integers(0, 7)), max_size=6),
)
def test_whatever_is_written_none_is_ready_before(kinds, jobs, orders):
    rows = [("compartment", "a", {"name": "A"}), ("compartment", "b", {"name": "B", "within": "a"})]
    rows += [
        ("item", f"i{at}", {"kind": kind, "compartment": "ab"[at % 2]})
        for at, kind in enumerate(kinds)
    ]
    rows += [
        (
            "job",
            f"j{at}",
            {
                "task": "make safe",
                **({"system": system} if system else {}),
                **({"compartment": place} if place != "-" else {}),
                **({"done_at": "2026-09-01"} if done else {}),
            },
        )
        for at, (system, done, place) in enumerate(jobs)
    ]
    rows += [
        ("before", f"o{at}", {"first": f"item/i{first}", "then": f"item/i{then}"})
        for at, (first, then) in enumerate(orders)
    ]
    found = left_to_take_out(from_values("boat", rows), RULES)
    still_open = {system for system, done, _ in jobs if system and not done}
    safe = {system for system, done, _ in jobs if system and done} - still_open
    for item in (i for g in found.by_system for i in g.items):
        kind = kinds[int(item.key[1:])]
        needed = set(RULES.kinds[kind].make_safe) & set(STRICT) if kind else set()
        if needed - safe:
            assert not item.ready, kind
            assert any("Make safe" in text or "ring" in text for text in item.waits_for)
