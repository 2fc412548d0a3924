"""Reading the demo boat as it was written down: TOML by hand, one name in brackets a record."""

from __future__ import annotations

import datetime as dt
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Any, TypeAlias

Row: TypeAlias = Mapping[str, Any]
Rows: TypeAlias = Mapping[str, Row]

INSTALLED = "demo_boat"


@dataclass(frozen=True)
class Source:
    """The demo boat in words; rows keep the names of the files, see `fixtures/README.md`."""

    folder: Path
    boat: Row
    phones: Mapping[str, str]
    compartments: Rows
    places: Rows
    items: Rows
    sittings: tuple[Row, ...]
    summer_time_ends: dt.date
    handovers: Rows
    containers: Rows
    corrections: tuple[Row, ...]
    mixings: tuple[Row, ...]
    edits: tuple[Row, ...]
    remarks: tuple[Row, ...]
    jobs: Rows
    befores: tuple[tuple[str, str, str], ...]
    pinned: Rows
    prices: Rows
    quoted: tuple[Row, ...]
    specs: tuple[Row, ...]
    purchases: tuple[Row, ...]
    leftovers: Rows
    new_parts: tuple[Row, ...]
    weighings: Rows
    tanks: Rows
    soundings: Rows
    lifts: Rows
    eyes: Rows
    bolted: Mapping[str, tuple[str, ...]]

    def photograph(self, item: str, number: int) -> Path:
        """The file of an item's photograph, counted from 1; it need not exist."""
        return self.folder / "photographs" / f"{item}-{number}.jpg"

    def photograph_of_place(self, compartment: str) -> Path:
        """The file of a compartment's photograph; it need not exist."""
        return self.folder / "photographs" / f"place-{compartment}.jpg"


def demo_source() -> Path:
    """The folder of the demo boat: in the installed package, or in a checkout.

    Raises: FileNotFoundError, when this copy came without it.
    """
    installed = resources.files("shedtally").joinpath(INSTALLED)
    checkout = Path(__file__).parents[3] / "fixtures" / "demo"
    for folder in (Path(str(installed)), checkout):
        if (folder / "boat.toml").is_file():
            return folder
    message = f"the demo boat is neither in {installed} nor in {checkout}"
    raise FileNotFoundError(message)


def read(folder: Path) -> Source:
    """Read the demo boat in ``folder``.

    Raises: OSError; tomllib.TOMLDecodeError; KeyError for a part that is missing.
    """
    boat, diary, work, buying = (
        _toml(folder / f"{name}.toml") for name in ("boat", "diary", "jobs", "buying")
    )
    return Source(
        folder=folder,
        boat=boat["boat"],
        phones=boat["phones"],
        compartments=boat["compartments"],
        places=boat["places"],
        items=_items(folder / "items"),
        sittings=tuple(diary["sitting"]),
        summer_time_ends=diary["summer_time_ends"],
        handovers=diary["handovers"],
        containers=diary["containers"],
        corrections=tuple(diary["correction"]),
        mixings=tuple(diary["mixing"]),
        edits=tuple(diary["edit"]),
        remarks=tuple(diary["remark"]),
        jobs=work["jobs"],
        befores=tuple((first, then, why) for first, then, why in work["befores"]["order"]),
        pinned=_toml(folder / "pins.toml"),
        prices=buying["prices"],
        quoted=tuple(buying["quoted"]),
        specs=tuple(buying["spec"]),
        purchases=tuple(buying["purchase"]),
        leftovers=buying["leftovers"],
        new_parts=tuple(buying["new_part"]),
        weighings=_toml(folder / "weighings.toml")["weighings"],
        tanks=_toml(folder / "tanks.toml")["tanks"],
        soundings=_toml(folder / "tanks.toml")["soundings"],
        lifts=_toml(folder / "lifts.toml")["lifts"],
        eyes=_toml(folder / "lifts.toml")["eyes"],
        bolted=_toml(folder / "lifts.toml")["bolted"],
    )


def _items(folder: Path) -> dict[str, Row]:
    found: dict[str, Row] = {}
    for path in sorted(folder.glob("*.toml")):
        rows = _toml(path)
        twice = found.keys() & rows.keys()
        if twice:
            message = f"{path.name} names {', '.join(sorted(twice))} a second time"
            raise ValueError(message)
        found.update(rows)
    return found


def _toml(path: Path) -> dict[str, Any]:
    with path.open("rb") as file:
        return tomllib.load(file)
