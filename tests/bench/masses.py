"""Masses and sums of up to 100,000 items, beside a bare loop that multiplies the same numbers.

Run it by hand: ``python tests/bench/masses.py``, half a minute. The bare loop knows beforehand what
to multiply: it reads the same fields of the same records, multiplies them with the density or rate
from low to high, and adds the three up; it looks nothing up, keeps no item's mass and no reason.
The aims: within three times the bare loop, and time that grows with the number of items.
"""

from __future__ import annotations

import gc
import itertools
import statistics
import time
from collections.abc import Callable

from shedtally.domain.lists import Spread
from shedtally.domain.masses.estimate import sum_of
from shedtally.domain.masses.item_mass import Estimator
from shedtally.domain.records import Item
from shedtally.rules.load import load

RULES = load()
SIZES = (1_000, 3_000, 10_000, 30_000, 100_000)
RUNS = 15
AIM = 3.0

# What a boat is made of: boards and plates, hoses and cables, liquids, batteries, and a third of
# it known by nothing but its kind; counts and sizes differ from item to item.
SORTS: tuple[dict[str, object], ...] = (
    {"kind": "panel-ply", "length_mm": 900.0, "width_mm": 450.0, "thickness_mm": 12.0},
    {"kind": "hull-plate", "length_mm": 400.0, "width_mm": 300.0, "thickness_mm": 5.0},
    {"kind": "hose-raw-water", "size": "19 mm", "length_mm": 1400.0},
    {"kind": "cable-dc", "size": "2 x 2.5 mm2", "length_mm": 6200.0},
    {"kind": "old-diesel", "volume_l": 18.0},
    {"kind": "battery-agm", "capacity_ah": 100.0, "voltage_v": 12.0},
    {"kind": "seacock"},
    {"kind": "winch"},
    {"kind": "light-cabin"},
)
VARIED = ("length_mm", "volume_l", "capacity_ah")


def items_of(count: int) -> list[Item]:
    """Items of every sort in turn, no two of one sort with the same sizes."""
    found = []
    for n, sort in zip(range(count), itertools.cycle(SORTS), strict=False):
        values = dict(sort)
        for name in VARIED:
            if name in values:
                values[name] = float(values[name]) + n % 977  # type: ignore[arg-type]
        found.append(Item(key=str(n), count=1 + n % 3, **values))  # type: ignore[arg-type]
    return found


def rates() -> list[Spread]:
    """Kilograms of one unit of each sort, low to high, as the bare loop is given them."""
    estimator = Estimator(RULES)
    units = []
    for sort in SORTS:
        item = Item(key="k", **sort)  # type: ignore[arg-type]
        whole = sum_of(estimator.estimates([item]))
        unit = measure_of(item)
        units.append(Spread(whole.low / unit, whole.likely / unit, whole.high / unit, whole.basis))
    return units


def measure_of(item: Item) -> float:
    """What of a sort is multiplied with its rate."""
    if item.thickness_mm:
        return item.length_mm * item.width_mm * item.thickness_mm  # type: ignore[operator]
    return item.length_mm or item.volume_l or (item.capacity_ah or 0) * (item.voltage_v or 0) or 1.0


def bare(items: list[Item], given: list[Spread]) -> tuple[float, float, float]:
    """The same numbers multiplied and added, and nothing else."""
    low = likely = high = 0.0
    for item, rate in zip(items, itertools.cycle(given), strict=False):
        if item.thickness_mm:
            measure = item.length_mm * item.width_mm * item.thickness_mm  # type: ignore[operator]
        elif item.length_mm:
            measure = item.length_mm
        elif item.volume_l:
            measure = item.volume_l
        elif item.capacity_ah:
            measure = item.capacity_ah * item.voltage_v  # type: ignore[operator]
        else:
            measure = 1.0
        measure *= item.count or 1
        low += measure * rate.low
        likely += measure * rate.likely
        high += measure * rate.high
    return low, likely, high


def ours(items: list[Item]) -> Spread:
    """A mass with its origin for every item, and their sum by causes."""
    return sum_of(Estimator(RULES).estimates(items))


def seconds(work: Callable[[], object]) -> float:
    """One run, in seconds of this process, so that neighbours don't count."""
    gc.collect()
    gc.disable()
    begun = time.process_time()
    work()
    taken = time.process_time() - begun
    gc.enable()
    return taken


def main() -> None:
    """Print both medians and their ratio for each number of items."""
    given = rates()
    print(f"{'items':>8} {'bare loop':>11} {'ours':>11} {'ratio':>6} {'µs an item':>11}")
    first = None
    for count in SIZES:
        items = items_of(count)
        plain = bare(items, given)[1]
        found = ours(items).likely
        if abs(found - plain) > 1e-6 * plain:
            message = f"{found} kg is not {plain} kg: the two don't multiply the same numbers"
            raise AssertionError(message)
        # In turn, so that a busy minute of the machine falls on both.
        pairs = [
            (
                seconds(lambda items=items: bare(items, given)),
                seconds(lambda items=items: ours(items)),
            )
            for _ in range(RUNS)
        ]
        loop, mine = (statistics.median(column) for column in zip(*pairs, strict=True))
        each = 1e6 * mine / count
        first = first or each
        ratio = mine / loop
        print(f"{count:>8} {1e3 * loop:>8.2f} ms {1e3 * mine:>8.2f} ms {ratio:>6.2f} {each:>11.3f}")
    print(f"Aim: within {AIM:g} times the bare loop; {each / first:.2f} times the time an item "
          f"of {SIZES[0]:,} at {SIZES[-1]:,}.")  # fmt: skip


if __name__ == "__main__":
    main()
