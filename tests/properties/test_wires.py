"""What holds for every run of cable: what is chosen passes, and more never makes it thinner."""

from __future__ import annotations

import dataclasses
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from shedtally.domain.measures.reading import parse_size
from shedtally.domain.records import Item
from shedtally.domain.wiring.lists import WireSizing
from shedtally.domain.wiring.load import load_of
from shedtally.domain.wiring.size import fit, size_wire
from shedtally.rules.load import load

WIRING = load().wiring
MORE = st.floats(1, 4)


@st.composite
def runs(draw: st.DrawFn) -> Item:
    maybe = st.none() | st.booleans()
    return Item(
        key="run",
        load_a=draw(st.floats(0.05, 400)),
        voltage_v=draw(st.sampled_from([6, 12, 24, 32, 48])),
        length_mm=draw(st.floats(10, 24_000)),
        return_mm=draw(st.none() | st.floats(0, 24_000)),
        duty=draw(st.sampled_from([None, "hours", "at times", "seconds"])),
        critical=draw(maybe),
        hot_space=draw(maybe),
        ambient_c=draw(st.none() | st.floats(-20, 70)),
        bundled=draw(st.none() | st.integers(1, 100)),
        insulation_c=draw(st.none() | st.integers(60, 200)),
        sheathed=draw(maybe),
        size=draw(st.sampled_from([None, "1.5 mm2", "AWG 10", "35 mm2", "3/0 AWG", "hose"])),
    )


def mm2_of(sizing: WireSizing) -> tuple[float, float]:
    """Both series; what nothing in the table will do for is thicker than all of it."""
    beyond = 1e9
    return (
        sizing.gauge.mm2 if sizing.gauge else beyond,
        sizing.metric.mm2 if sizing.metric else beyond,
    )


def never_thinner(less: Item, more: Item, ac: bool = False) -> None:
    one, other = size_wire(less, ac, WIRING), size_wire(more, ac, WIRING)
    if one.refused and not one.amps:
        return
    assert all(a <= b for a, b in zip(mm2_of(one), mm2_of(other), strict=True))


@settings(deadline=None)
@given(runs())
def test_a_size_that_was_chosen_passes_its_own_check(run: Item) -> None:
    sizing = size_wire(run, False, WIRING)
    for chosen in (sizing.gauge, sizing.metric):
        if chosen is None:
            continue
        again = dataclasses.replace(run, new_size=chosen.name)
        taken = size_wire(again, False, WIRING).taken
        assert taken is not None
        assert taken.fails == ()
        assert taken.bears_a >= sizing.fuse_from_a - 1e-6
        assert taken.drop_v <= sizing.allowed_v + 1e-6
        assert all(sizing.fuse_from_a - 1e-6 <= a <= taken.bears_a + 1e-6 for a in taken.fuses)
        assert taken.fuses


@settings(deadline=None)
@given(runs())
def test_the_next_thinner_one_would_fail(run: Item) -> None:
    sizing = size_wire(run, False, WIRING)
    if not sizing.amps:
        return
    names = [f"AWG {row.name}" for row in WIRING.gauges]
    at = names.index(sizing.gauge.name) if sizing.gauge else len(names)
    carried = load_of(run, False, WIRING)
    assert all(fit(parse_size(name), carried, WIRING).fails for name in names[:at])


@settings(deadline=None)
@given(runs(), MORE)
def test_a_longer_run_never_gets_a_thinner_wire(run: Item, times: float) -> None:
    never_thinner(run, dataclasses.replace(run, length_mm=(run.length_mm or 0) * times))


@settings(deadline=None)
@given(runs(), MORE)
def test_more_load_never_gets_a_thinner_wire(run: Item, times: float) -> None:
    never_thinner(run, dataclasses.replace(run, load_a=(run.load_a or 0) * times))


@settings(deadline=None)
@given(runs(), st.floats(-20, 70), st.floats(0, 60))
def test_hotter_air_never_gets_a_thinner_wire(run: Item, celsius: float, more: float) -> None:
    never_thinner(
        dataclasses.replace(run, ambient_c=celsius),
        dataclasses.replace(run, ambient_c=celsius + more),
    )


@settings(deadline=None)
@given(runs(), st.integers(1, 100), st.integers(1, 100))
def test_a_larger_bundle_never_gets_a_thinner_wire(run: Item, one: int, other: int) -> None:
    few, many = sorted((one, other))
    never_thinner(dataclasses.replace(run, bundled=few), dataclasses.replace(run, bundled=many))


@settings(deadline=None)
@given(runs())
def test_what_nobody_said_is_never_milder_than_any_answer(run: Item) -> None:
    answers: dict[str, list[Any]] = {
        "critical": [True, False],
        "duty": ["hours", "at times", "seconds"],
        "hot_space": [True, False],
        "insulation_c": [60, 75, 105],
        "sheathed": [True, False],
    }
    for field, values in answers.items():
        unsaid = dataclasses.replace(run, ambient_c=None, **{field: None})
        for value in values:
            said = size_wire(dataclasses.replace(unsaid, **{field: value}), False, WIRING)
            if said.amps:
                worst = mm2_of(size_wire(unsaid, False, WIRING))
                assert all(a <= b for a, b in zip(mm2_of(said), worst, strict=True))


@settings(deadline=None)
@given(st.builds(
    Item,
    key=st.just("run"),
    load_a=st.none() | st.floats(-10, 1e5),
    load_w=st.none() | st.floats(-10, 1e6),
    voltage_v=st.none() | st.floats(0, 1000),
    length_mm=st.none() | st.floats(0, 50_000),
    bundled=st.none() | st.integers(1, 500),
    insulation_c=st.none() | st.integers(60, 200),
    ambient_c=st.none() | st.floats(-60, 150),
    size=st.none() | st.text(max_size=20),
    new_size=st.none() | st.text(max_size=20),
), st.booleans())  # fmt: skip
def test_whatever_is_written_is_answered_asked_or_refused(run: Item, ac: bool) -> None:
    sizing = size_wire(run, ac, WIRING)
    assert bool(sizing.asks) or bool(sizing.refused) or bool(sizing.gauge or sizing.metric)
