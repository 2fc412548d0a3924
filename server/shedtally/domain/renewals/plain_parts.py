"""Batteries, bolts, seals, anodes, lamps, pumps and the like: what makes two of them one line.

Nothing is worked out here. A size is read as far as a shop reads it, and found under its name; what
is missing is asked for, with how to measure it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from shedtally.domain.records import Item
from shedtally.domain.records.renewal import Spec
from shedtally.domain.rulebook.renewing import PartSize, PlainPart

UNITS = {"voltage_v": "V", "capacity_ah": "Ah", "load_w": "W"}
LITRES_PER_US_GALLON = 3.785411784
LITRES_PER_UK_GALLON = 4.54609
_FOLD = str.maketrans({"\u00d7": "x", "*": "x", "\u201d": '"', "\u2033": '"', "\u2011": "-"})
_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_FLOW = re.compile(
    r"([0-9]+(?:[.,][0-9]+)?)\s*(l/min|lpm|litres a minute|l/h|lph|gph|us gph|uk gph|gpm)"
)
# Litres a minute for one of each; where nobody says whose gallon, it is the American one.
_A_MINUTE = {
    **dict.fromkeys(("l/min", "lpm", "litres a minute"), 1.0),
    **dict.fromkeys(("l/h", "lph"), 1 / 60),
    **dict.fromkeys(("gph", "us gph"), LITRES_PER_US_GALLON / 60),
    "uk gph": LITRES_PER_UK_GALLON / 60,
    "gpm": LITRES_PER_US_GALLON,
}


def details_of(item: Item, part: PlainPart) -> tuple[str, ...]:
    """The fields that count besides size and material, in words: ``12 V``, ``110 Ah``.

    A field that nobody wrote is left out, so what is half written stays apart from what is whole.
    """
    found = ((name, getattr(item, name)) for name in part.by if name in UNITS)
    return tuple(f"{value:g} {UNITS[name]}" for name, value in found if value is not None)


def sized(text: str, part: PlainPart) -> tuple[str, PartSize | None]:
    """A size as it is sold, and the row of the rules that it is; as typed where it is none.

    Reads a name of the rules with or without a length after it (``m8x40``, ``LN2``), or measures
    with crosses between them. A flow is shown in litres a minute, which is how ISO 8849 rates.
    """
    folded = " ".join(text.translate(_FOLD).lower().split())
    folded = re.sub(r"(?<=[0-9a-z\"])\s*x\s*(?=[0-9])", " x ", folded)
    if part.flow and (found := _FLOW.fullmatch(folded)):
        return f"{_value(found[1]) * _A_MINUTE[found[2]]:.3g} l/min", None
    head, cross, rest = folded.partition(" x ")
    for row in part.sizes:
        if folded in row.words or head in row.words:
            return (f"{row.name} x {_plain(rest)}" if cross else row.name), row
    return _by_measures(folded, text, part)


def _by_measures(folded: str, text: str, part: PlainPart) -> tuple[str, PartSize | None]:
    bare = folded.removesuffix("mm").strip()
    found = [one.strip().removesuffix("mm").strip() for one in bare.split(" x ")]
    if len(found) not in part.numbers or not all(map(_NUMBER.fullmatch, found)):
        return text.strip(), None
    values = tuple(map(_value, found))
    for row in part.sizes:
        if part.within_mm and len(row.measures) == len(values):
            gaps = (abs(a - b) for a, b in zip(row.measures, values, strict=True))
            if max(gaps) <= part.within_mm:
                return row.name, row
    return " x ".join(f"{value:g}" for value in values) + " mm", None


def readable(text: str, part: PlainPart) -> bool:
    """Whether a size can be ordered by: anything where the part has no measures of its own."""
    shown, row = sized(text, part)
    if row is not None or not part.numbers:
        return True
    head = shown.partition(" x ")[0]
    return len(shown.split(" x ")) in part.numbers and any(map(str.isdigit, head))


def missing(item: Item, part: PlainPart, spec: Spec | None) -> str:
    """What is asked while something is missing that it can't be bought without; else empty."""
    fixed = spec is not None and bool(spec.size or spec.standard or spec.note or spec.material)
    if fixed or not part.ask:
        return ""
    if (part.named or part.numbers) and not (item.size and readable(item.size, part)):
        return part.ask
    return part.ask if any(getattr(item, name) is None for name in part.by) else ""


def said(text: str, part: PlainPart, spec: Spec | None) -> Iterator[str]:
    """What helps to order it: its measures by name, what to ask for, else how to measure it."""
    row = sized(text, part)[1] if text else None
    if row is not None:
        yield f"{row.name}: {row.about}."
    if made := _made_for(text, part):
        yield f"Made as {' or '.join(made)}."
    if spec is None or not spec.standard:
        if part.standards:
            yield f"Ask for: {', '.join(part.standards)}."
        if spec is None and row is None:
            yield f"Measure: {part.measure}" if part.ask else part.measure


def _made_for(text: str, part: PlainPart) -> list[str]:
    """The sizes that go from below to above a rating: a blade fuse of 20 A is made in three."""
    found = _NUMBER.match(text)
    rating = _value(found[0]) if found else 0.0
    spans = (row for row in part.sizes if row.span)
    return [row.name for row in spans if row.measures[0] <= rating <= row.measures[1]]


def _value(text: str) -> float:
    return float(text.replace(",", "."))


def _plain(text: str) -> str:
    """``40mm`` as ``40``; inches stay as they are."""
    return re.sub(r"\s*mm$", "", text)
