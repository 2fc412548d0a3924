"""The records that masses rest on: weighings, tanks and soundings, lifts and their eyes.

They are tables like those of `__init__.py`, which lists them all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from shedtally.domain.records.shape import Moment, Range, Ref, Target
from shedtally.domain.records.words import (
    Celsius,
    Degrees,
    KgPerCubicMetre,
    Kilograms,
    Litres,
    Long,
    Millimetres,
    Record,
    Short,
    SignedMetres,
    Sounded,
    TankEnds,
    TankShape,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighing(Record):
    """What a scale showed: one item, a container, or a crate whose contents `Weighed` names."""

    of: Annotated[str, Target("item", "container", "place")] | None = None
    on: Annotated[str, Moment()] | None = None
    gross_kg: Kilograms | None = None
    tare_kg: Kilograms | None = None
    division_kg: Kilograms | None = None
    note: Long | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed(Record):
    """One of the items that were on the scale together."""

    weighing: Annotated[str, Ref("weighing")] | None = None
    item: Annotated[str, Ref("item")] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tank(Record):
    """The inside of an item that holds a liquid; the item is its shell.

    Sizes are inside ones. ``length_mm`` is without dished ends; of a standing cylinder it is the
    height between them. ``height_mm`` is over all, ``v_height_mm`` the V's part of it, and
    ``bottom_width_mm`` the flat floor. ``lies`` says where the length points, ``along`` if not
    said. The dip pipe stands ``pipe_from_end_mm`` from the forward end (port end if it lies
    across) and ``pipe_from_side_mm`` from the port side (forward side), in the middle if not said;
    ``pipe_top_mm`` is the height of the mark for ullage over the tank's lowest point. ``liquid``
    is an id of the rules.
    """

    of: Annotated[str, Ref("item")] | None = None
    shape: TankShape | None = None
    ends: TankEnds | None = None
    length_mm: Millimetres | None = None
    width_mm: Millimetres | None = None
    bottom_width_mm: Millimetres | None = None
    height_mm: Millimetres | None = None
    v_height_mm: Millimetres | None = None
    diameter_mm: Millimetres | None = None
    dish_mm: Millimetres | None = None
    lies: Literal["along", "across"] | None = None
    pipe_from_end_mm: Millimetres | None = None
    pipe_from_side_mm: Millimetres | None = None
    pipe_top_mm: Millimetres | None = None
    unpumpable_l: Litres | None = None
    liquid: Short | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DipMark(Record):
    """One line of a tank's own dip table."""

    tank: Annotated[str, Ref("tank")] | None = None
    level_mm: Millimetres | None = None
    volume_l: Litres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sounding(Record):
    """A level as read, with the boat's attitude: bow up and starboard down count up.

    ``level_mm`` is what a stick shows wet (dip), the empty height under the mark (ullage), or a
    gauge over the tank's lowest point (sight). ``sludge_mm`` is its depth over the floor; the
    density is at 15 °C.
    """

    tank: Annotated[str, Ref("tank")] | None = None
    on: Annotated[str, Moment()] | None = None
    how: Sounded | None = None
    level_mm: Millimetres | None = None
    sludge_mm: Millimetres | None = None
    bow_up_deg: Degrees | None = None
    starboard_down_deg: Degrees | None = None
    temperature_c: Celsius | None = None
    density_kg_m3: KgPerCubicMetre | None = None
    note: Long | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift(Record):
    """One lift: what hangs on the hook, and what it hangs by; `Eye` names the points.

    ``measured_from`` names a point of the load itself, like the flywheel end; lengths of the lift
    and its eyes are then from there, else from the boat's own points. ``centre_`` is the middle of
    mass of the load with all its parts, ``hook_`` the hook with the slings taut.
    """

    of: Annotated[str, Ref("item")] | None = None
    name: Short | None = None
    on: Annotated[str, Moment()] | None = None
    measured_from: Short | None = None
    centre_aft_m: SignedMetres | None = None
    centre_off_m: SignedMetres | None = None
    centre_up_m: SignedMetres | None = None
    centre_sure_m: Annotated[float, Range(0, 5, "m")] | None = None
    hook_aft_m: SignedMetres | None = None
    hook_off_m: SignedMetres | None = None
    hook_up_m: SignedMetres | None = None
    hook_rated_kg: Kilograms | None = None
    leg_rated_kg: Kilograms | None = None
    note: Long | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye(Record):
    """A lifting eye, measured from where its lift is."""

    lift: Annotated[str, Ref("lift")] | None = None
    name: Short | None = None
    aft_m: SignedMetres | None = None
    off_m: SignedMetres | None = None
    up_m: SignedMetres | None = None
    rated_kg: Kilograms | None = None
