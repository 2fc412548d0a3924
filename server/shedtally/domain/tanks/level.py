"""From a level as somebody read it to litres in the tank, with what they are uncertain by."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from shedtally.domain.lists import Spread
from shedtally.domain.masses.section import OutOfRange
from shedtally.domain.records import DipMark, Sounding, Tank
from shedtally.domain.rulebook import Reading
from shedtally.domain.tanks import forms as tank_forms
from shedtally.domain.tanks.shape import Round, Surface, TankShape


@dataclass(frozen=True, slots=True)
class Tilt:
    """How the boat stood, in degrees as a level shows them along and across."""

    bow_up_deg: float = 0.0
    starboard_down_deg: float = 0.0

    def slopes(self, *, across: bool) -> tuple[float, float]:
        """Slopes of a surface along and across a tank whose length lies so.

        Along counts aft (to starboard if it lies across), across to starboard (aft).
        """
        aft = math.sin(math.radians(self.bow_up_deg))
        starboard = math.sin(math.radians(self.starboard_down_deg))
        up = math.sqrt(max(1e-6, 1 - aft * aft - starboard * starboard))
        slopes = (aft / up, starboard / up)
        return (slopes[1], slopes[0]) if across else slopes


@dataclass(frozen=True, slots=True)
class Level:
    """What one sounding says: litres of everything, of the sludge, and of the liquid over it."""

    full: Spread
    sludge: Spread
    liquid: Spread
    assumed: tuple[str, ...]


def shape_of(tank: Tank, marks: Iterable[DipMark]) -> TankShape:
    """The inside of a tank from its sizes, or from its dip table.

    Raises: OutOfRange: a size is missing or can't be, or the table falls; the sentence says which.
    """
    if tank.shape is None:
        raise OutOfRange("its shape is not chosen yet")
    return _MAKERS[tank.shape](tank, marks)


def _box(tank: Tank, marks: Iterable[DipMark]) -> TankShape:
    del marks
    return tank_forms.box(
        _size(tank.length_mm, "length"),
        _size(tank.width_mm, "width"),
        _size(tank.height_mm, "height"),
    )


def _wedge(tank: Tank, marks: Iterable[DipMark]) -> TankShape:
    del marks
    return tank_forms.wedge(
        _size(tank.length_mm, "length"),
        tank.bottom_width_mm or 0.0,
        _size(tank.width_mm, "width at the top"),
        _size(tank.height_mm, "height"),
    )


def _v_bottom(tank: Tank, marks: Iterable[DipMark]) -> TankShape:
    del marks
    return tank_forms.v_bottom(
        _size(tank.length_mm, "length"),
        _size(tank.width_mm, "width"),
        _size(tank.height_mm, "height"),
        _size(tank.v_height_mm, "height of the V"),
        tank.bottom_width_mm or 0.0,
    )


def _cylinder(tank: Tank, marks: Iterable[DipMark]) -> TankShape:
    del marks
    return tank_forms.cylinder(
        _size(tank.diameter_mm, "diameter"),
        _size(tank.length_mm, "length without the ends"),
        tank.ends or "flat",
        tank.dish_mm,
        standing=tank.shape == "standing cylinder",
    )


def _table(tank: Tank, marks: Iterable[DipMark]) -> TankShape:
    rows = [
        (mark.level_mm, mark.volume_l)
        for mark in marks
        if mark.tank == tank.key and mark.level_mm is not None and mark.volume_l is not None
    ]
    return tank_forms.dip_table(rows)


_MAKERS: dict[str, Callable[[Tank, Iterable[DipMark]], TankShape]] = {
    "box": _box,
    "wedge": _wedge,
    "v-bottom": _v_bottom,
    "lying cylinder": _cylinder,
    "standing cylinder": _cylinder,
    "dip table": _table,
}


def _size(value: float | None, name: str) -> float:
    if value is None:
        raise OutOfRange(f"its {name} is not measured yet")
    return value


def level_of(tank: Tank, shape: TankShape, sounding: Sounding, reading: Reading) -> Level:
    """Litres by one sounding.

    Independent errors are added in squares, each side by itself: the level as read, the sizes (or
    the dip table), the tilt.

    Raises: OutOfRange: no level; a level over the tank or under its floor, sludge over the level.
    """
    height = _height(tank, shape, sounding, sounding.level_mm, "level")
    tilt = Tilt(sounding.bow_up_deg or 0.0, sounding.starboard_down_deg or 0.0)
    full = _spread(tank, shape, sounding, reading, (height, tilt))
    if sounding.sludge_mm is None or sounding.sludge_mm == 0:
        nothing = Spread(0.0, 0.0, 0.0, "calculated")
        return Level(full, nothing, full, _assumed(tank, shape, sounding, reading))
    sludge_height = _floor(tank, shape) + sounding.sludge_mm
    if sludge_height > height:
        raise OutOfRange(
            f"the sludge reaches {sludge_height:g} mm, above the level at {height:g} mm; "
            f"sludge is 0 to {max(0.0, height - _floor(tank, shape)):g} mm here"
        )
    sludge = _spread(tank, shape, sounding, reading, (sludge_height, tilt))
    likely = full.likely - sludge.likely
    down = math.hypot(full.likely - full.low, sludge.high - sludge.likely)
    up = math.hypot(full.high - full.likely, sludge.likely - sludge.low)
    liquid = Spread(max(0.0, likely - down), likely, likely + up, "calculated")
    return Level(full, sludge, liquid, _assumed(tank, shape, sounding, reading))


def litres_at(tank: Tank, shape: TankShape, height_mm: float, tilt: Tilt) -> float:
    """Litres when the liquid stands ``height_mm`` over the lowest point, seen at the dip pipe."""
    slope_x, slope_y = (0.0, 0.0) if tilt == Tilt() else tilt.slopes(across=tank.lies == "across")
    x, y = pipe_at(tank, shape)
    return shape.litres(Surface(height_mm - slope_x * x - slope_y * y, slope_x, slope_y))


def pipe_at(tank: Tank, shape: TankShape) -> tuple[float, float]:
    """Where the dip pipe stands, from the middle of the tank, in mm along and across.

    Raises: OutOfRange: the pipe stands outside the tank.
    """
    x = _from_middle(tank.pipe_from_end_mm, _long(tank, shape), "end")
    y = _from_middle(tank.pipe_from_side_mm, _wide(tank, shape), "side")
    return x, y


def _from_middle(from_edge: float | None, size: float, edge: str) -> float:
    if from_edge is None or size == 0:
        return 0.0
    if from_edge > size:
        raise OutOfRange(
            f"the dip pipe stands {from_edge:g} mm from the {edge}, outside the tank; "
            f"0 to {size:g} mm"
        )
    return from_edge - size / 2


def _long(tank: Tank, shape: TankShape) -> float:
    if isinstance(shape, Round) and shape.standing:
        return 2 * shape.radius_mm
    return tank.length_mm or 0.0 if tank.shape != "dip table" else 0.0


def _wide(tank: Tank, shape: TankShape) -> float:
    if isinstance(shape, Round):
        return 2 * shape.radius_mm
    return (
        max(tank.width_mm or 0.0, tank.bottom_width_mm or 0.0) if tank.shape != "dip table" else 0.0
    )


def _floor(tank: Tank, shape: TankShape) -> float:
    return shape.floor_mm(*pipe_at(tank, shape))


def _height(
    tank: Tank, shape: TankShape, sounding: Sounding, read_mm: float | None, what: str
) -> float:
    """The level over the tank's lowest point, at the dip pipe."""
    if read_mm is None:
        raise OutOfRange(f"the {what} was not written down")
    floor, top = _floor(tank, shape), tank.pipe_top_mm or shape.height_mm
    if sounding.how == "ullage":
        height, low, high = top - read_mm, top - shape.height_mm, top
    elif sounding.how == "sight":
        height, low, high = read_mm, 0.0, shape.height_mm
    else:
        height, low, high = floor + read_mm, 0.0, shape.height_mm - floor
    if not low <= read_mm <= high:
        raise OutOfRange(
            f"a {sounding.how or 'dip'} of {read_mm:g} mm is outside this tank; "
            f"it can be {max(0.0, low):g} to {high:g} mm"
        )
    return height


def _spread(
    tank: Tank, shape: TankShape, sounding: Sounding, reading: Reading, at: tuple[float, Tilt]
) -> Spread:
    height, tilt = at
    likely = litres_at(tank, shape, height, tilt)
    step = reading.level_mm[sounding.how or "dip"]
    ups, downs = [], []
    for low, high in (
        _both(tank, shape, (height - step, tilt), (height + step, tilt)),
        (likely * (1 - _share(tank, reading)), likely * (1 + _share(tank, reading))),
        *_tilted(tank, shape, sounding, reading, at),
    ):
        downs.append(max(0.0, likely - min(low, high)))
        ups.append(max(0.0, max(low, high) - likely))
    # Nothing holds more than it holds, but how much that is is no surer than its sizes.
    most = shape.capacity_l * (1 + _share(tank, reading))
    return Spread(
        max(0.0, likely - math.hypot(*downs)),
        likely,
        min(most, likely + math.hypot(*ups)),
        "calculated",
    )


def _both(
    tank: Tank, shape: TankShape, first: tuple[float, Tilt], second: tuple[float, Tilt]
) -> tuple[float, float]:
    return litres_at(tank, shape, *first), litres_at(tank, shape, *second)


def _tilted(
    tank: Tank, shape: TankShape, sounding: Sounding, reading: Reading, at: tuple[float, Tilt]
) -> Iterable[tuple[float, float]]:
    if tank.shape == "dip table":
        return ()
    height, tilt = at
    bow = _doubt(sounding.bow_up_deg, reading)
    side = _doubt(sounding.starboard_down_deg, reading)
    up, down = tilt.bow_up_deg, tilt.starboard_down_deg
    return (
        _both(tank, shape, (height, Tilt(up - bow, down)), (height, Tilt(up + bow, down))),
        _both(tank, shape, (height, Tilt(up, down - side)), (height, Tilt(up, down + side))),
    )


def _doubt(angle: float | None, reading: Reading) -> float:
    return reading.tilt_unknown_deg if angle is None else reading.tilt_deg


def _share(tank: Tank, reading: Reading) -> float:
    """How far the sizes may be off, as a share of the volume."""
    if tank.shape == "dip table":
        return reading.table_share
    sizes = (tank.length_mm, tank.diameter_mm or tank.width_mm)
    twice = 2 if tank.diameter_mm and "cylinder" in (tank.shape or "") else 1
    shares = [reading.tape_mm / size for size in sizes if size]
    return math.hypot(shares[0], twice * shares[-1]) if shares else 0.0


def _assumed(tank: Tank, shape: TankShape, sounding: Sounding, reading: Reading) -> tuple[str, ...]:
    del shape
    found = []
    if tank.shape == "dip table":
        found.append("The dip table holds for the boat as she stood when it was made.")
    elif sounding.bow_up_deg is None and sounding.starboard_down_deg is None:
        found.append(f"Taken as level, within {reading.tilt_unknown_deg:g}° either way.")
    if tank.shape != "dip table" and (
        tank.pipe_from_end_mm is None or tank.pipe_from_side_mm is None
    ):
        found.append("The dip pipe is taken to stand in the middle.")
    if sounding.how is None:
        found.append("Taken as a dip.")
    return tuple(found)
