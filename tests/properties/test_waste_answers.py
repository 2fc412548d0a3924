"""What must hold of the waste list whatever was answered, over every field that an item has."""

import datetime
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.boat import from_values
from shedtally.domain.records import Item
from shedtally.domain.records.shape import Range, fields_of
from shedtally.domain.waste.apart import Bans, may_share
from shedtally.domain.waste.by_stream import waste_list
from shedtally.domain.waste.classify import Classifier, classify
from shedtally.rules.load import load

RULES = load()
FIELDS = fields_of(Item)
LAWS = st.sampled_from(sorted(RULES.rule_sets))
HOLDERS = st.sampled_from(["household", "business", ""])
DAYS = st.dates(datetime.date(2024, 1, 1), datetime.date(2030, 1, 1))
STREAMS = st.sampled_from(sorted(RULES.streams))
LEVELS = st.sampled_from(["container", "shelf"])
# Answers that say something bad was found; taking one back may make a thing milder.
BAD = {
    "found", "mineral oil", "drying oil", "solvent", "fuel", "petrol", "mixed fuel", "halon",
    "acid or lye", "foam", "ammonia", "hydrocarbon", "CFC, HCFC or HFC",
}  # fmt: skip
WORSE_IF_TRUE = {"leaking", "damaged", "ionising", "fluorinated"}
# What these say isn't about the hazard: whether it is waste at all, and where it lies.
NOT_ANSWERS = {
    "kind", "fate", "whereabouts", "container", "binned", "part_of", "drawn_from", "handover",
}  # fmt: skip


def _values(name):
    field = FIELDS[name]
    if field.choices:
        return st.sampled_from(field.choices)
    if field.type is bool:
        return st.booleans()
    if field.type in {int, float}:
        limits = field.constraint
        low, high = (limits.low, limits.high) if isinstance(limits, Range) else (0, 100)
        high = min(high, 2_000)
        return st.integers(int(low), int(high)) if field.type is int else st.floats(low, high)
    return st.sampled_from(["bronze", "19 mm", "x"])


ITEM = st.fixed_dictionaries(
    {"kind": st.one_of(st.none(), st.sampled_from([*RULES.kinds, "of-a-newer-phone"]))},
    optional={name: _values(name) for name in FIELDS if name not in {"kind", "binned"}},
)


def listed(items, law="eu", holder="business", day=datetime.date(2026, 10, 1)):
    rows = [("item", str(n), values) for n, values in enumerate(items)]
    return waste_list(from_values("b", rows), RULES, law, holder, day)


def hazards(found):
    return {line.key: stream.hazardous for stream in found.streams for line in stream.items}


def is_bad(name, value):
    if name in WORSE_IF_TRUE:
        return value is True
    if name in {"emptied", "cured", "drained", "battery_out", "deregistered"}:
        return value is False
    if name in {"flash_point_c", "halogens_ppm"}:
        return True  # a number may be a finding either way; tested by their own limits
    return isinstance(value, str) and value in BAD


@given(st.lists(ITEM, max_size=6), LAWS, HOLDERS, DAYS)
def test_nothing_hazardous_falls_out_whatever_was_answered(items, law, holder, day):
    found = hazards(listed(items, law, holder, day))
    for n, values in enumerate(items):
        kind = RULES.kinds.get(values["kind"] or "")
        kept = values.get("fate") in {"refit", "sell"}
        must = values.get("fate") in {"scrap", "waste", "renew"}
        if kind is not None and not kept:
            must |= kind.always_waste
            must |= RULES.streams[kind.waste].in_itself and values.get("whereabouts") != "aboard"
        assert not must or str(n) in found


@given(ITEM, LAWS, DAYS, st.data())
def test_a_field_left_empty_never_makes_a_thing_less_hazardous(values, law, day, data):
    values = {**values, "fate": "waste"}
    mild = [name for name in values if name not in NOT_ANSWERS and not is_bad(name, values[name])]
    taken = set(data.draw(st.lists(st.sampled_from(mild), unique=True))) if mild else set()
    emptied = {name: value for name, value in values.items() if name not in taken}
    with_all = hazards(listed([values], law, day=day))
    without = hazards(listed([emptied], law, day=day))
    assert without["0"] >= with_all["0"], taken


@given(ITEM, LAWS, HOLDERS, DAYS)
def test_an_item_with_nothing_answered_is_as_hazardous_as_its_kind_can_be_said_to_be(
    values, law, holder, day
):
    kind = values["kind"]
    found = hazards(listed([{"kind": kind, "fate": "waste"}], law, holder, day))
    answered = {k: v for k, v in values.items() if k in NOT_ANSWERS or not is_bad(k, v)}
    milder = hazards(listed([{**answered, "fate": "waste"}], law, holder, day))
    assert found["0"] >= milder["0"]


@given(st.lists(ITEM, max_size=6), ITEM, LAWS, DAYS)
def test_one_item_more_never_lowers_a_category_and_never_hides_another(items, more, law, day):
    before, after = listed(items, law, day=day), listed([*items, more], law, day=day)
    old, new = hazards(before), hazards(after)
    assert old == {key: value for key, value in new.items() if key in old}
    tolerance = 1e-9 + 1e-9 * before.on_site.likely
    assert after.on_site.likely + after.gone.likely >= (
        before.on_site.likely + before.gone.likely - tolerance
    )


@given(st.lists(ITEM, max_size=8), LAWS, HOLDERS, DAYS)
def test_the_streams_hold_every_item_once_and_their_total_is_that_of_the_items(
    items, law, holder, day
):
    found = listed(items, law, holder, day)
    lines = [line for stream in found.streams for line in stream.items]
    assert len({line.key for line in lines}) == len(lines)
    by_stream = math.fsum(one.on_site.likely + one.gone.likely for one in found.streams)
    by_item = math.fsum(line.mass.likely for line in lines)
    assert by_stream == pytest.approx(by_item)
    asked = {question.item for question in found.questions}
    assert all(not line.assumed or line.key in asked for line in lines)
    assert all(stream.basis and stream.measured for stream in found.streams)


@given(STREAMS, STREAMS, LEVELS)
def test_what_may_not_share_does_so_in_either_order(one, other, level):
    there, back = may_share(RULES, one, other, level), may_share(RULES, other, one, level)
    assert (there is None) == (back is None)
    assert there is None or back is None or bool(there.only_if) == bool(back.only_if)


@given(STREAMS, STREAMS)
def test_what_may_not_share_a_shelf_may_not_share_a_container(one, other):
    if may_share(RULES, one, other, "shelf"):
        assert may_share(RULES, one, other, "container")


@given(STREAMS, STREAMS)
def test_a_hazard_shares_its_container_with_nothing_but_its_own(one, other):
    own = RULES.mild_of(one) == RULES.mild_of(other)
    if not own and (RULES.streams[one].in_itself or RULES.streams[other].in_itself):
        ban = may_share(RULES, one, other, "container")
        assert ban is not None
        assert ban.only_if == ""
        assert ban.why


SORTS = {law: Classifier(RULES, RULES.rule_sets[law]) for law in RULES.rule_sets}
BANS = {level: Bans(RULES, level) for level in ("container", "shelf")}


@given(st.lists(ITEM, max_size=6), LAWS)
def test_what_is_looked_up_is_what_is_worked_out_anew(items, law):
    for n, values in enumerate(items):
        item = Item(key=f"i{n}", **{name: v for name, v in values.items() if v is not None})
        assert SORTS[law].classify(item) == classify(item, RULES, RULES.rule_sets[law])


@pytest.mark.parametrize("level", ["container", "shelf"])
def test_bans_looked_up_are_those_asked_one_by_one(level):
    for one in RULES.streams:
        for other in RULES.streams:
            assert BANS[level].between(one, other) is may_share(RULES, one, other, level)
