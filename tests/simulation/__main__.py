"""The long run: python -m tests.simulation --schedules 10000

Schedules are numbered; --seed N runs one of them again and tells its steps. --broken breaks the
code on purpose, one line at a time, and tells which promise was seen broken.
"""

from __future__ import annotations

import argparse
import multiprocessing.util
import sys
import tempfile
import time
import traceback
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from . import broken
from .link import Counts
from .session import Session


def main() -> int:
    """Run what the arguments ask for; 1 if any promise was broken."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--schedules", type=int, default=1000)
    parser.add_argument("--first", type=int, default=1, help="the first seed")
    parser.add_argument("--seed", type=int, help="run this one only, and show its steps")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--stop-after", type=int, default=10, help="failures")
    parser.add_argument("--broken", action="store_true", help="break the code and see it noticed")
    asked = parser.parse_args()
    if asked.broken:
        return broken.see_all()
    if asked.seed is not None:
        return _one(asked.seed)
    started = time.monotonic()
    total, failures = Counts(), []
    seeds = range(asked.first, asked.first + asked.schedules)
    size = 20
    parts = [seeds[at : at + size] for at in range(0, len(seeds), size)]
    with ProcessPoolExecutor(asked.processes) as pool:
        for number, (counts, failed) in enumerate(pool.map(_part, parts), 1):
            total.add(counts)
            failures += failed
            for seed, what in failed:
                print(f"\nschedule {seed} broke a promise (run again: --seed {seed}):\n{what}")
            if number % 5 == 0 or failed:
                print(_line(total, failures, started), flush=True)
            if len(failures) >= asked.stop_after:
                pool.shutdown(cancel_futures=True)
                break
    print(_line(total, failures, started))
    return 1 if failures else 0


def _line(total: Counts, failures: list, started: float) -> str:
    told = ", ".join(f"{name} {number}" for name, number in vars(total).items())
    lost = sum("lost" in what for _, what in failures)
    return f"{told}; losses {lost}, broken {len(failures)}, {time.monotonic() - started:.0f} s"


_session: Session | None = None


def _part(seeds: range) -> tuple[Counts, list[tuple[int, str]]]:
    global _session  # noqa: PLW0603 - one for each process of the pool
    if _session is None:
        folder = tempfile.TemporaryDirectory(dir=_memory())
        _session = Session(Path(folder.name))
        # The pool's processes skip what atexit knows; this they do at their end.
        multiprocessing.util.Finalize(folder, _end, (_session, folder), exitpriority=1)
    counts, failed = Counts(), []
    for seed in seeds:
        try:
            counts.add(_session.run_seed(seed))
        except Exception:
            failed.append((seed, traceback.format_exc(limit=-3)))
    return counts, failed


def _end(session: Session, folder: tempfile.TemporaryDirectory) -> None:
    session.close()
    folder.cleanup()


def _memory() -> str | None:
    """A folder in memory where there is one: a schedule commits hundreds of times."""
    return "/dev/shm" if Path("/dev/shm").is_dir() else None


def _one(seed: int) -> int:
    with tempfile.TemporaryDirectory(dir=_memory()) as folder:
        session = Session(Path(folder))
        try:
            schedule = session.schedule(seed)
            print(f"clocks {schedule.clocks}")
            for step in schedule.steps:
                print("  ", step)
            print(vars(session.run(schedule)))
        finally:
            session.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
