"""Cut plans against published examples whose optimum is known.

Sources, all read 26 Nov 2026: widths and orders of a paper machine, 73 rolls, of "Cutting Stock
Problem - Worked Example" (groups.google.com, sci.op-research, 14 May 2008), also in the examples of
a public solver collection; V. Chvatal, Linear Programming (1983), page 195, 453 rolls, as told in
the manual of SAS/OR (support.sas.com, ormpug, example 4.5) with the order of 36 in. of two public
notebooks; u120_01 to u120_04 and triplets of E. Falkenauer, OR-Library (binpackinfo), optimum by
tables of solvers; Scholl N1W1B1R0 and Schwerin BPP1 of BPPLIB (Delorme, Iori, Martello 2018)
with their optimum. Figures only, copied from public repositories that hold the collections.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from shedtally.domain.cutting import cut_plan
from shedtally.domain.cutting.stock import Piece, Stock

EXAMPLES = tomllib.loads(
    Path(__file__).with_name("cutting_examples.toml").read_text(encoding="utf-8")
)["example"]


@pytest.mark.parametrize("example", EXAMPLES, ids=[row["name"] for row in EXAMPLES])
def test_a_published_example_is_cut_from_no_more_than_its_optimum(example: dict) -> None:
    lengths = [
        length
        for length, count in zip(
            example["lengths"], example.get("counts", [1] * len(example["lengths"])), strict=True
        )
        for _ in range(count)
    ]
    pieces = [Piece(str(n), length) for n, length in enumerate(lengths)]
    plan = cut_plan(pieces, [Stock("reel", example["reel"], 1)])
    print(f"{example['name']}: {plan.cost:g}, bound {plan.bound:g}, published {example['optimum']}")
    assert sorted(piece.length_mm for one in plan.cut for piece in one.pieces) == sorted(lengths)
    assert plan.bound <= example["optimum"]
    assert plan.cost == example["optimum"]


def test_ten_examples_or_more_are_held_against() -> None:
    assert len(EXAMPLES) >= 10
