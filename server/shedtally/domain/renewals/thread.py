"""Threads as people write them, whether two go together, and what a thread is by its measures.

Families are kept apart: what starts in another need not be tight in it.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from shedtally.domain.measures.unreadable import Unreadable
from shedtally.domain.rulebook.renewing import RenewalRules, Sex, ThreadSize

SEXES: dict[str, Sex] = {
    **dict.fromkeys(("male", "outside", "external", "ext", "m/m", "(m)"), "male"),
    **dict.fromkeys(("female", "inside", "internal", "int", "(f)"), "female"),
}
UNKNOWN = ("unknown", "?", "not known", "don't know")
HELP = (
    "write family and size, like G 3/4, R 3/4, 3/4 NPT, 3/4 NPS or M20; if you don't know it, "
    "write what you measure: 33.2 mm, 11 tpi"
)
# Common practice: calipers on a worn outside thread; a male one is often cut under its size.
MEASURED_UNDER_MM, MEASURED_OVER_MM = 0.7, 0.3
_METRIC = re.compile(r"m\s*([0-9]{1,3})(?:\s*x\s*([0-9]+(?:[.,][0-9]+)?))?")
_SIZE = r"(?:[1-9] ?[- ])?[1-9]/[1-9][0-9]?|[1-9]"
_MEASURED = re.compile(r"([0-9]+(?:[.,][0-9]+)?)\s*mm,?\s*([0-9]+(?:[.,]5)?)\s*(?:tpi|per inch)")


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread that was read. ``family`` is empty where only the series is known, as in ``BSP``.

    ``size`` is that of the tables, ``1 1/4``, or ``20 x 1.5`` of a metric one.
    """

    series: str
    family: str
    size: str
    sex: Sex = ""

    @property
    def shown(self) -> str:
        """``G 3/4``, ``3/4 NPT``, ``BSP 3/4``, ``M20 x 1.5``."""
        if self.series == "metric":
            return f"M{self.size}"
        if self.series == "NP":
            return f"{self.size} {self.family}"
        return f"{self.family or self.series} {self.size}"


def parse_thread(text: str, rules: RenewalRules) -> Thread:
    """The thread that somebody wrote, in any of the usual ways; measures are looked up.

    Raises: Unreadable: says what can't be read and what to write instead.
    """
    folded, sex = _without_sex(" ".join(text.lower().replace('"', " ").split()))
    if not folded or folded in UNKNOWN:
        raise Unreadable(f"the thread is not known; {HELP}")
    if found := _MEASURED.fullmatch(folded):
        return _by_measures(found, sex, rules)
    if found := _METRIC.fullmatch(folded):
        pitch = f" x {found[2].replace(',', '.')}" if found[2] else ""
        return Thread("metric", "metric", f"{int(found[1])}{pitch}", sex)
    for word, series, family in _words(rules):
        classes = "".join(rules.families[family].classes) if family else ""
        tail = rf"(?:\s*([{classes}]))?" if classes else "()"
        inch = r"(?:\s*in)?"
        if found := re.fullmatch(
            rf"{word}\s*({_SIZE}){inch}{tail}|({_SIZE}){inch}\s*{word}", folded
        ):
            size = _sized(found[1] or found[3], series, folded, rules)
            return _thread(series, family, size, _of_class(found[2], sex, text), rules)
    raise Unreadable(f"{text} is no thread that I know; {HELP}")


def mismatch(one: Thread, other: Thread, rules: RenewalRules) -> str:
    """Why two joined threads don't go together, in a sentence; empty if they do.

    Which is the outside one is taken as written; where nobody wrote it, both ways are tried. A
    ``BSP`` of which nobody said whether it is parallel or taper goes with any BSP.
    """
    if one.series != other.series:
        fit = rules.series.get(frozenset((one.series, other.series)))
        why = fit.say if fit else "the two are of different standards"
        return f"{one.shown} on {other.shown}: {why}."
    if one.size != other.size:
        return f"{one.shown} on {other.shown}: the sizes differ."
    if one.sex and one.sex == other.sex:
        return f"{one.shown} on {other.shown}: both are {one.sex}; a piece between them is missing."
    if one.series == "metric" or not one.family or not other.family:
        return ""
    return _by_family(one, other, rules)


@dataclass(slots=True)
class ThreadReader:
    """Reads threads and compares them as `parse_thread` and `mismatch` do, each text once.

    A boat has thousands of joints and a few dozen threads.
    """

    rules: RenewalRules
    _read: dict[str, Thread | None] = field(default_factory=dict)
    _misfits: dict[tuple[str, str], str] = field(default_factory=dict)

    def read(self, text: str) -> Thread | None:
        """The thread that somebody wrote; None where it can't be read, or nothing is written."""
        if text not in self._read:
            try:
                self._read[text] = parse_thread(text, self.rules) if text else None
            except Unreadable:
                self._read[text] = None
        return self._read[text]

    def mismatch(self, one: str, other: str) -> str:
        """Why two threads as written don't go together; empty if they do or one can't be read."""
        known = self._misfits.get((one, other))
        if known is None:
            first, second = self.read(one), self.read(other)
            known = mismatch(first, second, self.rules) if first and second else ""
            self._misfits[one, other] = known
        return known


def _by_family(one: Thread, other: Thread, rules: RenewalRules) -> str:
    found = [rules.fits.get((m.family, f.family)) for m, f in _ways(one, other)]
    if any(fit is not None and fit.tight for fit in found):
        return ""
    why = next((fit.say for fit in found if fit), "no standard joins the two")
    return f"{one.shown} on {other.shown}: {why}."


def _ways(one: Thread, other: Thread) -> Iterator[tuple[Thread, Thread]]:
    """The two as outside and inside thread, each way that can be."""
    if one.sex != "female" and other.sex != "male":
        yield one, other
    if other.sex != "female" and one.sex != "male":
        yield other, one


def identify(outside_mm: float, per_inch: float, rules: RenewalRules) -> tuple[ThreadSize, ...]:
    """The pipe threads that an outside thread with these measures may be; the nearest first.

    Args: outside_mm: over the crests; of a taper thread in its middle. per_inch: counted.
    """
    fits = [
        row
        for row in rules.sizes
        if row.per_inch == per_inch
        and -MEASURED_UNDER_MM <= outside_mm - row.major_mm <= MEASURED_OVER_MM
    ]
    return tuple(sorted(fits, key=lambda row: abs(row.major_mm - outside_mm)))


def _by_measures(found: re.Match[str], sex: Sex, rules: RenewalRules) -> Thread:
    outside, per_inch = (float(text.replace(",", ".")) for text in found.groups())
    rows = identify(outside, per_inch, rules)
    if not rows:
        raise Unreadable(f"no pipe thread has {outside:g} mm outside and {per_inch:g} to the inch")
    if len({row.series for row in rows}) > 1:
        names = " or ".join(f"{_name(row.series)} {row.size}" for row in rows)
        raise Unreadable(
            f"{outside:g} mm and {per_inch:g} to the inch may be {names}: hold a gauge of 55 and "
            "one of 60 degrees against it, and write which"
        )
    return Thread(rows[0].series, "", rows[0].size, sex)


def _name(series: str) -> str:
    return "American (NPT, NPS)" if series == "NP" else series


def _thread(series: str, family: str, size: str, sex: Sex, rules: RenewalRules) -> Thread:
    """A taper BSP thread that is said to be inside is an Rc one, however it was written."""
    family = "Rc" if family == "R" and sex == "female" else family
    only = rules.families[family].sex if family else ""
    return Thread(series, family, size, only or sex)


def _of_class(tolerance: str | None, sex: Sex, text: str) -> Sex:
    """Only outside threads have a class. Source: [ISO228]."""
    if tolerance and sex == "female":
        raise Unreadable(
            f"{text} can't be: class {tolerance.upper()} is of outside threads; leave it off an "
            "inside one"
        )
    return "male" if tolerance else sex


def _without_sex(folded: str) -> tuple[str, Sex]:
    words = folded.split()
    sex: Sex = next((SEXES[word] for word in words if word in SEXES), "")
    return " ".join(word for word in words if word not in SEXES), sex


@functools.cache
def _words_of(pairs: tuple[tuple[str, str, str], ...]) -> tuple[tuple[str, str, str], ...]:
    return tuple(sorted(pairs, key=lambda row: -len(row[0])))


def _words(rules: RenewalRules) -> tuple[tuple[str, str, str], ...]:
    """Each way to write a family, longest first; ``bsp`` alone names a series only."""
    pairs = [(word, row.series, row.id) for row in rules.families.values() for word in row.words]
    return _words_of((*pairs, ("bsp", "BSP", "")))


def _sized(text: str, series: str, folded: str, rules: RenewalRules) -> str:
    whole, _, part = text.replace("-", " ").rpartition(" ")
    value = Fraction(int(whole or 0)) + Fraction(part)
    for row in rules.sizes:
        if row.series == series and _value(row.size) == value:
            return row.size
    raise Unreadable(f"{folded} is no size of pipe thread; they go from 1/8 to 4")


def _value(size: str) -> Fraction:
    return sum((Fraction(part) for part in size.split()), start=Fraction(0))
