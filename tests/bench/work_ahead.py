"""The whole answer about the work left, beside networkx on the same graph: run by hand.

.venv/bin/python tests/bench/work_ahead.py

20,000 items with 60,000 orders. Aim: at most 2 times what networkx takes to build the graph, sort
it and find the longest path. Prints medians of five runs, taken in turn.
"""

from __future__ import annotations

import datetime as dt
import random
import statistics
import time
from collections.abc import Callable

import networkx as nx

from shedtally.domain.boat import BoatRecords, from_values
from shedtally.domain.work.ahead import work_ahead
from shedtally.domain.work.steps import steps_of
from shedtally.rules.load import load

TODAY = dt.date(2026, 11, 25)
RUNS = 5


def yard(items: int, orders: int, seed: int = 1) -> BoatRecords:
    """A boat of so many items in 200 compartments, with orders that close no ring."""
    draw = random.Random(seed)
    kinds = sorted(load().kinds)
    rows: list[tuple[str, str, dict[str, object]]] = [
        ("compartment", f"c{n}", {"name": f"Locker {n}"}) for n in range(200)
    ]
    rows += [
        ("job", system, {"task": "make safe", "system": system, "done_at": "2026-09-01"})
        for system in load().systems
    ]
    for n in range(items):
        values = {"kind": draw.choice(kinds), "compartment": f"c{draw.randrange(200)}"}
        rows.append(("item", f"{n:06d}", values))
    for n in range(orders):
        first, then = sorted((draw.randrange(items), draw.randrange(items - 1)))
        row = {"first": f"item/{first:06d}", "then": f"item/{then + (then == first):06d}"}
        rows.append(("before", f"b{n}", row))
    return from_values("boat", rows)  # type: ignore[arg-type]


def theirs(hours: dict[str, float], orders: list[tuple[str, str]]) -> float:
    """Build, sort and find the longest path with networkx."""
    graph = nx.DiGraph()
    graph.add_nodes_from(hours)
    for first, then in orders:
        graph.add_edge(first, then, weight=hours[then])
    list(nx.topological_sort(graph))
    return float(nx.dag_longest_path_length(graph))


def seconds(run: Callable[[], object]) -> float:
    """Processor time of one run; by the clock it would also measure who else uses the machine."""
    began = time.process_time()
    run()
    return time.process_time() - began


def main() -> None:
    """Measure and print."""
    rules = load()
    for items, orders in ((1_000, 3_000), (5_000, 15_000), (20_000, 60_000)):
        boat = yard(items, orders)
        steps = steps_of(boat, rules)
        hours = {key: step.toll.hours.likely for key, step in steps.steps.items()}
        ours, reference = [], []
        for _ in range(RUNS):
            ours.append(seconds(lambda boat=boat: work_ahead(boat, rules, TODAY)))  # type: ignore[misc]
            reference.append(seconds(lambda h=hours, s=steps: theirs(h, list(s.orders))))  # type: ignore[misc]
        mine, other = statistics.median(ours), statistics.median(reference)
        print(
            f"{items:>6} items, {orders} orders: whole answer {mine:.3f} s, "
            f"networkx {other:.3f} s, ratio {mine / other:.2f} (aim: at most 2)"
        )


if __name__ == "__main__":
    main()
