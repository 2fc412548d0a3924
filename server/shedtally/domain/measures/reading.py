"""Reading of lengths, masses and sizes as people write them: ``3/4 in``, ``1,2 m``, ``AWG 12``.

The phone reads the same texts with the same answers (`pwa/src/domain/measure.ts`); both are held
to `fixtures/contract/measure.json`. Inch, foot, pound and ounce are the exact international ones.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NoReturn, TypeAlias

import pint

from shedtally.domain.measures.gauge import gauge_diameter_mm, gauge_from_text, round_area_mm2
from shedtally.domain.measures.unreadable import Unreadable

LONGEST_TEXT = 40
MOST_MM = 50_000
MOST_KG = 100_000
MOST_MM2 = 1_000

# Exact factors: with decimal floats 1 ft would come out as 304.79999999999995 mm here, and as
# 304.8 mm on the phone.
_UNITS: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)


def _factors(into: str, *units: str) -> Mapping[str, float]:
    return {unit: float(_UNITS.Quantity(Fraction(1), unit).to(into).magnitude) for unit in units}


_MM = _factors("mm", "mm", "cm", "m", "in", "ft")
_KG = _factors("kg", "t", "kg", "lb", "oz", "g")
_SPELLINGS = {
    **dict.fromkeys(('"', "''", "inch", "inches"), "in"),
    **dict.fromkeys(("'", "foot", "feet"), "ft"),
    **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("kilo", "kilos", "kilogram", "kilograms", "kgs"), "kg"),
    **dict.fromkeys(("gram", "grams"), "g"),
    **dict.fromkeys(("lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("ounce", "ounces"), "oz"),
    **dict.fromkeys(("tonne", "tonnes"), "t"),
}
_LENGTH_HELP = "write mm, cm, m, in or ft"
_MASS_HELP = "write kg, g, t, lb or oz"

_NUMBER = r"(?:[0-9]+[ -])?[0-9]+/[0-9]+|[0-9]*[.,][0-9]+|[0-9]+"
_QUANTITY = re.compile(rf"(-?)\s*({_NUMBER})\s*([^0-9\s.,-]*)\s*")
_AREA = re.compile(
    rf"(?:([1-9][0-9]?)\s*x\s*)?(-?)\s*({_NUMBER})\s*(?:mm2|mm\^2|sq ?mm|sq\. ?mm|qmm)"
)
_AWG = re.compile(r"(?:([1-9][0-9]?)\s*x\s*)?(?:awg\s*([0-9/]+)|([0-9/]+)\s*awg)")
_NOMINAL = re.compile(r"dn\s*([0-9]{1,4})")
_METRIC_THREAD = re.compile(r"m\s*([0-9]{1,2})")
_FAMILY = "bspt|bspp|bspf|bsp|mnpt|fnpt|npt|npsm|nps"
# ISO 228-1 and ISO 7-1 write the family first, ASME B1.20.1 the size; people do either.
_PIPE_THREAD = re.compile(
    rf'({_NUMBER})\s*(?:in|")?\s*({_FAMILY})|(g|rp|rc|r|{_FAMILY})\s*({_NUMBER})\s*(?:in|")?'
)
# Only an outside G thread has a class, A or B.
_CLASSED = re.compile(rf'(g\s*(?:{_NUMBER})\s*(?:in|")?)\s*[ab]')

# Multiplication sign, primes, curly quotes, minus, superscript 2, fraction slash; then the
# fractions that a phone keyboard puts in one character.
_FOLD = str.maketrans(
    dict(zip("\u00d7\u2032\u2018\u2019\u2212\u00b2\u2044", "x'''-2/", strict=True))
    | dict.fromkeys("\u2033\u201c\u201d", '"')
    | {"\u00bd": " 1/2", "\u00bc": " 1/4", "\u00be": " 3/4", "\u2153": " 1/3"}
    | {"\u2154": " 2/3", "\u215b": " 1/8", "\u215c": " 3/8", "\u215d": " 5/8", "\u215e": " 7/8"}
)

SizeKind: TypeAlias = Literal["length", "area", "awg"]


@dataclass(frozen=True, slots=True)
class Size:
    """A size that was read.

    ``mm`` is the bore, diameter or width of a *length*, and the diameter of the solid wire of an
    *awg*; ``mm2`` the copper section of one core of an *area* or *awg*. ``thread`` names the
    family where one was written: threads of two families never count as the same size.
    """

    kind: SizeKind
    mm: float | None
    mm2: float | None
    shown: str
    cores: int = 1
    thread: str = ""


def parse_length_mm(text: str) -> float:
    """The length in millimetres, above 0 up to 50,000, unrounded.

    Raises: Unreadable: says what can't be read and what to write instead.

    >>> parse_length_mm("5 ft 6 in")
    1676.4
    """
    folded = _fold(text, "19 mm or 3/4 in")
    if _pipe_thread(folded):
        raise Unreadable(f"{folded} is a thread, and no length; {_LENGTH_HELP}")
    millimetres = _sum(folded, _MM, _LENGTH_HELP)
    if not millimetres:
        raise Unreadable(f"{folded} can't be; write what you measured")
    if millimetres > MOST_MM:
        raise Unreadable(f"{folded} is more than 50 m, {_MOST}")
    return millimetres


def parse_mass_kg(text: str) -> float:
    """The mass in kilograms, 0 to 100,000, unrounded.

    Raises: Unreadable: says what can't be read and what to write instead.

    >>> parse_mass_kg("2 lb 8 oz")
    1.133980925
    """
    folded = _fold(text, "2.5 kg or 12 lb")
    kilograms = _sum(folded, _KG, _MASS_HELP)
    if kilograms > MOST_KG:
        raise Unreadable(f"{folded} is more than 100 t, {_MOST}")
    return kilograms


def parse_size(text: str) -> Size:
    """The size of a hose, cable, thread or fitting.

    Reads a length (``19 mm``, ``1 1/2"``), a nominal bore (``DN 25``), a copper section
    (``2.5 mm2``, ``2 x 2.5 mm2``), a wire gauge (``AWG 12``, ``2/0 AWG``), or a thread (``M8``,
    ``3/4 BSP``, ``G 3/4``, ``NPT 1/2``; of `renewals/thread.py` it is whether there is such a one).

    Raises: Unreadable: says what can't be read and what to write instead.
    """
    folded = _fold(text, "19 mm, 3/4 in, AWG 12 or 2.5 mm2")
    if found := _AREA.fullmatch(folded):
        return _area(folded, found)
    if found := _AWG.fullmatch(folded):
        return _gauge(found)
    if found := _pipe_thread(folded):
        return _threaded(found)
    if found := _METRIC_THREAD.fullmatch(folded):
        return Size("length", float(found[1]), None, f"M{int(found[1])}", thread="M")
    if found := _NOMINAL.fullmatch(folded):
        return Size("length", float(found[1]), None, f"DN {int(found[1])}")
    millimetres = parse_length_mm(text)
    return Size("length", millimetres, None, f"{round(millimetres, 2):g} mm")


_MOST = "the most that can be kept; check the number and the unit"


def _fold(text: str, example: str) -> str:
    """One spelling of what may be typed many ways: lower case, plain quotes, single spaces."""
    folded = " ".join(text.translate(_FOLD).lower().split())
    if not folded:
        raise Unreadable(f"nothing is written; write a number and a unit, like {example}")
    if len(folded) > LONGEST_TEXT:
        raise Unreadable(f"that is too long to be a measure; write it like {example}")
    if not re.search("[0-9]", folded):
        raise Unreadable(f"no number in {folded}; write a number and a unit, like {example}")
    return folded


def _sum(folded: str, units: Mapping[str, float], help_text: str) -> float:
    """Add up one to three quantities of falling units, as in ``5 ft 6 in``."""
    total, at, last = 0.0, 0, float("inf")
    while at < len(folded):
        found = _QUANTITY.match(folded, at)
        if found is None:
            _refuse_form(folded)
        sign, number, spelling = found.groups()
        value = _number(number)
        unit = _SPELLINGS.get(spelling, spelling)
        if not unit:
            raise Unreadable(f"{number} has no unit; {help_text}")
        if unit not in units:
            raise Unreadable(f"{spelling} is no unit I know; {help_text}")
        if sign:
            raise Unreadable(f"{folded} is below zero; write it without the minus")
        if units[unit] >= last:
            _refuse_form(folded)
        total, at, last = total + value * units[unit], found.end(), units[unit]
    return total


def _refuse_form(folded: str) -> NoReturn:
    raise Unreadable(f"{folded} is not one measure; write one number and one unit")


def _number(text: str) -> float:
    """The value of a decimal, a fraction or a whole number with a fraction."""
    if re.fullmatch(r"[0-9]{1,3},[0-9]{3}", text):
        plain = text.replace(",", "")
        decimal = text.replace(",", ".")
        raise Unreadable(f"{text} can mean {decimal} or {plain}; write the one you mean")
    whole, _, fraction = text.replace("-", " ").rpartition(" ")
    if "/" not in fraction:
        return float(fraction.replace(",", "."))
    upper, lower = fraction.split("/")
    if not int(lower):
        raise Unreadable(f"{fraction} is no fraction; the lower number can't be 0")
    return float(int(whole or 0) + Fraction(int(upper), int(lower)))


def _pipe_thread(folded: str) -> re.Match[str] | None:
    classed = _CLASSED.fullmatch(folded)
    return _PIPE_THREAD.fullmatch(classed[1].strip() if classed else folded)


def _threaded(found: re.Match[str]) -> Size:
    """A pipe thread by family and size, named as its standard names it."""
    before, after, family, number = found.groups()
    text, name = before or number, (after or family).upper()
    inches = text.replace("-", " ")
    if name in ("G", "R", "RP", "RC"):
        name = name.capitalize()
        shown = f"{name} {inches}"
    else:
        shown = f"{inches} {name}"
    return Size("length", _number(text) * 25.4, None, shown, thread=name)


def _area(folded: str, found: re.Match[str]) -> Size:
    cores, sign, number = found.groups()
    area = _number(number)
    if sign:
        raise Unreadable(f"{folded} is below zero; write it without the minus")
    if not area:
        raise Unreadable(f"{folded} can't be; write what you measured")
    if area > MOST_MM2:
        raise Unreadable(f"{folded} is more than 1000 mm2, {_MOST}")
    shown = f"{cores} x {area:g} mm2" if cores else f"{area:g} mm2"
    return Size("area", None, area, shown, int(cores or 1))


def _gauge(found: re.Match[str]) -> Size:
    cores, before, after = found.groups()
    gauge, shown = gauge_from_text(before or after)
    diameter = gauge_diameter_mm(gauge)
    shown = f"{cores} x AWG {shown}" if cores else f"AWG {shown}"
    return Size("awg", diameter, round_area_mm2(diameter), shown, int(cores or 1))
