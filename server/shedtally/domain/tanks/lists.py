"""The list of tanks as data: what the server sends and the printer prints."""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.domain.lists import Spread


@dataclass(frozen=True, slots=True)
class Can:
    """One item drawn from a tank; litres and kilograms as written down or worked out, or None."""

    key: str
    name: str
    tags: tuple[str, ...]
    litres: float | None
    kg: float | None


@dataclass(frozen=True, slots=True)
class Sounded:
    """What a sounding came to. ``read`` is the reading in words; ``refused`` says why it gave none.

    ``rest`` are litres that the pump leaves, ``usable`` what it can take.
    """

    key: str
    on: str
    read: str
    full: Spread | None
    liquid: Spread | None
    sludge: Spread | None
    usable: Spread | None
    kg: Spread | None
    sludge_kg: Spread | None
    density_kg_m3: float | None
    refused: str
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Balance:
    """What was in a tank, what was drawn off, what is left: litres. None is not known.

    ``drawn`` is what was drawn between ``before`` and ``left``, ``unaccounted`` what the last
    sounding lacks beside the one before it; ``said`` names what does not add up.
    """

    before: Spread | None
    drawn: float
    left: Spread | None
    unaccounted: float | None
    said: str


@dataclass(frozen=True, slots=True)
class DipLine:
    """A level in mm on the stick, and the litres there."""

    level_mm: float
    litres: float


@dataclass(frozen=True, slots=True)
class DipTable:
    """A tank's litres by centimetre on the stick, for a tilt; empty where its shape is unknown."""

    bow_up_deg: float
    starboard_down_deg: float
    capacity_l: float
    lines: tuple[DipLine, ...]


@dataclass(frozen=True, slots=True)
class TankLine:
    """One tank: its shape, its last sounding, and its balance.

    ``refused`` says why the shape holds nothing yet; ``counts`` is the last sounding that gave
    litres. ``still_in`` is what it holds now as far as known, of which ``sludge_in`` is sludge.
    ``counted_as`` names the items that stand for it in sums of masses and of waste; without any it
    stands there by itself.
    """

    key: str
    item: str
    name: str
    tags: tuple[str, ...]
    where: tuple[str, ...]
    gone: bool
    shape: str
    liquid: str
    capacity_l: float | None
    rest_l: float | None
    refused: str
    last: Sounded | None
    counts: Sounded | None
    cans: tuple[Can, ...]
    balance: Balance
    still_in: Spread | None
    still_in_kg: Spread | None
    sludge_in: Spread | None
    counted_as: tuple[str, ...]
    dips: DipTable | None
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TankList:
    """Every tank of a boat. ``open`` names those of which nobody knows what is in them.

    ``standing`` is the line that goes with every list.
    """

    tanks: tuple[TankLine, ...]
    litres: Spread
    kg: Spread
    open: tuple[str, ...]
    cautions: tuple[str, ...]
    standing: str
