"""Renewals and circuits of 1,000 to 20,000 runs, beside a plain pass over the same rows.

Run it by hand: ``python tests/bench/renewals.py``, a minute. The plain pass reads every row into
its record, as each list must, and adds the length of each run up by what it is ordered as; it
looks no end up, sizes nothing and makes no line. The aims: within three times the plain pass, and
time that grows with the number of runs. CPU seconds, medians, the same rows in the same run.
"""

from __future__ import annotations

import gc
import statistics
import sys
import time
from collections import defaultdict
from collections.abc import Callable

from shedtally.domain.boat import BoatRecords, from_values
from shedtally.domain.circuits import circuits
from shedtally.domain.renewals import renewals
from shedtally.rules.load import load

RULES = load()
SIZES = (1_000, 3_000, 10_000, 20_000)
RUNS = 3
AIM = 3.0

HOSES = (("hose-raw-water", "19 mm"), ("hose-raw-water", "25 mm"), ("hose-fuel", "8 mm"))
CABLES = ("2 x 1.5 mm2", "2 x 2.5 mm2", "2 x 4 mm2", "AWG 14")

Rows = list[tuple[str, str, dict[str, object]]]


def rows_of(count: int) -> Rows:
    """So many runs, half hose and half cable, each tagged and joined at both ends."""
    rows: Rows = [("boat", "boat", {"name": "Bench"})]
    rows += [("compartment", f"c{n}", {"name": f"Locker {n}"}) for n in range(40)]
    fittings = count // 4
    for n in range(fittings):
        values = {"kind": "seacock" if n % 2 else "light-cabin", "compartment": f"c{n % 40}"}
        rows.append(("item", f"f{n}", values))
    for n in range(count):
        values = {"compartment": f"c{n % 40}", "length_mm": 500.0 + n % 4_001, "fate": "renew"}
        if n % 2:
            values |= dict(zip(("kind", "size"), HOSES[n % 3], strict=True))
        else:
            size = CABLES[n // 2 % len(CABLES)]
            values |= {"kind": "cable-dc", "size": size, "load_a": 1.0 + n % 17, "voltage_v": 12.0}
        rows.append(("item", f"r{n}", values))
        rows.append(("tag", f"T{n:06}", {"on": f"item/r{n}"}))
        for side, to in ((1, n % fittings), (2, (n * 7 + 1) % fittings)):
            rows.append(("end", f"e{n}-{side}", {"item": f"r{n}", "to_item": f"f{to}"}))
    return rows


def plain(rows: Rows) -> BoatRecords:
    """Every row read, and the lengths added up by what they are ordered as."""
    boat = from_values("boat", rows)  # type: ignore[arg-type]
    sums: defaultdict[tuple[str | None, str | None], float] = defaultdict(float)
    for item in boat.items.values():
        if item.length_mm:
            sums[item.kind, item.size] += item.length_mm * 1.1 + 200.0
    return boat


def seconds(work: Callable[[], object]) -> float:
    """CPU seconds, median."""
    times = []
    for _ in range(RUNS):
        gc.collect()
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return statistics.median(times)


def measured(rows: Rows) -> tuple[float, float, float]:
    """The plain pass, renewals and circuits, each from boats in which nothing was looked up yet."""
    bare = seconds(lambda: plain(rows))
    boats = iter([plain(rows) for _ in range(2 * RUNS)])
    lines = seconds(lambda: renewals(next(boats), RULES))
    return bare, lines, seconds(lambda: circuits(next(boats), RULES))


def main() -> None:
    """Print a line for each number of runs."""
    print(f"{'runs':>7} {'plain':>8} {'renewals':>9} {'times':>6} {'circuits':>9} {'times':>6}")
    for count in [int(each) for each in sys.argv[1:]] or SIZES:
        bare, lines, wires = measured(rows_of(count))
        print(f"{count:7,} {bare:6.2f} s {lines:7.2f} s {lines / bare:6.1f}"
              f" {wires:7.2f} s {wires / bare:6.1f}", flush=True)  # fmt: skip
    print(f"Aim: within {AIM:g} times the plain pass.")


if __name__ == "__main__":
    main()
