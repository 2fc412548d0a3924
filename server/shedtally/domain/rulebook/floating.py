"""The shapes of `rules/floating.toml`: slings and hooks, and how a boat floats."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple


class Share(NamedTuple):
    """A figure as low, likely and high."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class Uniform:
    """Times the rating of one leg, by number of legs, up to an angle from the vertical."""

    legs: int
    to_deg: float
    times: float


@dataclass(frozen=True, slots=True)
class LiftRules:
    """Limits of slings: angles from the vertical in degrees; ``dynamic`` multiplies the mass.

    ``centre_sure_share``: how far an estimated middle of mass may be off, by the load's longest
    measure between eyes.
    """

    most_angle_deg: float
    wide_angle_deg: float
    dynamic: float
    centre_sure_share: float
    tilt_said_deg: float
    most_tilt_deg: float
    uniform: tuple[Uniform, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FloatRules:
    """Shares that stand in for a boat's lines, densities in kg/m3, and limits of the formulas."""

    waterline_of_length: Share
    waterline_of_beam: Share
    area_share: Share
    centre_aft: Share
    inertia: Share
    entered_sure: float
    list_deg: float
    trim_deg: float
    share_of_displacement: float
    share_of_draught: float
    list_spread_deg: float
    water: Mapping[str, Share]
    sources: tuple[str, ...]
