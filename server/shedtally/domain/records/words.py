"""What the records are made of: their base, the words to choose from, and units with limits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal, TypeAlias

from shedtally.domain.records.shape import Range, Text

Condition: TypeAlias = Literal["sound", "serviceable", "worn", "failed", "unknown"]
Whereabouts: TypeAlias = Literal["aboard", "ashore", "gone"]
Fate: TypeAlias = Literal["undecided", "refit", "renew", "sell", "scrap", "waste"]
Side: TypeAlias = Literal["port", "centre", "starboard", "across"]
Level: TypeAlias = Literal["aloft", "deck", "cabin", "under sole"]
Holder: TypeAlias = Literal["household", "business"]
MassHow: TypeAlias = Literal["weighed", "plate", "calculated", "guessed"]
Finding: TypeAlias = Literal["found", "not found"]
Pcb: TypeAlias = Literal["found", "not found", "made after 1980"]
Refrigerant: TypeAlias = Literal["CFC, HCFC or HFC", "hydrocarbon", "ammonia", "recovered"]
Filling: TypeAlias = Literal["halon", "powder", "foam", "water", "carbon dioxide"]
Liquid: TypeAlias = Literal[
    "diesel", "petrol", "mixed fuel", "oil", "coolant", "solvent", "acid or lye", "water"
]
Soak: TypeAlias = Literal["mineral oil", "drying oil", "solvent", "fuel", "water", "clean"]
Task: TypeAlias = Literal["make safe", "scrape", "grind", "clean", "other"]
Water: TypeAlias = Literal["sea", "brackish", "fresh"]
Form: TypeAlias = Literal[
    "plate",
    "round bar",
    "flat bar",
    "pipe",
    "hose",
    "cable",
    "board",
    "cored panel",
    "cylinder",
    "tank shell",
]
TankShape: TypeAlias = Literal[
    "box", "wedge", "v-bottom", "lying cylinder", "standing cylinder", "dip table"
]
TankEnds: TypeAlias = Literal["flat", "dished", "torispherical 6 %", "torispherical 10 %"]
Duty: TypeAlias = Literal["hours", "at times", "seconds"]
ThreadFamily: TypeAlias = Literal["G", "Rp", "R", "Rc", "NPS", "NPT", "metric", "unified"]
Toil: TypeAlias = Literal["light", "steady", "hard"]
Sounded: TypeAlias = Literal["dip", "ullage", "sight"]

Millimetres: TypeAlias = Annotated[float, Range(0, 50_000, "mm")]
Metres: TypeAlias = Annotated[float, Range(0, 200, "m")]
SignedMetres: TypeAlias = Annotated[float, Range(-200, 200, "m")]
Degrees: TypeAlias = Annotated[float, Range(-45, 45, "°")]
Share: TypeAlias = Annotated[float, Range(0, 1, "share")]
Celsius: TypeAlias = Annotated[float, Range(-60, 150, "°C")]
KgPerCubicMetre: TypeAlias = Annotated[float, Range(1, 25_000, "kg/m3")]
Kilograms: TypeAlias = Annotated[float, Range(0, 100_000, "kg")]
Litres: TypeAlias = Annotated[float, Range(0, 100_000, "L")]
Hours: TypeAlias = Annotated[float, Range(0, 10_000, "h")]
HoursOfADay: TypeAlias = Annotated[float, Range(0, 24, "h")]
Short: TypeAlias = Annotated[str, Text(200)]
Long: TypeAlias = Annotated[str, Text(4_000)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """What every table has: its key, and the mark that puts it in the bin."""

    key: str
    binned: bool | None = None
