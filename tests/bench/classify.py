"""100,000 items classified and summed, beside a plain pass over the same rows.

The plain pass does what any list must do with the rows: it makes records of the stored values and
adds up their stored mass. Aim: the list of waste, its reading of the rows included, takes at most
3 times as long, and twice the items take about twice as long.

Run on a quiet machine: `.venv/bin/python tests/bench/classify.py`; prints medians and ratios.
"""

from __future__ import annotations

import datetime
import gc
import itertools
import math
import statistics
import time
from collections.abc import Callable, Mapping, Sequence

from shedtally.domain.boat import from_values
from shedtally.domain.classify import classify
from shedtally.domain.waste import waste_list
from shedtally.rules.load import load

RULES = load()
LAW = RULES.rule_sets["eu"]
DAY = datetime.date(2026, 11, 25)
RUNS = 5

Row = tuple[str, str, Mapping[str, object]]


def rows_of(items: int) -> list[Row]:
    """Items of every kind in turn, with answers on some of them, all of them waste."""
    kinds = itertools.cycle(RULES.kinds)
    answers = itertools.cycle(
        [{}, {"leaking": False}, {"soaked_in": "mineral oil"}, {"lead": "found"}, {}, {"count": 3}]
    )
    return [
        (
            "item",
            f"i{n}",
            {
                "name": f"Thing {n}",
                "kind": next(kinds),
                "fate": "waste",
                "whereabouts": "ashore",
                "condition": "worn",
                "mass_kg": 1.0 + n % 7,
                "mass_how": "weighed",
                "out_at": "2026-05-04T10:00:00+00:00",
                **next(answers),
            },
        )
        for n in range(items)
    ]


def plain(rows: Sequence[Row]) -> float:
    """Records of the rows, and the sum of their masses."""
    boat = from_values("b", rows)
    return math.fsum(item.mass_kg or 0.0 for item in boat.items.values())


def listed(rows: Sequence[Row]) -> float:
    """The same rows as a list of waste, with its streams and their sums."""
    found = waste_list(from_values("b", rows), RULES, "eu", "business", DAY)
    return found.on_site.likely


def classified(rows: Sequence[Row]) -> float:
    """The same rows classified and summed by stream, without the words of a list."""
    boat = from_values("b", rows)
    sums: dict[str, float] = {}
    for item in boat.items.values():
        stream = classify(item, RULES, LAW).stream
        sums[stream] = sums.get(stream, 0.0) + (item.mass_kg or 0.0)
    return math.fsum(sums.values())


def median_s(work: Callable[[Sequence[Row]], float], rows: Sequence[Row]) -> float:
    times = []
    for _ in range(RUNS):
        gc.collect()
        began = time.process_time()
        work(rows)
        times.append(time.process_time() - began)
    return statistics.median(times)


def main() -> None:
    at: dict[tuple[str, int], float] = {}
    for items in (50_000, 100_000):
        rows = rows_of(items)
        for work in (plain, classified, listed):
            at[work.__name__, items] = seconds = median_s(work, rows)
            took = f"{seconds:7.3f} s of processor, median of {RUNS}"
            print(f"{items:>7} items  {work.__name__:<11} {took}")
    many = 100_000
    for name in ("classified", "listed"):
        ratio = at[name, many] / at["plain", many]
        growth = at[name, many] / at[name, 50_000]
        print(
            f"{name}: {ratio:.2f} times the plain pass (aim: 3); twice the items {growth:.2f} times"
        )


if __name__ == "__main__":
    main()
