"""Litres of a liquid at its temperature to kilograms, and to litres at 15 °C.

Kilograms are mass: the lift that air gives (about 0.13 % for fuel) is left out, so a scale in air
shows that much less.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from shedtally.domain.masses.section import OutOfRange
from shedtally.domain.rulebook import Liquid

BASE_C = 15.0
# Table 54B ends at 90 °C and above for every group; the lower limit is that of the 2004 text.
COLDEST_C, HOTTEST_C = -50.0, 90.0
LIGHTEST, HEAVIEST = 653.0, 1075.0
LIGHTEST_OIL, HEAVIEST_OIL = 800.9, 1163.5


def products_factor(density_15: float, temperature_c: float) -> float:
    """Volume at 15 °C for one volume at a temperature; refined products.

    Args: density_15: kg/m3 at 15 °C, 653 to 1075. temperature_c: -50 to 90.
    Raises: OutOfRange.
    Source: ASTM D1250-80, API MPMS 11.1, ISO 91-1, Table 54B; constants as reprinted.

    >>> round(products_factor(842.8, 22.5), 4)
    0.9937
    """
    _within("density at 15 °C", density_15, LIGHTEST, HEAVIEST, "kg/m3")
    return _factor(_products_alpha(density_15), temperature_c)


def lubricants_factor(density_15: float, temperature_c: float) -> float:
    """The same for lubricating oils, 800.9 to 1163.5 kg/m3 (Table 54D)."""
    _within("density at 15 °C", density_15, LIGHTEST_OIL, HEAVIEST_OIL, "kg/m3")
    return _factor(0.6278 / density_15, temperature_c)


def _products_alpha(density: float) -> float:
    # The zones of the table leave gaps of half a kilogram; the upper zone begins in the middle.
    if density < 770.25:
        return 346.4228 / density**2 + 0.4388 / density
    if density < 787.75:
        return -0.00336312 + 2680.3206 / density**2
    if density < 838.75:
        return 594.5418 / density**2
    return 186.9696 / density**2 + 0.4862 / density


def _factor(alpha: float, temperature_c: float) -> float:
    _within("temperature", temperature_c, COLDEST_C, HOTTEST_C, "°C")
    swell = alpha * (temperature_c - BASE_C)
    return math.exp(-swell * (1 + 0.8 * swell))


def density_at(liquid: Liquid, density_15: float, temperature_c: float) -> float:
    """kg/m3 of a liquid at a temperature, from its density at 15 °C.

    Raises: OutOfRange: a density or temperature that the liquid's method doesn't cover.
    """
    if liquid.method == "products":
        return density_15 * products_factor(density_15, temperature_c)
    if liquid.method == "lubricants":
        return density_15 * lubricants_factor(density_15, temperature_c)
    _within("temperature", temperature_c, *temperatures(liquid), "°C")
    _within("density at 15 °C", density_15, liquid.lightest, liquid.heaviest, "kg/m3")
    return density_15 * _between(liquid.points, temperature_c) / _between(liquid.points, BASE_C)


def temperatures(liquid: Liquid) -> tuple[float, float]:
    """The coldest and the warmest, in °C, that `density_at` covers."""
    if liquid.method in {"products", "lubricants"}:
        return COLDEST_C, HOTTEST_C
    return liquid.points[0][0], liquid.points[-1][0]


def _between(points: Sequence[tuple[float, float]], at: float) -> float:
    for (low, first), (high, second) in itertools.pairwise(points):
        if at <= high:
            return first + (second - first) * (at - low) / (high - low)
    return points[-1][1]


def _within(name: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise OutOfRange(
            f"{name} {value:g} {unit} is outside what the table covers, {low:g} to {high:g} {unit}"
        )
