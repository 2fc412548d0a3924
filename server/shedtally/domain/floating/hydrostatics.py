"""How a floating body answers to mass taken off, put on or moved. Small changes only.

Metres, kilograms, kg/m3; lengths along the boat are measured aft from the stem. Valid while the
sides are about upright between the old and the new waterline.

Source: Barrass and Derrett, Ship Stability for Masters and Mates, chapters on TPC, trim and list;
worked examples in tests/outside.
"""

from __future__ import annotations

import math


def kg_per_cm(waterplane_m2: float, density: float) -> float:
    """Mass that sinks a hull by one centimetre, in kg/cm."""
    return waterplane_m2 * density / 100


def sinkage_cm(kg: float, per_cm: float) -> float:
    """Centimetres deeper, at the middle of the waterplane, for a mass put on (below 0: off)."""
    return kg / per_cm


def second_moment_along(
    waterplane_m2: float, beam_m: float, length_m: float, share: float
) -> float:
    """Second moment of a waterplane about its middle, athwart, in m4.

    Args: share: 1/12 for a box and a diamond, 0.0796 for an ellipse, 0.075 for a parabola.
    """
    return share * waterplane_m2**2 * length_m / beam_m


def moment_to_trim(displacement_kg: float, gm_along_m: float, length_m: float) -> float:
    """Moment for one centimetre of trim between the ends of the waterline, in kg m/cm."""
    return displacement_kg * gm_along_m / (100 * length_m)


def moment_to_trim_of_area(second_moment_m4: float, density: float, length_m: float) -> float:
    """The same where BM stands for GM, as is usual along a boat, in kg m/cm."""
    return density * second_moment_m4 / (100 * length_m)


def trim_cm(moment_kg_m: float, per_cm: float) -> float:
    """Change of trim in centimetres, by the stern where above 0."""
    return moment_kg_m / per_cm


def at_the_ends(
    sunk_cm: float, trimmed_cm: float, length_m: float, centre_from_bow_m: float
) -> tuple[float, float]:
    """Change of draught at the fore and the aft end of the waterline, in cm; deeper above 0.

    Args: centre_from_bow_m: of floating, from the fore end of the waterline.
    """
    fore = sunk_cm - trimmed_cm * centre_from_bow_m / length_m
    aft = sunk_cm + trimmed_cm * (length_m - centre_from_bow_m) / length_m
    return fore, aft


def list_deg(moment_kg_m: float, displacement_kg: float, gm_m: float) -> float:
    """Angle of list in degrees, to starboard where the moment is. Small angles only, GM above 0."""
    return math.degrees(math.atan(moment_kg_m / (displacement_kg * gm_m)))


def centre_after(kg: float, at_m: float, loads: list[tuple[float, float]]) -> float:
    """Where the middle of mass is after loads (kg, m) came on, or off where below 0."""
    whole = kg + math.fsum(mass for mass, _ in loads)
    return (kg * at_m + math.fsum(mass * place for mass, place in loads)) / whole


def bm_m(second_moment_m4: float, volume_m3: float) -> float:
    """Height of the metacentre above the middle of buoyancy, in m."""
    return second_moment_m4 / volume_m3
