"""The lists of a large yard take time as its items do: eight times as many take about eight times.

A ratio of two measurements of the processor's time in one process, so that it fails for a wrong
algorithm and not for a busy machine.
"""

import datetime
import itertools
import time

import pytest

from shedtally.domain.boat import from_values
from shedtally.domain.buying.order import order_list
from shedtally.domain.renewals.circuits import circuits
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.tally.masses import mass_list
from shedtally.domain.tally.scrap import scrap_list
from shedtally.domain.waste.by_stream import waste_list
from shedtally.domain.work.left import left_to_take_out
from shedtally.rules.load import load

RULES = load()
FEW, MANY = 2_500, 20_000
# Tables outgrow the processor's caches, so an item's share may grow; squares would give 8.
MAY_GROW = 3.0


@pytest.fixture(scope="module")
def yards():
    return [yard(FEW), yard(MANY)]


def yard(many):
    kinds = itertools.cycle(RULES.kinds)
    where = itertools.cycle(["aboard", "ashore", "gone", None, "aboard"])
    fates = itertools.cycle([None, "renew", "waste", "refit", "undecided", "scrap", "sell"])
    rows = [("compartment", f"c{n}", {"name": f"C{n}", "within": f"c{n // 3}"}) for n in range(60)]
    rows += [
        ("job", f"j{system}", {"task": "make safe", "system": system}) for system in RULES.systems
    ]
    for n in range(many):
        values = {
            "kind": next(kinds),
            "whereabouts": next(where),
            "fate": next(fates),
            "compartment": f"c{n % 60}",
            "size": "3/4 in",
            "length_mm": 1200,
        }
        rows.append(("item", f"i{n}", values))
        rows.append(("tag", f"T{n}", {"on": f"item/i{n}"}))
        if n % 10 == 0:
            rows.append(("before", f"b{n}", {"first": f"item/i{n}", "then": f"item/i{n + 1}"}))
    return from_values("yard", rows)


@pytest.mark.parametrize(
    ("name", "compute"),
    [
        ("left", lambda boat: left_to_take_out(boat, RULES).total),
        (
            "waste",
            lambda boat: sum(
                len(row.items)
                for row in waste_list(
                    boat, RULES, "eu", "household", datetime.date(2026, 11, 25)
                ).streams
            ),
        ),
        ("renewals", lambda boat: sum(line.count for line in renewals(boat, RULES).lines)),
        ("masses", lambda boat: len(mass_list(boat, RULES).items)),
        ("scrap", lambda boat: sum(len(row.items) for row in scrap_list(boat, RULES).metals)),
    ],
)
def test_a_list_takes_time_as_its_items_do(yards, name, compute):
    few, many = yards
    assert compute(many) > MANY / 10
    shares = seconds(compute, few) / FEW, seconds(compute, many) / MANY
    assert shares[1] < MAY_GROW * shares[0], name


def seconds(compute, of):
    """The least of three, because what disturbs only adds."""
    took = []
    for _ in range(3):
        began = time.process_time()
        compute(of)
        took.append(time.process_time() - began)
    return min(took)


def runs_between_two(count):
    """So many runs, half hose and half cable, that all join the same two things."""
    rows = [("item", key, {"kind": "seacock", "thread": "G 3/4"}) for key in ("one", "other")]
    for n in range(count):
        kind = {"kind": "cable-dc", "size": "2.5 mm2", "load_a": 5.0, "voltage_v": 12.0}
        hose = {"kind": "hose-raw-water", "size": "19 mm", "thread": "R 3/4"}
        own = hose if n % 2 else kind
        rows.append(("item", f"r{n}", {**own, "fate": "renew", "length_mm": 900.0 + n}))
        rows += [("end", f"e{n}{to}", {"item": f"r{n}", "to_item": to}) for to in ("one", "other")]
        rows.append(("end", f"back{n}", {"item": "one", "to_item": f"r{n}", "thread": "G 3/4"}))
    return from_values("yard", rows)


@pytest.mark.parametrize(
    ("name", "compute"),
    [
        ("renewals", lambda boat: sum(line.count for line in renewals(boat, RULES).lines)),
        ("circuits", lambda boat: len(circuits(boat, RULES).circuits)),
        ("order", lambda boat: sum(line.count for line in order_list(boat, RULES).lines)),
    ],
)
def test_runs_that_all_join_the_same_two_things_are_listed_as_fast_as_others(name, compute):
    few, many = runs_between_two(500), runs_between_two(4_000)
    assert compute(many) >= 2_000
    shares = seconds(compute, few) / 500, seconds(compute, many) / 4_000
    assert shares[1] < MAY_GROW * shares[0], name
