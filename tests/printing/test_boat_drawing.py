"""The boat drawn in print lies where the phone draws it; what stands out is where most is left.

`fixtures/contract/drawing.json` is run by vitest too (pwa/src/ui/hull.contract.test.ts).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from shedtally.domain.aboard.drawn import DrawnBoat, DrawnPlace, most_left
from shedtally.printing.boat_shape import cells, outlines, shape_of

CASES = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "contract" / "drawing.json").read_text()
)["cases"]
# Half of the tenth that the phone rounds its paths to.
CLOSE = 0.051


def drawn(case: dict) -> DrawnBoat:
    places = tuple(
        DrawnPlace(row["key"], row["key"], row["side"], row["level"], row["fromM"], row["toM"],
                   0, 1, False)
        for row in case["places"]
    )  # fmt: skip
    hull = case["hull"]
    return DrawnBoat(hull["lengthM"], hull["beamM"], hull["draughtM"], places, 0)


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_cells_and_outlines_are_the_phones(case: dict) -> None:
    boat = drawn(case)
    shape = shape_of(boat)
    assert shape.water == pytest.approx(case["waterline"], abs=CLOSE)
    plan, profile = outlines(shape)
    for found, wanted in ((plan, case["plan"]), (profile, case["profile"])):
        assert [value for point in found for value in point] == pytest.approx(wanted, abs=CLOSE)
    found_cells = {cell.place.key: cell.points for cell in cells(boat, shape)}
    assert found_cells.keys() == case["cells"].keys()
    for key, points in found_cells.items():
        flat = [value for point in points for value in point]
        assert flat == pytest.approx(case["cells"][key], abs=CLOSE), key


def test_what_stands_out_is_the_fullest_and_never_what_is_empty() -> None:
    def place(key: str, left: int) -> DrawnPlace:
        return DrawnPlace(key, key, "across", "cabin", 0, 1, 0, left, False)

    places = [place("d", 4), place("a", 9), place("c", 4), place("b", 0), place("e", 5)]
    assert [one.key for one in most_left(places)] == ["a", "e", "c"]
    assert most_left([place("b", 0)]) == ()
