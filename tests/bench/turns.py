"""Seconds of several works on the same rows, measured in turn."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Sequence
from typing import TypeVar

T = TypeVar("T")


def in_turns(
    works: Sequence[Callable[[T], object]], rows: T, rounds: int
) -> dict[str, list[float]]:
    """Seconds of the processor for each work by its name, one a round.

    All works come in turn, so that a busy moment hits them alike.
    """
    took: dict[str, list[float]] = {work.__name__: [] for work in works}
    for _ in range(rounds):
        for work in works:
            gc.collect()
            began = time.process_time()
            work(rows)
            took[work.__name__].append(time.process_time() - began)
    return took
