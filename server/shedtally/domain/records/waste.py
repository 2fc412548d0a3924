"""The records of waste on its way: containers, handovers, and what was said about them.

They are tables like those of `__init__.py`, which lists them all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from shedtally.domain.records.shape import Moment, Range, Ref, Target
from shedtally.domain.records.words import Kilograms, Litres, Long, Record, Short


@dataclass(frozen=True, slots=True, kw_only=True)
class Container(Record):
    """A drum, can, bin or tray that holds one waste stream.

    ``sort`` is a word of the list or one's own, ``limit_kg`` the most that may be in it,
    ``filled_percent`` how full it looked.
    """

    name: Short | None = None
    sort: Short | None = None
    stream: Short | None = None
    place: Annotated[str, Ref("place")] | None = None
    capacity_l: Litres | None = None
    limit_kg: Kilograms | None = None
    filled_percent: Annotated[float, Range(0, 100, "%")] | None = None
    tare_kg: Kilograms | None = None
    gross_kg: Kilograms | None = None
    opened_at: Annotated[str, Moment()] | None = None
    closed_at: Annotated[str, Moment()] | None = None
    handover: Annotated[str, Ref("handover")] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Handover(Record):
    """The day a container or lot left, to whom, against which document.

    ``sealed_at`` is when somebody said that all of it has gone; with that change the server
    freezes its list for good.
    """

    on: Annotated[str, Moment()] | None = None
    to: Short | None = None
    carrier: Short | None = None
    document: Short | None = None
    note: Long | None = None
    sealed_at: Annotated[str, Moment()] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction(Record):
    """What was wrong in a handover that has gone; its frozen list stays as it was.

    ``item`` names the line, where it is about one; ``mass_kg`` is what it should have said.
    """

    handover: Annotated[str, Ref("handover")] | None = None
    item: Annotated[str, Target("item", "container")] | None = None
    on: Annotated[str, Moment()] | None = None
    who: Short | None = None
    text: Long | None = None
    mass_kg: Kilograms | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mixing(Record):
    """Somebody put a thing where the rules forbid it, all the same; who, and why."""

    container: Annotated[str, Ref("container")] | None = None
    item: Annotated[str, Ref("item")] | None = None
    on: Annotated[str, Moment()] | None = None
    who: Short | None = None
    why: Long | None = None
