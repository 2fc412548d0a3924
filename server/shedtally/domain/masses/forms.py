"""The volume of a thing by its form and sizes, and why sizes were of no use.

Each function reads an item and returns cubic metres (or litres, or watt hours), or None where a
size is missing or can't be; `not_used` then says which and what would do. They return rather than
raise because a hundred thousand items are asked, and most have no sizes at all.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import TypeAlias

from shedtally.domain.records import Item
from shedtally.domain.records.words import Form

Measure: TypeAlias = Callable[[Item], float | None]

QUARTER_PI = math.pi / 4
M3 = 1e-9


def box_m3(item: Item) -> float | None:
    """Plate, flat bar, board: length, width and thickness."""
    length, width, thickness = item.length_mm, item.width_mm, item.thickness_mm
    if length and width and thickness:
        return length * width * thickness * M3
    return None


def litres(item: Item) -> float | None:
    """The content itself, 0 too: an empty can holds nothing."""
    return item.volume_l


def length_m(item: Item) -> float | None:
    """Length of a run whose section is known from its size."""
    return item.length_mm * 1e-3 if item.length_mm else None


def length_of_usual_wall_m(item: Item) -> float | None:
    """Length of a pipe whose own wall nobody measured."""
    return None if item.thickness_mm else length_m(item)


def watt_hours(item: Item) -> float | None:
    """Capacity by the voltage that is written down."""
    volts, hours = item.voltage_v, item.capacity_ah
    return volts * hours if volts and hours else None


def amp_hours(item: Item) -> float | None:
    """Capacity alone."""
    return item.capacity_ah or None


def one(_: Item) -> float | None:
    """A thing that is only known to be one of its kind."""
    return 1.0


def round_m3(diameter_mm: float) -> Measure:
    """Round bar, or a solid cylinder: diameter and length."""
    area = QUARTER_PI * diameter_mm**2 * M3

    def volume(item: Item) -> float | None:
        return item.length_mm * area if item.length_mm else None

    return volume


def tube_m3(diameter_mm: float) -> Measure:
    """Pipe: outside diameter, its own wall, length."""

    def volume(item: Item) -> float | None:
        length, wall = item.length_mm, item.thickness_mm
        if not length or not wall or 2 * wall > diameter_mm:
            return None
        return math.pi * (diameter_mm - wall) * wall * length * M3

    return volume


def hose_m3(bore_mm: float, outside_mm: float) -> Measure:
    """Hose: the bore by its size, the outside as measured."""
    area = QUARTER_PI * (outside_mm**2 - bore_mm**2) * M3

    def volume(item: Item) -> float | None:
        return item.length_mm * area if item.length_mm else None

    return volume


def cylinder_m3(diameter_mm: float) -> Measure:
    """Cylinder: solid, or with a wall all round (both ends flat and of the same wall)."""

    def volume(item: Item) -> float | None:
        length, wall = item.length_mm or item.height_mm, item.thickness_mm
        if not length:
            return None
        full = QUARTER_PI * diameter_mm**2 * length
        if not wall:
            return full * M3
        if 2 * wall > min(diameter_mm, length):
            return None
        return (full - QUARTER_PI * (diameter_mm - 2 * wall) ** 2 * (length - 2 * wall)) * M3

    return volume


def shell_m3(item: Item) -> float | None:
    """Tank shell: six plates of one wall, by the outside sizes."""
    length, width, height = item.length_mm, item.width_mm, item.height_mm
    wall = item.thickness_mm
    if not length or not width or not height or not wall:
        return None
    if 2 * wall > min(length, width, height):
        return None
    inside = (length - 2 * wall) * (width - 2 * wall) * (height - 2 * wall)
    return (length * width * height - inside) * M3


def cored_kg(skin_density: float, core_density: float) -> Measure:
    """Kilograms of a panel of two skins and a core; ``thickness_mm`` is all of it."""

    def mass(item: Item) -> float | None:
        length, width, thickness = item.length_mm, item.width_mm, item.thickness_mm
        core = item.core_mm
        if not length or not width or not thickness or core is None or core > thickness:
            return None
        return length * width * M3 * ((thickness - core) * skin_density + core * core_density)

    return mass


_NEEDS: Mapping[Form, tuple[str, ...]] = {
    "plate": ("length_mm", "width_mm", "thickness_mm"),
    "flat bar": ("length_mm", "width_mm", "thickness_mm"),
    "board": ("length_mm", "width_mm", "thickness_mm"),
    "cored panel": ("length_mm", "width_mm", "thickness_mm", "core_mm", "core_material"),
    "tank shell": ("length_mm", "width_mm", "height_mm", "thickness_mm"),
    "round bar": ("length_mm", "diameter"),
    "pipe": ("length_mm", "diameter"),
    "cylinder": ("length or height", "diameter"),
    "hose": ("length_mm", "bore"),
    "cable": ("length_mm", "conductor"),
}
_SAID = {"length_mm": "length", "width_mm": "width", "height_mm": "height"} | {
    "thickness_mm": "thickness",
    "core_mm": "thickness of the core",
    "core_material": "material of the core",
    "diameter": "diameter",
    "bore": "size (the bore)",
    "conductor": "size (AWG or mm2)",
    "length or height": "length",
}


def not_used(item: Item, form: Form, diameter_mm: float | None) -> str:
    """Why the sizes of an item gave no mass, and what range would do; '' where none is given.

    Args: diameter_mm: as written, or by its size; None where neither can be read.
    """
    given = {
        "diameter": diameter_mm,
        "bore": diameter_mm,
        "conductor": item.size,
        "length or height": item.length_mm or item.height_mm,
    }
    values = {name: given.get(name, getattr(item, name, None)) for name in _NEEDS[form]}
    if all(value is None for value in values.values()):
        return ""
    nothing = [name for name, value in values.items() if value == 0 and name != "core_mm"]
    if nothing:
        return f"A {_SAID[nothing[0]]} of 0 can't be: it must be more than 0 mm."
    if wrong := _too_thick(item, form, diameter_mm):
        return wrong
    missing = [_SAID[name] for name, value in values.items() if value is None]
    return f"A {form} is worked out once its {' and '.join(missing)} is known." if missing else ""


def _too_thick(item: Item, form: Form, diameter_mm: float | None) -> str:
    wall = item.thickness_mm
    if wall is None:
        return ""
    if form == "cored panel":
        if item.core_mm is not None and item.core_mm > wall:
            return f"No core of {item.core_mm:g} mm is in a panel of {wall:g} mm: 0 to {wall:g} mm."
        return ""
    around = {
        "pipe": (diameter_mm,),
        "cylinder": (diameter_mm, item.length_mm or item.height_mm),
        "tank shell": (item.length_mm, item.width_mm, item.height_mm),
    }.get(form, ())
    narrow = min((mm for mm in around if mm), default=None)
    if narrow is None or 2 * wall <= narrow:
        return ""
    return (
        f"A wall of {wall:g} mm is more than half of {narrow:g} mm: it can be up to "
        f"{narrow / 2:g} mm."
    )
