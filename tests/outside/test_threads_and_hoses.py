"""Threads, hose bores and clamps against published tables, each with its source beside it."""

from __future__ import annotations

import pytest

from shedtally.domain.measures.unreadable import Unreadable
from shedtally.domain.renewals.clamp import clamp_for
from shedtally.domain.renewals.thread import mismatch, parse_thread
from shedtally.rules.load import load

RULES = load()
RENEWAL = RULES.renewal


def sizes(series):
    return [row for row in RENEWAL.sizes if row.series == series]


# ISO 228-1: the thread is 0.640327 of its pitch high; pitch diameter is major less that.
@pytest.mark.parametrize("row", sizes("BSP"), ids=lambda row: row.size)
def test_the_pitch_diameter_of_a_bsp_thread_follows_from_its_form(row):
    assert row.pitch_diameter_mm == pytest.approx(
        row.major_mm - 0.640327 * 25.4 / row.per_inch, abs=0.002
    )


# ASME B1.20.1: E0 = D - (0.05 D + 1.1) p, E1 = E0 + L1 / 16; D in inches by ASME B36.10M.
OUTSIDE_IN = {
    "1/8": 0.405, "1/4": 0.540, "3/8": 0.675, "1/2": 0.840, "3/4": 1.050, "1": 1.315,
    "1 1/4": 1.660, "1 1/2": 1.900, "2": 2.375, "2 1/2": 2.875, "3": 3.500, "4": 4.500,
}  # fmt: skip


@pytest.mark.parametrize("row", sizes("NP"), ids=lambda row: row.size)
def test_the_pitch_diameter_of_npt_follows_from_the_formula_of_its_standard(row):
    outside, pitch = OUTSIDE_IN[row.size], 1 / row.per_inch
    small_end = outside - (0.05 * outside + 1.1) * pitch
    assert row.pitch_diameter_mm / 25.4 == pytest.approx(
        small_end + row.gauge_mm / 25.4 / 16, abs=0.0001
    )
    assert row.major_mm == pytest.approx(outside * 25.4, abs=0.02)


# shop.hoseandfittings.com, BSPP: outside of the male thread in mm, threads to the inch.
@pytest.mark.parametrize(
    ("outside", "per_inch", "size"),
    [
        (9.728, 28, "1/8"), (13.157, 19, "1/4"), (16.662, 19, "3/8"), (33.249, 11, "1"),
        (41.910, 11, "1 1/4"), (47.803, 11, "1 1/2"), (59.614, 11, "2"),
    ],
)  # fmt: skip
def test_a_measured_thread_is_found_by_its_published_outside(outside, per_inch, size):
    found = parse_thread(f"{outside} mm, {per_inch} tpi", RENEWAL)
    assert (found.series, found.size) == ("BSP", size)


# ISO 7-1 scope and note 1; ISO 228-1 scope; NPS in NPT: windborneinpugetsound.blogspot.com 2022/04.
@pytest.mark.parametrize(
    ("one", "other", "fits"),
    [
        ("R 3/4", "Rp 3/4", True), ("R 3/4", "Rc 3/4", True), ("G 3/4", "G 3/4", True),
        ("3/4 NPT", "3/4 NPT", True), ("3/4 NPS", "3/4 NPS", True),
        ("G 3/4 male", "Rp 3/4", False), ("G 3/4 male", "Rc 3/4", False),
        ("3/4 NPS male", "3/4 NPT female", False), ("G 3/4", "3/4 NPT", False),
    ],
)  # fmt: skip
def test_what_goes_together_is_what_the_standards_join(one, other, fits):
    why = mismatch(parse_thread(one, RENEWAL), parse_thread(other, RENEWAL), RENEWAL)
    assert (why == "") is fits


# SAE J1508 type F as printed by lthoseclamp.com: a clamp closes on what lies in its range.
@pytest.mark.parametrize("outside", [16.0, 21.5, 29.0, 35.0, 42.5, 49.5, 62.5])
def test_a_clamp_closes_on_its_hose(outside):
    clamp = clamp_for(outside, RULES)
    assert clamp is not None
    assert clamp.closed_mm <= outside <= clamp.open_mm


# ISO 228-1 as printed at wessexmetrology.com, ThreadGaugeInfo: outside threads in class A (medium)
# or B (coarse), inside threads in one class that is not written.
@pytest.mark.parametrize("text", ["G 3/4 A", "G3/4B", "g 3/4a", "G 1 1/4 B", "G3/4A male"])
def test_a_class_is_read_and_makes_the_thread_an_outside_one(text):
    found = parse_thread(text, RENEWAL)
    assert (found.family, found.sex) == ("G", "male")
    assert found.size == ("1 1/4" if "1 1/4" in text else "3/4")


@pytest.mark.parametrize("text", ["G 3/4 A female", "R 3/4 A", "3/4 NPT B", "G 3/4 C"])
def test_a_class_where_the_standard_has_none_is_refused(text):
    with pytest.raises(Unreadable):
        parse_thread(text, RENEWAL)


# Worm-drive clamps by their range in mm, as DIN 3017 sizes them and a maker's data sheet prints:
# cdn.shopify.com/s/files/1/0065/0916/6657/files/Spec_ASFA_S_fr.pdf. The rules have the American
# sizes; what each metric clamp is in its middle for is a second opinion on them.
METRIC_CLAMPS = [
    (16, 27), (20, 32), (25, 40), (30, 45), (32, 50), (40, 60), (50, 70), (60, 80), (70, 90),
    (80, 100),
]  # fmt: skip


@pytest.mark.parametrize(("least", "most"), METRIC_CLAMPS)
def test_the_clamp_for_a_hose_is_about_the_metric_one_for_it(least, most):
    outside = (least + most) / 2
    clamp = clamp_for(outside, RULES)
    assert clamp is not None
    middle = (clamp.closed_mm + clamp.open_mm) / 2
    # A quarter of the range off, and it would no longer be near the middle of both.
    assert abs(middle - outside) <= (most - least) / 4
