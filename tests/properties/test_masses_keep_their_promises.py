"""What must hold of masses, their sums and what scales showed, whatever was typed."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shedtally.domain.boat import from_values
from shedtally.domain.masses.estimate import Cause, Origin, spread_of, sum_of, tally
from shedtally.domain.masses.item_mass import Estimator, estimate_of, mass_of
from shedtally.domain.masses.weighing import masses_of, net_kg, refusal, share_out
from shedtally.domain.measures.reading import parse_length_mm, parse_mass_kg
from shedtally.domain.records import Item, Weighing
from shedtally.domain.tally.masses import mass_list
from shedtally.domain.tally.scrap import scrap_list
from shedtally.domain.tally.weigh_next import weigh_next
from shedtally.rules.load import load

RULES = load()
maybe = lambda choices: st.one_of(st.none(), choices)  # noqa: E731
FORMS = ["plate", "round bar", "flat bar", "pipe", "hose", "cable", "board", "cored panel",
         "cylinder", "tank shell"]  # fmt: skip
LENGTHS = st.floats(0, 5_000)
ITEM = st.fixed_dictionaries(
    {
        "kind": maybe(st.sampled_from([*RULES.kinds, "of-a-newer-phone"])),
        "form": maybe(st.sampled_from(FORMS)),
        "material": maybe(st.sampled_from(["bronze", "oak", "grp", "unobtainium", "mixed"])),
        "core_material": maybe(st.sampled_from(["balsa", "foam-rigid", "nothing"])),
        "count": maybe(st.integers(1, 50)),
        "size": maybe(st.sampled_from(["19 mm", "AWG 12", "2 x 2.5 mm2", "DN 25", "3/4 BSP", "x"])),
        "length_mm": maybe(LENGTHS),
        "width_mm": maybe(LENGTHS),
        "height_mm": maybe(LENGTHS),
        "thickness_mm": maybe(st.floats(0, 200)),
        "core_mm": maybe(st.floats(0, 200)),
        "diameter_mm": maybe(LENGTHS),
        "volume_l": maybe(st.floats(0, 500)),
        "capacity_ah": maybe(st.floats(0, 500)),
        "voltage_v": maybe(st.floats(0, 50)),
        "mass_kg": maybe(st.floats(0, 500)),
        "mass_how": maybe(st.sampled_from(["weighed", "plate", "calculated", "guessed"])),
        "fate": maybe(st.sampled_from(["scrap", "waste", "refit"])),
        "whereabouts": maybe(st.sampled_from(["aboard", "ashore", "gone"])),
        "lead": maybe(st.sampled_from(["found", "not found"])),
    }
)
ITEMS = st.lists(ITEM, max_size=8)
KILOGRAMS = st.floats(0, 200)
WEIGHING = st.fixed_dictionaries(
    {
        "of": st.sampled_from(
            ["item/0", "item/1", "place/p", "container/c", "item/gone", "place/x"]
        ),
        "gross_kg": maybe(KILOGRAMS),
        "tare_kg": maybe(KILOGRAMS),
        "division_kg": maybe(st.sampled_from([0.0, 0.1, 0.5, 5.0])),
        "on": maybe(st.sampled_from(["2026-05-01T10:00:00+02:00", "2026-05-02", "2026-06-01"])),
    }
)
WEIGHINGS = st.lists(st.tuples(WEIGHING, st.sets(st.sampled_from("01234567"))), max_size=4)


def boat_of(items, weighings=(), prices=()):
    rows = [("item", str(n), values) for n, values in enumerate(items)]
    rows += [("place", "p", {"name": "Crate"}), ("container", "c", {"name": "Can"})]
    for n, (values, members) in enumerate(weighings):
        rows.append(("weighing", f"w{n}", values))
        rows += [
            ("weighed", f"w{n} {key}", {"weighing": f"w{n}", "item": key})
            for key in sorted(members)
        ]
    rows += [("price", f"p{n}", values) for n, values in enumerate(prices)]
    return from_values("b", rows)


def estimates(items):
    return Estimator(RULES).estimates([Item(key=str(n), **row) for n, row in enumerate(items)])


@given(ITEM)
def test_every_item_has_a_mass_in_order_with_a_reason(values):
    kg, origin = estimate_of(Item(key="k", **values), RULES)
    mass = spread_of((kg, origin))
    assert 0 <= mass.low <= mass.likely <= mass.high < math.inf
    assert origin.why.endswith(".")
    assert set(origin.sources) <= set(RULES.sources)


@given(ITEMS)
def test_many_at_once_weigh_what_each_weighs_alone(items):
    together = [spread_of(mass) for mass in estimates(items)]
    assert together == [mass_of(Item(key="k", **row), RULES) for row in items]


@given(ITEMS.flatmap(lambda rows: st.tuples(st.just(rows), st.permutations(range(len(rows))))))
def test_a_sum_does_not_depend_on_the_order_not_even_in_its_last_bit(case):
    rows, order = case
    masses = estimates(rows)
    assert sum_of(masses) == sum_of([masses[n] for n in order])


@given(ITEMS, ITEM)
def test_one_more_thing_never_makes_a_sum_narrower(items, more):
    masses = estimates([*items, more])
    without, with_it = sum_of(masses[:-1]), sum_of(masses)
    assert with_it.high - with_it.likely >= without.high - without.likely - 1e-9
    assert with_it.likely >= without.likely
    down = tally(masses)
    assert (
        with_it.likely - with_it.low
        <= math.sqrt(down.own_squares()[0] + sum(low**2 for low, _ in down.causes().values()))
        + 1e-6 * with_it.likely
        + 1e-9
    )


@given(ITEMS)
def test_a_sum_lies_between_squares_and_straight_addition(items):
    masses = estimates(items)
    parts = [spread_of(mass) for mass in masses]
    whole = sum_of(masses)
    up = [part.high - part.likely for part in parts]
    assert whole.likely == pytest.approx(math.fsum(part.likely for part in parts))
    assert whole.high - whole.likely <= math.fsum(up) * (1 + 1e-9) + 1e-9
    assert whole.high - whole.likely >= math.sqrt(math.fsum(u * u for u in up)) * (1 - 1e-9) - 1e-9


@given(ITEMS, st.sampled_from([0.001, 0.5, 2.20462, 1000.0]))
def test_units_in_are_units_out(items, factor):
    """Kilograms, pounds or money: what is multiplied before a sum may be multiplied after it."""
    masses = estimates(items)
    before = sum_of([(kg * factor, origin) for kg, origin in masses])
    after = sum_of(masses)
    assert before.likely == pytest.approx(after.likely * factor)
    assert before.high == pytest.approx(after.high * factor)
    assert before.low == pytest.approx(after.low * factor, abs=1e-9 * (1 + after.high * factor))


@given(st.floats(1, 400), st.floats(1, 40))
def test_a_length_in_inches_weighs_as_much_as_in_millimetres(inches, pounds):
    plate = {"form": "plate", "material": "mild-steel", "width_mm": 500.0, "thickness_mm": 6.0}
    by_inch = parse_length_mm(f"{inches:.4f} in")
    by_mm = round(inches, 4) * 25.4
    one, other = (
        mass_of(Item(key="k", **plate, length_mm=mm), RULES).likely for mm in (by_inch, by_mm)
    )
    assert one == pytest.approx(other)
    kg = parse_mass_kg(f"{pounds:.4f} lb")
    assert kg == pytest.approx(round(pounds, 4) * 0.45359237)


@given(
    st.lists(ITEM, min_size=1, max_size=8), st.floats(0.01, 500), st.sampled_from([None, 0.1, 2])
)
def test_a_crate_that_is_shared_out_keeps_its_mass_and_is_as_sure_as_the_scale(
    items, net, division
):
    masses = {str(n): mass for n, mass in enumerate(estimates(items))}
    row = Weighing(key="w", gross_kg=net, division_kg=division)
    shared = share_out(net, masses, row, 0.02)
    assert shared.keys() == masses.keys()
    # To the last digits that a float holds; each part was rounded once or twice on its way.
    assert math.fsum(kg for kg, _ in shared.values()) == pytest.approx(net, rel=1e-14)
    whole = sum_of(shared.values())
    scale = math.hypot(0.02 * net, (division or 0) / 2)
    assert whole.likely == pytest.approx(net, rel=1e-14)
    assert whole.high - net == pytest.approx(scale, rel=1e-6, abs=1e-7 * net)
    for kg, origin in shared.values():
        part = spread_of((kg, origin))
        assert 0 <= part.low <= part.likely <= part.high <= net + scale + 1e-6 * net


@given(st.lists(ITEM, min_size=2, max_size=8), st.floats(1, 500))
def test_some_of_a_crate_is_less_sure_than_all_of_it(items, net):
    masses = {str(n): mass for n, mass in enumerate(estimates(items))}
    assume(sum(mass[0] > 0.01 for mass in masses.values()) > 1)
    shared = list(share_out(net, masses, Weighing(key="w", gross_kg=net), 0.0).values())
    for n in range(1, len(shared)):
        some, rest = sum_of(shared[:n]), sum_of(shared[n:])
        assert some.high - some.likely == pytest.approx(rest.likely - rest.low, abs=1e-6 * net)


@given(ITEMS, WEIGHINGS)
def test_a_boat_adds_up_whatever_scales_showed(items, weighings):
    boat = boat_of(items, weighings)
    found = mass_list(boat, RULES)
    assert len(found.items) == len(items)
    assert 0 <= found.weighed_share <= 1 + 1e-12
    likely = math.fsum(line.mass.likely for line in found.items)
    assert found.total.likely == pytest.approx(likely, abs=0.001 * (len(items) + 1))
    for groups in (found.by_system, found.by_compartment, found.by_basis, found.by_whereabouts):
        assert math.fsum(group.mass.likely for group in groups) == pytest.approx(
            found.total.likely, abs=1e-9
        )
        assert sum(group.count for group in groups) == sum(line.count for line in found.items)
    for line in found.items:
        assert 0 <= line.mass.low <= line.mass.likely <= line.mass.high
        assert found.whys[line.why].endswith(".")


@given(ITEMS, WEIGHINGS)
def test_every_weighing_counts_or_says_why_not(items, weighings):
    boat = boat_of(items, weighings)
    refused = {row.weighing: row.reason for row in masses_of(boat, RULES).not_counted}
    for key, row in boat.weighings.items():
        assert (net_kg(row) is None) == bool(refusal(row))
        if refusal(row):
            assert refused[key] == refusal(row)
        net = net_kg(row)
        assert net is None or net > 0


@given(ITEMS)
def test_weighing_what_is_proposed_never_makes_a_total_less_sure(items):
    masses = {str(n): mass for n, mass in enumerate(estimates(items))}
    width = sum_of(masses.values())
    last = width.high - width.low
    for step in weigh_next(masses, 0.02):
        assert step.narrower_kg > 0
        assert step.after.high - step.after.low == pytest.approx(last - step.narrower_kg, abs=1e-6)
        last = step.after.high - step.after.low


@given(st.lists(ITEM, min_size=1, max_size=6))
def test_the_first_proposal_is_the_best_there_is(items):
    """Against trying every item by itself."""
    masses = {str(n): mass for n, mass in enumerate(estimates(items))}
    steps = weigh_next(masses, 0.02, most=1)
    now = sum_of(masses.values())
    scale = Origin("weighed", "", (Cause("scale", 0.02, 0.02),))
    widths = []
    for key, (kg, origin) in masses.items():
        if origin.basis != "weighed":
            after = sum_of([*(mass for k, mass in masses.items() if k != key), (kg, scale)])
            widths.append(after.high - after.low)
    best = min(widths, default=math.inf)
    if not steps:
        assert now.high - now.low - best < 0.011
    else:
        after = steps[0].after
        assert after.high - after.low == pytest.approx(best, rel=1e-6, abs=1e-6)


PRICE = st.fixed_dictionaries(
    {
        "spec": st.sampled_from(["scrap/steel", "scrap/copper", "scrap/bronze", "scrap/mixed"]),
        "amount": maybe(st.floats(0, 50)),
        "currency": maybe(st.sampled_from(["EUR", "GBP"])),
        "per": maybe(st.sampled_from(["kilogram", "each"])),
    }
)


@given(ITEMS, st.lists(PRICE, max_size=4))
def test_scrap_loses_no_item_and_money_follows_mass(items, prices):
    found = scrap_list(boat_of(items, prices=prices), RULES)
    wanted = {
        str(n) for n, v in enumerate(items) if v["fate"] == "scrap" and v["whereabouts"] != "gone"
    }
    assert {item.key for metal in found.metals for item in metal.items} == wanted
    assert math.fsum(metal.mass.likely for metal in found.metals) == pytest.approx(
        found.total.likely
    )
    for metal in found.metals:
        if metal.value:
            assert metal.value.likely == pytest.approx(metal.mass.likely * metal.price_per_kg)
            assert metal.value.low <= metal.value.likely <= metal.value.high
    worth = math.fsum(metal.value.likely for metal in found.metals if metal.value)
    assert math.fsum(value.likely for value in found.values) == pytest.approx(worth)
