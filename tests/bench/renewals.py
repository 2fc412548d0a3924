"""Renewals, the order and the circuits of 1,000 to 20,000 runs, beside a plain pass over the rows.

Run it by hand: ``python tests/bench/renewals.py``, two minutes; with ``--served`` the same boat of
20,000 runs on a real server, five minutes more, and what its addresses take to answer.

The plain pass reads every row into its record, as each list must, and adds the length of each run
up by what it would be ordered as (kind, size, material, service, thread); it looks no end up,
reads no text, sizes nothing and makes no line. What stands beside it reads the same rows as well:
*merged* makes the list of renewals, *listed* its table as CSV too, *order* the list with prices,
*circuits* every run of cable with its wire, fuse and rings. The aims: merged and listed within
three times the plain pass, and time that grows as the number of runs does. A round runs each work
once; printed are medians of the processor's seconds, and medians of the rounds' ratios. The rows
are kept from Python's collector of garbage, since a server reads them as they come and holds none.
"""

from __future__ import annotations

import gc
import hashlib
import statistics
import sys
import tempfile
import time
import uuid
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path

import parts
from turns import in_turns

from shedtally.domain.boat import BoatRecords, from_values
from shedtally.domain.buying.order import order_list
from shedtally.domain.records import tag
from shedtally.domain.renewals.circuits import circuits
from shedtally.domain.renewals.lines import renewals
from shedtally.printing.renewals import renewals_csv
from shedtally.rules.load import load

RULES = load()
SIZES = (1_000, 5_000, 20_000)
ROUNDS = 5
AIM = 3.0
ASKED = 5
LISTS = ("renewals", "renewals.csv", "order", "order.csv", "circuits", "circuits.csv")

HOSES = (("hose-raw-water", "19 mm"), ("hose-raw-water", "1 in"), ("hose-fuel", "8 mm"))
CABLES = ("2 x 1.5 mm2", "2 x 2.5 mm2", "2 x 4 mm2", "AWG 14")
FITTINGS: tuple[dict[str, object], ...] = (
    {"kind": "seacock", "size": "3/4 BSP"},
    {"kind": "hose-tail", "thread": "R 3/4"},
    {"kind": "light-cabin"},
    {"kind": "skin-fitting", "size": "1 NPT"},
)
TAIL = "hose-tail"
# One tail in so many has another thread than its seacock, and one hose another bore than its tail.
WRONG = 51
HELD = ("two clamps", "1 clamp", None)
PLACES: tuple[dict[str, object], ...] = (
    {"level": "under sole", "side": "port"},
    {"level": "cabin", "side": "starboard"},
    {"level": "under sole", "side": "across"},
)

Row = tuple[str, str, dict[str, object]]
Rows = list[Row]
Work = Callable[[Rows], object]


def rows_of(count: int) -> Rows:
    """So many runs, half hose and half cable, each tagged and joined at both ends.

    A tenth of the hoses was never measured. Fittings are a quarter as many, most of them with
    threads or tails, of which a few don't fit what is on them.
    """
    rows: Rows = [("boat", key("boat", 0), {"name": "Bench", "length_m": 11.2, "beam_m": 3.4})]
    for n in range(40):
        where = {"from_m": n / 4, "to_m": n / 4 + 1, **PLACES[n % len(PLACES)]}
        rows.append(("compartment", key("c", n), {"name": f"Locker {n}", **where}))
    fittings = count // 4
    for n in range(fittings):
        values = {**FITTINGS[n % len(FITTINGS)], "compartment": key("c", n % 40)}
        if values["kind"] == TAIL:
            values |= {"size": HOSES[n % len(HOSES)][1]} | (
                {} if n % WRONG else {"thread": "3/4 NPT"}
            )
        rows.append(("item", key("f", n), values))
        if values["kind"] == TAIL:
            joined = {"item": key("f", n), "to_item": key("f", n - 1), "to_point": "screwed in"}
            rows.append(("end", key("s", n), joined))
    numbers = filter(tag.is_issuable, range(32**4, 32**5))
    for n in range(count):
        rows.append(("item", key("r", n), _run(n, n % fittings)))
        rows.append(("tag", tag.encode(next(numbers)), {"on": f"item/{key('r', n)}"}))
        # Hoses come on tails and skin fittings, and few runs join the same two things.
        for side, to in ((1, n % fittings), (2, (n * 7 + 1 + 2 * (n // fittings)) % fittings)):
            end = {"item": key("r", n), "to_item": key("f", to), "joined": HELD[n % len(HELD)]}
            rows.append(("end", key(f"e{side}-", n), end))
    return rows


def _run(n: int, on: int) -> dict[str, object]:
    values = {"name": f"Run {n}", "compartment": key("c", n % 40), "fate": "renew"}
    length = {"length_mm": 500.0 + n % 4_001}
    if n % 2:
        kind, size = HOSES[(on + (n % WRONG == 0)) % len(HOSES)]
        return {**values, "kind": kind, "size": size, **(length if n % 20 > 1 else {})}
    size = CABLES[n // 2 % len(CABLES)]
    feeds = {"kind": "cable-dc", "size": size, "load_a": 1.0 + n % 17, "voltage_v": 12.0}
    return {**values, **feeds, **length}


def key(sort: str, n: int) -> str:
    """A key such as phones make, always the same for the same thing."""
    digest = hashlib.sha256(f"{sort}{n}".encode()).digest()
    return str(uuid.UUID(bytes=digest[:16], version=4))


def read(rows: Rows) -> BoatRecords:
    """Every row as its record."""
    return from_values(rows[0][1], rows)  # type: ignore[arg-type]  # plain values


def plain(rows: Rows) -> object:
    """Every row read, and the lengths added up by what they are ordered as."""
    sums: defaultdict[tuple[str | None, ...], float] = defaultdict(float)
    for item in read(rows).items.values():
        if item.length_mm:
            alike = (item.kind, item.size, item.material, item.service, item.thread)
            sums[alike] += item.length_mm * 1.1 + 200.0
    return sums


def merged(rows: Rows) -> object:
    """Every row read, and the list of renewals."""
    return renewals(read(rows), RULES)


def listed(rows: Rows) -> object:
    """The same, and the list as a table."""
    return renewals_csv(renewals(read(rows), RULES))


def ordered(rows: Rows) -> object:
    """The order: the renewals with prices and purchases, of which this boat has none."""
    return order_list(read(rows), RULES)


def wired(rows: Rows) -> object:
    """Every row read, and the circuits."""
    return circuits(read(rows), RULES)


WORKS: tuple[Work, ...] = (plain, merged, listed, ordered, wired)


def compare(sizes: tuple[int, ...]) -> None:
    """Print a line for each number of runs."""
    print(f"{'runs':>7}" + "".join(f"{work.__name__:>17}" for work in WORKS))
    shares: dict[int, list[float]] = {}
    for count in sizes:
        rows = rows_of(count)
        gc.freeze()
        took = in_turns(WORKS, rows, ROUNDS)
        gc.unfreeze()
        middles = [statistics.median(each) for each in took.values()]
        shares[count] = [1e6 * middle / count for middle in middles]
        line = f"{count:7,}{middles[0]:>15.3f} s"
        for name, middle in list(zip(took, middles, strict=True))[1:]:
            ratios = [one / bare for one, bare in zip(took[name], took["plain"], strict=True)]
            line += f"{middle:>7.3f} s {statistics.median(ratios):>4.2f} x "
        print(line, flush=True)
    print("microseconds a run, which stay the same where time grows as the number of runs does:")
    for count, row in shares.items():
        print(f"{count:7,}" + "".join(f"{share:>17.1f}" for share in row))
    print(f"Aim: merged and listed within {AIM:g} times the plain pass.")


def served(count: int) -> None:
    """Print what lists take at a real server: the first time, and again from what it keeps.

    Beside it the seconds of the server's processor, which a busy machine doesn't lengthen.
    """
    rows = rows_of(count)
    boat = rows[0][1]
    with tempfile.TemporaryDirectory() as folder, parts.our_server(Path(folder)) as (port, pid):
        api = parts.Api(port, Path(folder))
        api.push(boat, [{"table": table, "key": at, "set": said} for table, at, said in rows])
        for name in LISTS:
            times, used = [], [parts.processor_s(pid)]
            for _ in range(1 + ASKED):
                began = time.perf_counter()
                with api.send("GET", f"/api/boats/{boat}/lists/{name}") as answer:
                    size = len(answer.read())
                times.append(time.perf_counter() - began)
                used.append(parts.processor_s(pid))
            first, again = used[1] - used[0], (used[-1] - used[1]) / ASKED
            print(
                f"{count:,} runs, {name:<13} {size / 1e6:5.1f} MB: first {times[0]:.2f} s "
                f"({first:.2f} s of processor), again {statistics.median(times[1:]):.2f} s "
                f"({again:.2f} s)", flush=True
            )  # fmt: skip


def main() -> None:
    words = sys.argv[1:]
    compare(tuple(int(word) for word in words if word.isdigit()) or SIZES)
    if "--served" in words:
        served(SIZES[-1])


if __name__ == "__main__":
    main()
