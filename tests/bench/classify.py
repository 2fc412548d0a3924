"""100,000 items classified and summed, beside a plain pass over the same rows.

The plain pass does what any list must do with the rows: it makes records of the stored values and
adds up their stored mass. Aim: the list of waste, its reading of the rows included, takes at most
3 times as long, and twice the items take about twice as long; that with everything in containers,
where most lines may not lie with what is beside them and somebody put half of those in all the
same, as well as with everything loose.

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
from shedtally.domain.boxes import box_list
from shedtally.domain.classify import classify
from shedtally.domain.waste import waste_list, waste_rows
from shedtally.rules.load import load

RULES = load()
LAW = RULES.rule_sets["eu"]
DAY = datetime.date(2026, 11, 25)
RUNS = 5
IN_ONE_BOX = 20

MANY = 100_000

Row = tuple[str, str, Mapping[str, object]]
Work = Callable[[Sequence[Row]], float]


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


def boxed(rows: Sequence[Row]) -> list[Row]:
    """The same items, twenty to a container, with a reason on record for every second one."""
    streams = itertools.cycle([stream for stream in RULES.streams if stream != "unsorted"])
    found = []
    for n, (table, key, values) in enumerate(rows):
        box = f"c{n // IN_ONE_BOX}"
        if n % IN_ONE_BOX == 0:
            holds = {"name": f"Drum {box}", "stream": next(streams), "capacity_l": 200.0}
            found.append(("container", box, {**holds, "tare_kg": 9.0, "gross_kg": 95.0}))
        found.append((table, key, {**values, "container": box}))
        if n % 2:
            said = {"container": box, "item": key, "who": "T", "why": "No other drum."}
            found.append(("mixing", f"m{n}", said))
    return found


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


def by_container(rows: Sequence[Row]) -> float:
    """The same rows as containers, with what may not lie there and what is odd about each."""
    case, lines, _ = waste_rows(from_values("b", rows), RULES, "eu", "business", DAY)
    return math.fsum(box.inside.likely for box in box_list(case, lines).boxes)


def median_s(work: Callable[[Sequence[Row]], float], rows: Sequence[Row]) -> float:
    times = []
    for _ in range(RUNS):
        gc.collect()
        began = time.process_time()
        work(rows)
        times.append(time.process_time() - began)
    return statistics.median(times)


def measured(title: str, made: Callable[[Sequence[Row]], Sequence[Row]], *works: Work) -> None:
    """Print what each work takes of half the items and of all, beside the plain pass."""
    at: dict[tuple[str, int], float] = {}
    for items in (MANY // 2, MANY):
        rows = made(rows_of(items))
        for work in (plain, *works):
            at[work.__name__, items] = seconds = median_s(work, rows)
            took = f"{seconds:7.3f} s of processor, median of {RUNS}"
            print(f"{items:>7} items {title:<14} {work.__name__:<12} {took}", flush=True)
    for name in (work.__name__ for work in works):
        ratio = at[name, MANY] / at["plain", MANY]
        growth = at[name, MANY] / at[name, MANY // 2]
        grew = f"twice the items {growth:.2f} times"
        print(f"{title}: {name} {ratio:.2f} times the plain pass (aim: 3); {grew}", flush=True)


def main() -> None:
    measured("loose", lambda rows: rows, classified, listed)
    boat = from_values("b", boxed(rows_of(MANY // 10)))
    mixed = waste_list(boat, RULES, "eu", "business", DAY).mixed
    told = sum(bool(ban.who) for ban in mixed)
    said = f"{len(mixed)} lie against the rules, {told} of them with who and why"
    print(f"of {MANY // 10} items in containers {said}", flush=True)
    measured("in containers", boxed, classified, listed, by_container)


if __name__ == "__main__":
    main()
