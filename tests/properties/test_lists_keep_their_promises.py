"""What must hold of the three lists whatever a boat holds and whatever nobody filled in."""

import datetime
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.aboard.out import is_out, pieces
from shedtally.domain.boat import from_values
from shedtally.domain.masses.item_mass import mass_of
from shedtally.domain.masses.spread import total
from shedtally.domain.records import Item
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.waste.by_stream import waste_list
from shedtally.domain.work.left import left_to_take_out
from shedtally.rules.load import load

RULES = load()
BASES = ("weighed", "plate", "calculated", "guessed", "mixed", "unknown")
maybe = lambda choices: st.one_of(st.none(), choices)  # noqa: E731

ITEM = st.fixed_dictionaries(
    {
        "kind": maybe(st.sampled_from([*RULES.kinds, "of-a-newer-phone"])),
        "fate": maybe(st.sampled_from(["undecided", "refit", "renew", "sell", "scrap", "waste"])),
        "whereabouts": maybe(st.sampled_from(["aboard", "ashore", "gone"])),
        "soaked_in": maybe(
            st.sampled_from(["mineral oil", "drying oil", "solvent", "fuel", "water", "clean"])
        ),
        "leaking": maybe(st.booleans()),
        "drained": maybe(st.booleans()),
        "lead": maybe(st.sampled_from(["found", "not found"])),
        "asbestos": maybe(st.sampled_from(["found", "not found"])),
        "flash_point_c": maybe(st.floats(-60, 400)),
        "count": maybe(st.integers(1, 50)),
        "size": maybe(
            st.sampled_from(["19 mm", "3/4 in", "AWG 12", "2 x 2.5 mm2", "M8", "junk", "90 mm"])
        ),
        "material": maybe(st.sampled_from(["bronze", "oak", "unobtainium", "diesel"])),
        "length_mm": maybe(st.floats(0, 50_000)),
        "width_mm": maybe(st.floats(0, 50_000)),
        "thickness_mm": maybe(st.floats(0, 500)),
        "volume_l": maybe(st.floats(0, 1_000)),
        "capacity_ah": maybe(st.floats(0, 1_000)),
        "voltage_v": maybe(st.floats(0, 100)),
        "mass_kg": maybe(st.floats(0, 1_000)),
        "mass_how": maybe(st.sampled_from(["weighed", "plate", "calculated", "guessed"])),
        "system": maybe(st.sampled_from([*RULES.systems, "moon"])),
        "compartment": maybe(st.sampled_from(["c1", "c2", "not-here-yet"])),
        "container": maybe(st.sampled_from(["k1", "k2", "not-here-yet"])),
    }
)
ITEMS = st.lists(ITEM, max_size=8)
CONTAINER = st.fixed_dictionaries(
    {
        "stream": maybe(st.sampled_from([*RULES.streams, "a-newer-stream"])),
        "tare_kg": maybe(st.floats(0, 20)),
        "gross_kg": maybe(st.floats(0, 200)),
        "handover": maybe(st.sampled_from(["h", "not-here-yet"])),
    }
)
JOB = st.fixed_dictionaries(
    {
        "task": maybe(st.sampled_from(["make safe", "clean"])),
        "system": maybe(st.sampled_from([*RULES.systems])),
        "compartment": maybe(st.sampled_from(["c1", "c2"])),
        "done_at": maybe(st.just("2026-05-04")),
    }
)
TARGET = st.sampled_from(["item/0", "item/1", "item/2", "item/3", "job/0", "job/1", "item/gone"])
ORDER = st.fixed_dictionaries({"first": maybe(TARGET), "then": maybe(TARGET)})
LAWS = st.sampled_from(sorted(RULES.rule_sets))
HOLDERS = st.sampled_from(["household", "business", ""])
DAYS = st.dates(datetime.date(2024, 1, 1), datetime.date(2030, 1, 1))


def boat_of(items, containers=(), jobs=(), orders=()):
    rows = [("compartment", "c1", {"name": "Cabin"}), ("handover", "h", {"on": "2026-11-02"})]
    rows.append(("compartment", "c2", {"name": "Locker", "within": "c1"}))
    rows += [("item", str(n), values) for n, values in enumerate(items)]
    rows += [("container", f"k{n + 1}", values) for n, values in enumerate(containers)]
    rows += [("job", str(n), values) for n, values in enumerate(jobs)]
    rows += [("before", str(n), values) for n, values in enumerate(orders)]
    return from_values("b", rows)


@given(ITEMS, LAWS, HOLDERS, DAYS)
def test_nothing_hazardous_falls_out_because_a_field_is_empty(items, law, holder, day):
    """What is given up, always waste, or a hazard that isn't known to be aboard is on the list."""
    found = waste_list(boat_of(items), RULES, law, holder, day)
    listed = {line.key for stream in found.streams for line in stream.items}
    for n, values in enumerate(items):
        kind = RULES.kinds.get(values["kind"] or "")
        kept = values["fate"] in ("refit", "sell")
        hazard = kind is not None and RULES.streams[kind.waste].in_itself
        must = values["fate"] in ("scrap", "waste", "renew")
        must |= kind is not None and kind.always_waste and not kept
        must |= hazard and not kept and values["whereabouts"] != "aboard"
        assert not must or str(n) in listed


@given(ITEM, LAWS, DAYS, st.sampled_from(["soaked_in", "leaking", "drained", "lead", "asbestos"]))
def test_taking_an_answer_back_never_makes_a_thing_less_hazardous(values, law, day, field):
    values = {**values, "fate": "waste", "container": None}
    found_as = values[field] in ("found", "mineral oil", "drying oil", "solvent", "fuel", True)
    if found_as:
        return
    answered = waste_list(boat_of([values]), RULES, law, "business", day)
    emptied = waste_list(boat_of([{**values, field: None}]), RULES, law, "business", day)
    assert emptied.streams[0].hazardous >= answered.streams[0].hazardous


@given(ITEM, LAWS, DAYS)
def test_asbestos_that_was_found_is_never_ordinary_waste(values, law, day):
    values = {**values, "fate": "waste", "asbestos": "found", "container": None}
    (stream,) = waste_list(boat_of([values]), RULES, law, "business", day).streams
    assert stream.hazardous or RULES.streams[stream.id].in_itself, stream.id


@given(ITEMS, LAWS, HOLDERS, DAYS)
def test_an_assumption_is_never_made_without_a_question(items, law, holder, day):
    found = waste_list(boat_of(items), RULES, law, holder, day)
    asked = {question.item for question in found.questions}
    for stream in found.streams:
        for line in stream.items:
            assert not line.assumed or line.key in asked


@given(ITEMS, LAWS, HOLDERS, DAYS)
def test_every_item_of_waste_stands_in_one_stream_and_totals_are_the_sums(items, law, holder, day):
    found = waste_list(boat_of(items), RULES, law, holder, day)
    lines = [line for stream in found.streams for line in stream.items]
    assert len({line.key for line in lines}) == len(lines)
    here = math.fsum(line.mass.likely for line in lines if not line.gone)
    gone = math.fsum(line.mass.likely for line in lines if line.gone)
    assert found.on_site.likely == pytest.approx(here)
    assert found.gone.likely == pytest.approx(gone)
    assert 0 <= found.weighed_share <= 1


@given(ITEMS, st.lists(CONTAINER, max_size=2), LAWS, DAYS)
def test_streams_add_up_to_the_list_with_weighed_containers_too(items, containers, law, day):
    found = waste_list(boat_of(items, containers), RULES, law, "business", day)
    for side in ("on_site", "gone"):
        parts = [getattr(stream, side) for stream in found.streams]
        whole = getattr(found, side)
        assert whole.likely == pytest.approx(math.fsum(part.likely for part in parts))
        assert whole.low <= whole.likely <= whole.high
    assert 0 <= found.weighed_share <= 1
    for stream in found.streams:
        assert stream.code
        assert stream.keep_in
        assert stream.sources


@given(ITEM)
def test_a_mass_is_never_negative_and_its_spread_is_in_order(values):
    boat = boat_of([values])
    mass = mass_of(boat.items["0"], RULES)
    assert 0 <= mass.low <= mass.likely <= mass.high < math.inf
    assert mass.basis in BASES


@given(ITEM, st.integers(1, 20))
def test_a_mass_never_shrinks_with_the_number_of_pieces(values, more):
    few = mass_of(boat_of([{**values, "count": 3}]).items["0"], RULES)
    many = mass_of(boat_of([{**values, "count": 3 + more}]).items["0"], RULES)
    assert many.likely >= few.likely
    assert many.high >= few.high


SECTIONS = ["hose-fuel", "hose-exhaust", "cable-dc", "anchor-chain", "shroud", "rope"]


@given(st.sampled_from(SECTIONS), st.floats(6, 90), st.floats(100, 20_000), st.floats(1.01, 1.9))
def test_a_mass_grows_with_size_and_length(kind, size, length, factor):
    unit = "mm2" if kind == "cable-dc" else "mm"

    def mass(size, length):
        text = f"{size:.4f} {unit}"
        return mass_of(Item(key="k", kind=kind, size=text, length_mm=length), RULES)

    small = mass(size, length)
    assert small.basis == "calculated"
    assert mass(size, length * factor).likely > small.likely
    if size * factor <= 90:
        assert mass(size * factor, length).likely > small.likely


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0, 1), st.floats(0, 3)), max_size=20))
def test_a_total_is_no_wider_than_its_parts_side_by_side(parts):
    spreads = [mass_of(Item(key="k", mass_kg=kg, mass_how="weighed"), RULES) for kg, _, _ in parts]
    whole = total(spreads)
    assert whole.likely == pytest.approx(math.fsum(s.likely for s in spreads))
    assert whole.low >= math.fsum(s.low for s in spreads) - 1e-9
    assert whole.high <= math.fsum(s.high for s in spreads) + 1e-9


@given(ITEMS, st.lists(JOB, max_size=3), st.lists(ORDER, max_size=4))
def test_nothing_is_ready_while_something_before_it_is_open(items, jobs, orders):
    boat = boat_of(items, jobs=jobs, orders=orders)
    found = left_to_take_out(boat, RULES)
    ready = {line.key for group in found.by_system for line in group.items if line.ready}
    for order in orders:
        table, _, first = (order["first"] or "").partition("/")
        then = (order["then"] or "").removeprefix("item/")
        if table == "item" and first in boat.items and not is_out(boat.items[first]):
            assert then not in ready
        if table == "job" and first in boat.jobs and not boat.jobs[first].done_at:
            assert then not in ready
    for job in boat.jobs.values():
        if job.task == "make safe" and not job.done_at and job.system:
            for key in ready:
                kind = RULES.kinds.get(boat.items[key].kind or "")
                assert kind is None or job.system not in kind.make_safe
                assert kind is not None or boat.items[key].system != job.system


@given(ITEMS, st.lists(JOB, max_size=3), st.lists(ORDER, max_size=4))
def test_both_groupings_count_the_same_pieces(items, jobs, orders):
    boat = boat_of(items, jobs=jobs, orders=orders)
    found = left_to_take_out(boat, RULES)
    assert found.total == sum(pieces(item) for item in boat.items.values())
    assert found.out + found.left == found.total
    for groups in (found.by_compartment, found.by_system):
        assert sum(group.total for group in groups) == found.total
        assert sum(group.out for group in groups) == found.out
        assert sum(group.left for group in groups) == found.left
        keys = [line.key for group in groups for line in group.items]
        assert sorted(keys) == sorted(k for k, item in boat.items.items() if not is_out(item))
    assert 0 <= found.ready <= found.left


@given(ITEMS)
def test_renewals_merge_without_losing_a_piece_or_a_millimetre(items):
    boat = boat_of(items)
    found = renewals(boat, RULES)
    keys = [key for line in found.lines for key in line.items]
    assert len(keys) == len(set(keys))
    for key, item in boat.items.items():
        assert item.fate != "renew" or key in keys
    assert sum(line.count for line in found.lines) == sum(pieces(boat.items[k]) for k in keys)
    for line in found.lines:
        if line.length_mm is not None:
            lengths = [(boat.items[k].length_mm or 0) * pieces(boat.items[k]) for k in line.items]
            assert line.length_mm == pytest.approx(math.fsum(lengths))
            assert line.order_mm >= line.length_mm
