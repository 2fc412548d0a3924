"""Whole plans put together from patterns, by HiGHS as an integer programme.

Nothing goes by the clock: effort is counted in nodes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import highspy
import numpy as np

from shedtally.domain.cutting.knapsack import Pattern
from shedtally.domain.cutting.programme import column, entries, quiet, row

_MOST_NODES = 400


@dataclass(slots=True)
class Choice:
    """What a plan of a purchase may be put together from.

    ``columns``: stock and lengths, as places in the sorted lengths; ``counts``: how many of each
    stock. ``most``: what may be paid for all that is left out; None: nothing may be. ``pooled``:
    stock of which only the sum counts, ``pool`` mm. ``aparts``: what may be left out, one of them;
    None: any pieces. ``none``: no plan can be put together.
    """

    columns: list[tuple[int, Pattern]]
    counts: list[int]
    most: float | None = None
    pooled: list[int] = field(default_factory=list)
    pool: int = 0
    aparts: list[Pattern] | None = None
    none: bool = False


@dataclass(frozen=True, slots=True)
class Chosen:
    """Stock with places of pieces, None if no choice was found; and the pieces in the pool.

    ``least``: no choice costs less; infinite if there is none.
    """

    picked: list[tuple[int, Pattern]] | None
    in_pool: Pattern
    least: float


def chosen_patterns(
    lengths: Sequence[int], choice: Choice, instead: Sequence[float], near: float
) -> Chosen:
    """Of patterns, those that together leave least to be bought ``instead``.

    Args: near: how much dearer than the best the choice may be.
    """
    pieces: dict[int, list[int]] = {length: [] for length in sorted(set(lengths), reverse=True)}
    for at, length in enumerate(lengths):
        pieces[length].append(at)
    kinds = list(pieces.values())
    used, least = _whole(_modelled(choice, kinds, lengths, instead), near)
    if used is None:
        return Chosen(None, (), least)
    picked = []
    for (stock, held), times in zip(choice.columns, used, strict=False):
        for _ in range(round(times)):
            own = [kinds[kind].pop() for kind in held if kinds[kind]]
            picked.append((stock, tuple(sorted(own))))
    in_pool: list[int] = []
    if choice.pool:
        for kind, times in zip(kinds, used[len(choice.columns) :], strict=False):
            in_pool += [kind.pop() for _ in range(min(round(times), len(kind)))]
    return Chosen(picked, tuple(sorted(in_pool)), least)


def _modelled(
    choice: Choice, kinds: Sequence[list[int]], lengths: Sequence[int], instead: Sequence[float]
) -> highspy.Highs:
    """Columns in this order: patterns, pieces in the pool, pieces bought instead."""
    solver = quiet()
    for kind in kinds:
        row(solver, len(kind), highspy.kHighsInf)
    for count in choice.counts:
        row(solver, -highspy.kHighsInf, count)
    rows = len(kinds) + len(choice.counts)
    for stock, held in choice.columns:
        column(solver, 0.0, [*entries(held), (len(kinds) + stock, 1.0)], choice.counts[stock])
    if choice.pool:
        row(solver, -highspy.kHighsInf, choice.pool)
        for at, kind in enumerate(kinds):
            column(solver, 0.0, [(at, 1.0), (rows, float(lengths[kind[0]]))], len(kind))
        rows += 1
    if choice.aparts is not None:
        row(solver, -highspy.kHighsInf, 1.0)
        for held in choice.aparts:
            cost = sum(instead[kinds[kind][0]] for kind in held)
            column(solver, cost, [*entries(held), (rows, 1.0)], 1.0)
    elif choice.most is not None:
        row(solver, -highspy.kHighsInf, choice.most)
        for at, kind in enumerate(kinds):
            cost = instead[kind[0]]
            column(solver, cost, [(at, 1.0), (rows, cost)], len(kind))
    return solver


def _whole(solver: highspy.Highs, near: float) -> tuple[Sequence[float] | None, float]:
    """Solve in whole numbers: the amounts or None, and what no solution costs less than."""
    count = solver.getNumCol()
    kinds = np.full(count, highspy.HighsVarType.kInteger)
    solver.changeColsIntegrality(count, np.arange(count, dtype=np.int32), kinds)
    solver.setOptionValue("mip_max_nodes", _MOST_NODES)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", near)
    solver.run()
    if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return None, float("inf")
    info = solver.getInfo()
    if info.primal_solution_status != highspy.kSolutionStatusFeasible:
        return None, info.mip_dual_bound
    amounts: Sequence[float] = solver.getSolution().col_value
    return amounts, info.mip_dual_bound
