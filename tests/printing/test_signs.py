"""Hazard signs: shape, size and colours as the published rules have them, seen as pictures."""

import io
import itertools
import math

import numpy as np
import pytest
from reportlab.pdfgen.canvas import Canvas

from shedtally.printing.letters import MM
from shedtally.printing.signs import ENVIRONMENT, GHS, LABELS, corner_to_corner_mm, draw_sign

PAGE_MM = 160.0
DPI = 127  # 5 dots to the mm
RED, GREEN, BLACK, WHITE = "red", "green", "black", "white"


@pytest.fixture
def seen(printed):
    """A sign with sides of 100 mm as a picture; looked up in mm from its middle, y upwards."""

    def look(sign, side_mm=100.0):
        file = io.BytesIO()
        canvas = Canvas(file, pagesize=(PAGE_MM * MM, PAGE_MM * MM))
        draw_sign(canvas, sign, (PAGE_MM / 2, PAGE_MM / 2), side_mm)
        canvas.save()
        (picture,) = printed(file.getvalue()).pages(DPI)
        dots = np.asarray(picture.convert("RGB")).astype(int)

        def at(x, y):
            scale = DPI / 25.4
            return colour(dots[round((PAGE_MM / 2 - y) * scale), round((PAGE_MM / 2 + x) * scale)])

        return at, dots

    return look


def colour(dot):
    red, green, blue = dot
    if max(dot) < 70:
        return BLACK
    if min(dot) > 230:
        return WHITE
    if red > 180 and green < 80 and blue < 80:
        return RED
    if green > red and green > blue:
        return GREEN
    if red > 200 and 90 < green < 190 and blue < 90:
        return "orange"
    if red > 200 and green >= 190 and blue < 90:
        return "yellow"
    return "other"


@pytest.mark.parametrize("sign", [*GHS, *LABELS, ENVIRONMENT])
def test_a_sign_is_a_square_on_its_corner_of_the_size_asked_for(seen, sign):
    _, dots = seen(sign)
    inked = dots.min(axis=2) < 250
    rows, columns = np.flatnonzero(inked.any(axis=1)), np.flatnonzero(inked.any(axis=0))
    wide = 100 * math.sqrt(2)
    for run in (rows, columns):
        assert (run[-1] - run[0] + 1) / DPI * 25.4 == pytest.approx(wide, abs=1.0)
    assert corner_to_corner_mm(100) == pytest.approx(wide)


@pytest.mark.parametrize("sign", GHS)
def test_a_pictogram_has_a_red_frame_on_white_and_a_black_symbol(seen, sign):
    """CLP, annex I, 1.2.1.1 and 1.2.1.2 (reachonline.eu): square on a point, black, white, red."""
    at, dots = seen(sign)
    for x, y in ((34, 34), (-34, 34), (34, -34), (-34, -34)):
        assert at(x, y) == RED
    assert at(29, 29) == WHITE
    assert (dots.max(axis=2) < 60).mean() > 0.01


@pytest.mark.parametrize("sign", LABELS)
def test_the_line_of_a_label_is_2_mm_wide_and_5_mm_inside_the_edge(seen, sign):
    """49 CFR 172.407(c)(1), as PHMSA letter 17-0141 puts it."""
    _, dots = seen(sign)
    middle, scale = PAGE_MM / 2, DPI / 25.4

    def dark(inside):  # on the lower right edge's normal, where no symbol stands
        reach = (50 - inside) * math.sqrt(0.5)
        dot = dots[round((middle + reach) * scale), round((middle + reach) * scale)]
        return max(dot) < 90

    width = [inside / 10 for inside in range(30, 100) if dark(inside / 10)]
    assert width[0] == pytest.approx(5.0, abs=0.5)
    if sign != "8":  # its lower half is black up to the line
        assert width[-1] - width[0] == pytest.approx(2.0, abs=0.5)


# Ground of the upper and lower half beside the symbol: ADR 5.2.2.2.2, 49 CFR 172.411 to 172.448.
@pytest.mark.parametrize(
    ("sign", "upper", "lower"),
    [
        ("1.3G", "orange", "orange"), ("1.4G", "orange", "orange"), ("2.1", RED, RED),
        ("2.2", GREEN, GREEN), ("3", RED, RED), ("4.2", WHITE, RED), ("5.1", "yellow", "yellow"),
        ("5.2", RED, "yellow"), ("6.1", WHITE, WHITE), ("8", WHITE, BLACK),
    ],
)  # fmt: skip
def test_a_label_has_the_colours_of_its_class(seen, sign, upper, lower):
    at, _ = seen(sign)
    assert at(-48, 5) == upper
    assert at(-30, -12) == lower


@pytest.mark.parametrize(
    ("sign", "stripe", "half_only"), [("4.1", RED, False), ("9", BLACK, True), ("9A", BLACK, True)]
)
def test_seven_stripes(seen, sign, stripe, half_only):
    at, _ = seen(sign)

    def count(y):
        row = [False, *(at(x / 2, y) == stripe for x in range(-112, 113))]  # inside the line
        return sum(now and not before for before, now in itertools.pairwise(row))

    assert count(1.5) == 7
    assert count(-3) == (0 if half_only else 7)


@pytest.mark.parametrize("sign", LABELS)
def test_the_figure_of_the_class_stands_in_the_lower_corner(sign, printed):
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(PAGE_MM * MM, PAGE_MM * MM))
    draw_sign(canvas, sign, (PAGE_MM / 2, PAGE_MM / 2), 100)
    canvas.save()
    (signs,) = printed(file.getvalue()).signs()
    low = min(box[1] for _, box in signs)
    figure = "".join(sign for sign, box in signs if box[1] < low + 6 and box[3] < PAGE_MM / 2)
    assert figure in LABELS[sign].figure
    assert figure
    heights = [box[3] - box[1] for sign, box in signs if sign.isdigit() and box[1] < low + 6]
    # 49 CFR 172.407(c)(3): 6.3 to 12.7 mm high.
    assert all(6.3 <= height <= 12.7 for height in heights)
