"""The lists of lifts and of trim as data: what the server sends and the printer prints."""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.domain.lists import Spread


@dataclass(frozen=True, slots=True)
class Reach:
    """A figure that is no mass: low, likely and high."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class OnHook:
    """What adds to a load (``sign`` 1), comes off it (-1) or is in it already (0), and why."""

    key: str
    name: str
    sign: int
    mass: Spread
    why: str


@dataclass(frozen=True, slots=True)
class LiftLeg:
    """One leg: length in m, angle from the vertical, and what it pulls against what it may.

    ``most_kg`` is with the high mass, the allowance for jerks, and the middle of mass where it is
    worst for this leg. ``rated_kg`` None: nobody wrote it. ``from_aft_m`` ... place the eye.
    """

    eye: str
    name: str
    aft_m: float
    off_m: float
    up_m: float
    length_m: float
    angle_deg: float
    tension_kg: float
    most_kg: float
    rated_kg: float | None
    verdict: str


@dataclass(frozen=True, slots=True)
class LiftLine:
    """One lift. ``refused`` says why there are no legs, and what would do; the entry is kept."""

    key: str
    name: str
    item: str
    item_name: str
    tags: tuple[str, ...]
    on: str
    refused: str
    mass: Spread
    why: str
    parts: tuple[OnHook, ...]
    centre: tuple[Reach, ...]
    centre_how: str
    hook: tuple[float, ...]
    measured_from: str
    hook_kg: float
    hook_rated_kg: float | None
    hook_verdict: str
    tilt_deg: float
    swing_m: float
    legs: tuple[LiftLeg, ...]
    outside: str
    warnings: tuple[str, ...]
    asks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LiftList:
    """All lifts, the cautions that come before them, and sources."""

    lifts: tuple[LiftLine, ...]
    cautions: tuple[str, ...]
    dynamic: float
    sources: tuple[str, ...]


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
