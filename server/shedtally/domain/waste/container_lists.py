"""The lists about containers and handovers, as phones and printing read them."""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.domain.lists import Ban, Spread, WasteList


@dataclass(frozen=True, slots=True)
class Fault:
    """What can't be right, and what to do; ``of`` is a table and a key: ``container/key``."""

    of: str
    name: str
    say: str
    do: str


@dataclass(frozen=True, slots=True)
class BoxLine:
    """One thing in a container; ``volume_l`` None: nobody said."""

    key: str
    name: str
    tags: tuple[str, ...]
    count: int
    mass: Spread
    stream: str
    volume_l: float | None
    since: str


@dataclass(frozen=True, slots=True)
class BoxView:
    """A container with what is in it. Masses are kg, volumes litres, shares 0 to 1 and above.

    ``inside`` is the weighed content where there is one, else the sum of the lines. ``filled`` is
    the share of the volume: what somebody saw, else the litres that are known; None: neither.
    ``without_litres`` counts lines that say no volume. ``loaded`` is the share of the mass limit
    by the likely mass, ``loaded_high`` by the high one.
    """

    key: str
    name: str
    sort: str
    tags: tuple[str, ...]
    stream: str
    stream_name: str
    place: str
    capacity_l: float | None
    limit_kg: float | None
    tare_kg: float | None
    inside: Spread
    litres: float
    without_litres: int
    filled: float | None
    loaded: float | None
    loaded_high: float | None
    opened: str
    closed: str
    gone: bool
    handover: str
    lines: tuple[BoxLine, ...]
    bans: tuple[Ban, ...]
    faults: tuple[Fault, ...]
    cautions: tuple[str, ...]
    keep_in: str


@dataclass(frozen=True, slots=True)
class BoxList:
    """All containers: those that stand here first, then those that have gone."""

    boxes: tuple[BoxView, ...]


@dataclass(frozen=True, slots=True)
class Papers:
    """What was written about a handover: the day (ISO 8601), who took and who carried it."""

    on: str
    to: str
    carrier: str
    document: str
    note: str


@dataclass(frozen=True, slots=True)
class FrozenList:
    """The list of a handover as it was when it left. ``digest`` is SHA-256 over the kept bytes.

    ``waste`` holds only what went, ``papers`` what was written about it then; ``edition`` and
    ``rules_version`` are those used.
    """

    digest: str
    papers: Papers
    frozen_at: str
    rule_set_name: str
    edition: str
    rules_version: str
    waste: WasteList


@dataclass(frozen=True, slots=True)
class CorrectionLine:
    """What somebody wrote after the list had gone."""

    key: str
    on: str
    who: str
    text: str
    name: str
    mass_kg: float | None


@dataclass(frozen=True, slots=True)
class HandoverView:
    """A handover. While ``frozen`` is None, ``waste`` is its list as it stands now."""

    key: str
    on: str
    to: str
    carrier: str
    document: str
    note: str
    sealed: bool
    frozen: FrozenList | None
    waste: WasteList | None
    corrections: tuple[CorrectionLine, ...]
    bans: tuple[Ban, ...]
    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class HandoverList:
    """All handovers, the latest first."""

    handovers: tuple[HandoverView, ...]
