"""The list of trim as data: what the server sends and the printer prints."""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.domain.lifting.lists import Reach


@dataclass(frozen=True, slots=True)
class FloatFact:
    """One figure of how the boat floats, and whether it was entered or estimated."""

    name: str
    unit: str
    value: Reach
    how: str


@dataclass(frozen=True, slots=True)
class Moved:
    """One item in the ledger: kg off below 0, on above 0, and where it sat."""

    key: str
    name: str
    tags: tuple[str, ...]
    kg: float
    low_kg: float
    high_kg: float
    aft_m: float
    off_m: float
    how: str


@dataclass(frozen=True, slots=True)
class Floats:
    """How she floats in one state of the work, against how she floated with everything aboard.

    Centimetres deeper above 0; ``list_deg`` to starboard above 0. None: not reckoned, for the
    reasons in ``refused``; mass and moments are there all the same.
    """

    id: str
    name: str
    mass: Reach
    sinkage_cm: Reach | None
    trim_cm: Reach | None
    fore_cm: Reach | None
    aft_cm: Reach | None
    draught_fore_m: float | None
    draught_aft_m: float | None
    list_deg: Reach | None
    refused: tuple[str, ...]
    moved: tuple[Moved, ...]


@dataclass(frozen=True, slots=True)
class BoatShape:
    """What the picture is drawn from, in m; None: not known, and then ``missing`` names it."""

    length_m: float | None
    beam_m: float | None
    draught_m: float | None
    overhang_m: float | None
    waterline_m: float | None


@dataclass(frozen=True, slots=True)
class TrimList:
    """How she floats now, and how she will after the work."""

    water: str
    facts: tuple[FloatFact, ...]
    states: tuple[Floats, ...]
    shape: BoatShape
    missing: tuple[str, ...]
    warnings: tuple[str, ...]
    sources: tuple[str, ...]
