"""The drawing of a network, whatever it is: nothing lies on anything else."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.schedules.blocks import blocks
from shedtally.domain.schedules.layout import Box, Link

COUNT = 9
COLUMNS = st.lists(st.integers(0, 4), min_size=COUNT, max_size=COUNT)
PAIRS = st.lists(
    st.tuples(st.integers(0, COUNT - 1), st.integers(0, COUNT - 1)), min_size=1, max_size=14
)
NEAR = 0.01


def drawn(columns, pairs):
    boxes = {
        str(n): Box(str(n), "item", f"Thing number {n}", "", (float(at), f"c{at}"), f"c{at}")
        for n, at in enumerate(columns)
    }
    links = [
        Link(f"run{n}", f"no. {n}", "19 mm", str(first), str(last))
        for n, (first, last) in enumerate(pairs)
    ]
    return boxes, links, blocks(boxes, links)


def pieces(run):
    """The straight stretches of a line."""
    corners = list(zip(run.corners[::2], run.corners[1::2], strict=True))
    return [pair for pair in itertools.pairwise(corners) if pair[0] != pair[1]]


def lie_on_each_other(one, other):
    """Whether two stretches share more than a point."""
    for axis in (0, 1):
        across = 1 - axis
        if (
            one[0][across] == one[1][across]
            and other[0][across] == other[1][across]
            and abs(one[0][across] - other[0][across]) < NEAR
        ):
            low = max(min(p[axis] for p in one), min(p[axis] for p in other))
            high = min(max(p[axis] for p in one), max(p[axis] for p in other))
            if high - low > NEAR:
                return True
    return False


@given(COLUMNS, PAIRS)
def test_each_run_is_one_line_of_right_angles_from_box_to_box(columns, pairs):
    _, links, made = drawn(columns, pairs)
    assert sorted(run.item for block in made for run in block.runs) == sorted(
        link.item for link in links
    )
    ends = {link.item: {link.first, link.last} for link in links}
    for block in made:
        for run in block.runs:
            for (x1, y1), (x2, y2) in pieces(run):
                assert x1 == x2 or y1 == y2
            touched = {
                node.key
                for node in block.nodes
                for x, y in (run.corners[:2], run.corners[-2:])
                if node.y <= y <= node.y + node.height
                and min(abs(x - node.x), abs(x - node.x - node.width)) < NEAR
            }
            assert touched == ends[run.item]


@given(COLUMNS, PAIRS)
def test_no_line_lies_on_another_or_runs_through_a_box(columns, pairs):
    _, _, made = drawn(columns, pairs)
    for block in made:
        for one, other in itertools.combinations(block.runs, 2):
            assert not any(lie_on_each_other(a, b) for a in pieces(one) for b in pieces(other)), (
                one,
                other,
            )
        for run in block.runs:
            for (x1, y1), (x2, y2) in pieces(run):
                for node in block.nodes:
                    inside = (
                        max(x1, x2) > node.x + NEAR
                        and min(x1, x2) < node.x + node.width - NEAR
                        and max(y1, y2) > node.y + NEAR
                        and min(y1, y2) < node.y + node.height - NEAR
                    )
                    assert not inside, (run, node)


@given(COLUMNS, PAIRS)
def test_boxes_and_names_keep_clear_of_each_other_and_inside_the_drawing(columns, pairs):
    _, _, made = drawn(columns, pairs)
    for block in made:
        for one, other in itertools.combinations(block.nodes, 2):
            assert (
                one.x + one.width <= other.x
                or other.x + other.width <= one.x
                or one.y + one.height <= other.y
                or other.y + other.height <= one.y
            )
        for one, other in itertools.combinations(block.runs, 2):
            (x1, y1), (x2, y2) = one.label, other.label
            assert abs(x1 - x2) > 50 or abs(y1 - y2) >= 20
        for node in block.nodes:
            assert 0 <= node.x <= node.x + node.width <= block.width
            assert 0 <= node.y <= node.y + node.height <= block.height
        for run in block.runs:
            assert all(0 <= x <= block.width for x in run.corners[::2])
            assert all(0 <= y <= block.height for y in run.corners[1::2])


@given(COLUMNS, PAIRS)
def test_what_hangs_together_is_one_block_and_columns_go_aft(columns, pairs):
    boxes, _, made = drawn(columns, pairs)
    for block in made:
        by_x = sorted(block.nodes, key=lambda node: node.x)
        places = [boxes[node.key].column for node in by_x]
        assert places == sorted(places)
    keys = [node.key for block in made for node in block.nodes]
    assert len(keys) == len(set(keys))
