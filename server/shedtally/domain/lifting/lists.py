"""The list of lifts as data: what the server sends and the printer prints."""

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
