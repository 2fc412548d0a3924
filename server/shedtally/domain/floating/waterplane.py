"""How a boat floats: what was entered, and what stands in for it, said so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shedtally.domain.floating.hydrostatics import (
    kg_per_cm,
    moment_to_trim_of_area,
    second_moment_along,
)
from shedtally.domain.floating.lists import FloatFact
from shedtally.domain.lifting.lists import Reach
from shedtally.domain.masses.spread import product
from shedtally.domain.records import Boat
from shedtally.domain.rulebook import Three
from shedtally.domain.rulebook.floating import FloatRules, Share

ENTERED = "as entered"


@dataclass(frozen=True, slots=True)
class Waterplane:
    """Figures that stand behind a trim; ``faults`` says what can't be, ``missing`` what lacks.

    ``per_cm`` kg/cm, ``moment`` kg m/cm, ``centre_m`` and ``overhang_m`` from the stem.
    """

    waterline_m: Three
    overhang_m: Three
    centre_m: Three
    per_cm: Three
    moment: Three
    facts: tuple[FloatFact, ...]


def faults_of(boat: Boat) -> tuple[str, ...]:
    """What was entered and can't be so, with what would do; the entries are kept."""
    return tuple(_faults(boat))


def missing_of(boat: Boat) -> tuple[str, ...]:
    """What a person would have to measure before anything can be reckoned."""
    found = []
    if not boat.length_m and not boat.waterline_m:
        found.append("the length of the boat, or of her waterline")
    if not boat.beam_m and not boat.waterline_beam_m and not boat.waterplane_m2:
        found.append("her beam, or the beam at the waterline")
    return tuple(found)


def waterplane_of(boat: Boat, rules: FloatRules, density: Share) -> Waterplane:
    """The figures of a boat of which `missing_of` and `faults_of` have nothing to say."""
    sure = rules.entered_sure
    length = _entered(boat.waterline_m, sure) or _scaled(boat.length_m, rules.waterline_of_length)
    beam = _entered(boat.waterline_beam_m, sure) or _beam(boat, rules, length)
    overhang = _overhang(boat, length)
    area = _entered(boat.waterplane_m2, sure) or product(Three(*rules.area_share), length, beam)
    centre = _entered_at(boat.float_centre_m) or _centre(rules, length, overhang)
    water = Three(*density)
    per_cm = _through(area, water)
    moment = _entered(boat.trim_moment, 2 * sure) or _moment(rules, area, beam, length, water)
    how = "estimated from her size"
    facts = (
        _fact("waterline", "m", length, boat.waterline_m, how),
        _fact("beam at the waterline", "m", beam, boat.waterline_beam_m, how),
        _fact("stem to fore end of the waterline", "m", overhang, boat.bow_overhang_m, how),
        _fact("area of the waterplane", "m2", area, boat.waterplane_m2, how),
        _fact("centre of floating, from the stem", "m", centre, boat.float_centre_m, how),
        _fact("one centimetre deeper takes", "kg", per_cm, boat.waterplane_m2, "from the area"),
        _fact("one centimetre of trim takes", "kg m", moment, boat.trim_moment, how),
    )
    return Waterplane(length, overhang, centre, per_cm, moment, facts)


def _faults(boat: Boat) -> Iterator[str]:
    length, line = boat.length_m, boat.waterline_m
    if line == 0 or length == 0:
        yield "A length of 0 m is no boat: it must be more than 0 m."
    if length and line and line > length:
        yield (
            f"The waterline, {line:g} m, is longer than the boat, {length:g} m: it must be "
            f"{length:g} m or less."
        )
    if boat.beam_m and boat.waterline_beam_m and boat.waterline_beam_m > boat.beam_m:
        yield (
            f"The beam at the waterline, {boat.waterline_beam_m:g} m, is more than the beam, "
            f"{boat.beam_m:g} m: it must be that or less."
        )
    if length and line and boat.bow_overhang_m and boat.bow_overhang_m + line > length + 0.01:
        yield (
            f"Overhang and waterline, {boat.bow_overhang_m + line:g} m together, are longer than "
            f"the boat: the overhang can be 0 to {max(0.0, length - line):.2f} m."
        )
    yield from _area_faults(boat)
    if boat.float_centre_m is not None and length and not 0 < boat.float_centre_m < length:
        yield (
            f"The centre of floating, {boat.float_centre_m:g} m from the stem, is not in the boat: "
            f"it must be between 0 and {length:g} m."
        )


def _area_faults(boat: Boat) -> Iterator[str]:
    length = boat.waterline_m or boat.length_m
    beam = boat.waterline_beam_m or boat.beam_m
    area = boat.waterplane_m2
    if area == 0:
        yield "A waterplane of 0 m2 carries nothing: it must be more than 0 m2."
    if area and length and beam and area > length * beam:
        yield (
            f"The waterplane, {area:g} m2, is more than length by beam: it must be "
            f"{length * beam:.1f} m2 or less."
        )
    if boat.trim_moment == 0:
        yield "A moment of 0 kg m for a centimetre of trim can't be: it must be more than 0."
    if boat.displacement_kg == 0:
        yield "A displacement of 0 kg is no boat: it must be more than 0 kg."


def _entered(value: float | None, sure: float) -> Three | None:
    return None if not value else Three(value * (1 - sure), value, value * (1 + sure))


def _entered_at(value: float | None) -> Three | None:
    return None if value is None else Three(value - 0.05, value, value + 0.05)


def _scaled(value: float | None, share: Share) -> Three:
    return Three(*(part * (value or 0.0) for part in share))


def _beam(boat: Boat, rules: FloatRules, length: Three) -> Three:
    if boat.beam_m:
        return _scaled(boat.beam_m, rules.waterline_of_beam)
    beam = (boat.waterplane_m2 or 0.0) / (rules.area_share.likely * length.likely)
    return Three(beam * 0.85, beam, beam * 1.15)


def _overhang(boat: Boat, length: Three) -> Three:
    if boat.bow_overhang_m is not None:
        return Three(boat.bow_overhang_m, boat.bow_overhang_m, boat.bow_overhang_m)
    rest = max(0.0, (boat.length_m or length.likely) - length.likely)
    return Three(rest * 0.2, rest * 0.5, rest * 0.8)


def _centre(rules: FloatRules, length: Three, overhang: Three) -> Three:
    line = length.likely
    low, likely, high = (line * (0.5 + share) for share in rules.centre_aft)
    aside = (overhang.high - overhang.low) / 2
    mid = overhang.likely + likely
    return Three(
        mid - ((likely - low) ** 2 + aside**2) ** 0.5,
        mid,
        mid + ((high - likely) ** 2 + aside**2) ** 0.5,
    )


def _through(area: Three, water: Three) -> Three:
    low, likely, high = product(area, water)
    return Three(*(kg_per_cm(kg, 1.0) for kg in (low, likely, high)))


def _moment(rules: FloatRules, area: Three, beam: Three, length: Three, water: Three) -> Three:
    """Independent shares add in squares; the area comes in twice."""
    second = second_moment_along(area.likely, beam.likely, length.likely, rules.inertia.likely)
    likely = moment_to_trim_of_area(second, water.likely, length.likely)
    spread = product(
        Three(*(value / rules.inertia.likely for value in rules.inertia)),
        Three(*((value / area.likely) ** 2 for value in area)),
    )
    return Three(likely * spread.low, likely, likely * spread.high)


def _fact(name: str, unit: str, value: Three, entered: float | None, otherwise: str) -> FloatFact:
    how = ENTERED if entered is not None and otherwise != "from the area" else otherwise
    return FloatFact(name, unit, Reach(*value), how)
