"""What can't be right about a container or a handover, in plain words, with what to do.

Nothing is taken away: what was entered is kept and counted as it stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shedtally.domain.aboard.named import name_of
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import Spread
from shedtally.domain.records import Container, Handover
from shedtally.domain.waste.box import Box, day_of, is_later
from shedtally.domain.waste.by_stream import Case
from shedtally.domain.waste.container_lists import Fault
from shedtally.domain.waste.stream import Row

# Mercury, the heaviest liquid there is on a boat; common practice, no source.
HEAVIEST_KG_PER_L = 13.6
# Two scales that are right may differ so far; common practice, no source.
SCALES_AGREE = 1.05


def faults_of_box(
    case: Case, box: Box, rows: Sequence[Row], mass: Spread, litres: float
) -> Iterator[Fault]:
    """What is odd about a container, the worst first. Args: mass in kg; litres that are known."""
    record = case.boat.containers[box.key]
    of = f"container/{box.key}"
    pairs = [
        *_too_much(record, mass, litres),
        *_scale(case.boat, record),
        *_days(record),
        *_stream(case, record),
    ]
    for say, do in pairs:
        yield Fault(of, box.name, say, do)
    yield from _late(case.boat, record, rows)
    yield from _kept(case, record)


def faults_of_handover(boat: BoatRecords, record: Handover) -> Iterator[Fault]:
    """What is odd about a handover: its day against its containers and items, its papers."""
    of, name, day = f"handover/{record.key}", record.to or "Handover", day_of(record.on)
    if record.sealed_at and day is None:
        yield Fault(of, name, "It says no day.", "Write the day on which it left.")
    if record.sealed_at and not record.to:
        yield Fault(of, name, "It says no site.", "Write who took it, as on the receipt.")
    boxes, loose = boat.went_in.get(record.key, ()), boat.went_loose.get(record.key, ())
    if record.sealed_at and not boxes and not loose:
        do = "Choose what went, or put this handover into the bin."
        yield Fault(of, name, "Nothing went with it.", do)
    if day is None:
        return
    for box in boxes:
        opened = day_of(box.opened_at)
        if opened and opened > day:
            say = f"It left on {day}, and was opened on {opened}, later."
            named = box.name or "Container"
            yield Fault(f"container/{box.key}", named, say, "Put one of the two days right.")
    for item in (*loose, *(row for box in boxes for row in boat.items_in.get(box.key, ()))):
        out = day_of(item.out_at)
        if out and out > day:
            say = f"It left on {day}, and came out of the boat on {out}, later."
            named = item.name or item.kind or "Item"
            yield Fault(f"item/{item.key}", named, say, "Put one of the two days right.")


def _too_much(record: Container, mass: Spread, litres: float) -> Iterator[tuple[str, str]]:
    limit, room = record.limit_kg, record.capacity_l
    if limit is not None and mass.likely > limit:
        yield (
            f"{mass.likely:.4g} kg are in it, and it may hold {limit:g} kg.",
            "Take something out into another container, or put the limit right.",
        )
    elif limit is not None and mass.high > limit:
        yield (
            f"It may be over its limit: up to {mass.high:.4g} kg, and it may hold {limit:g} kg.",
            "Weigh it before more goes in.",
        )
    if room is not None and litres > room:
        yield (
            f"{litres:.4g} L are in it, and it holds {room:g} L.",
            "Put the litres of what is in it right, or its size.",
        )
    if room and mass.low > room * HEAVIEST_KG_PER_L:
        yield (
            f"{mass.likely:.4g} kg can't fit in {room:g} L: not even mercury weighs so much.",
            "Weigh it again with the unit in view, or put its size right.",
        )


def _scale(boat: BoatRecords, record: Container) -> Iterator[tuple[str, str]]:
    gross, tare = record.gross_kg, record.tare_kg
    if gross is not None and tare is not None and gross < tare:
        yield (
            f"Full it shows {gross:g} kg, empty {tare:g} kg: that can't be.",
            "Weigh it again, or put the empty mass right. Until then its content is estimated.",
        )
    weighed = sum(
        item.mass_kg or 0.0
        for item in boat.items_in.get(record.key, ())
        if item.mass_how == "weighed"
    )
    net = None if gross is None or tare is None else gross - tare
    if net is not None and net >= 0 and weighed > net * SCALES_AGREE:
        yield (
            f"Weighed one by one it makes {weighed:.4g} kg, the whole only {net:.4g} kg.",
            "Weigh the container again, or look for what was put in since.",
        )


def _days(record: Container) -> Iterator[tuple[str, str]]:
    opened, closed = day_of(record.opened_at), day_of(record.closed_at)
    if opened and closed and closed < opened:
        yield (
            f"It was closed on {closed}, before it was opened on {opened}.",
            "Put one of the two days right.",
        )


def _stream(case: Case, record: Container) -> Iterator[tuple[str, str]]:
    if record.stream and record.stream not in case.rules.streams:
        yield (
            f"Its stream {record.stream} isn't known to this server.",
            "Choose its stream anew; until then nothing is checked against it.",
        )


def _late(boat: BoatRecords, record: Container, rows: Sequence[Row]) -> Iterator[Fault]:
    """What went into a container after it was closed, or after its list was handed over."""
    handover = boat.handovers.get(record.handover or "")
    closed, sealed = record.closed_at, handover.sealed_at if handover else None
    for row in rows:
        item = boat.items.get(row.line.key)
        if item is None or not item.boxed_at:
            continue
        put = item.boxed_at
        of, name = f"item/{item.key}", row.line.name
        if is_later(put, sealed):
            say = f"It was put into {record.name or 'a container'} after that was handed over."
            do = "Take it out again, or write a correction at the handover."
            yield Fault(of, name, say, do)
        elif is_later(put, closed):
            say = f"It was put into {record.name or 'a container'} after that was closed."
            do = "Open the container again, or take it out."
            yield Fault(of, name, say, do)


def _kept(case: Case, record: Container) -> Iterator[Fault]:
    """What is meant to go back or to be sold, and lies in a container of waste all the same."""
    for item in case.boat.items_in.get(record.key, ()):
        meant = {"refit": "go back aboard", "sell": "be sold"}.get(item.fate or "")
        if meant:
            name = name_of(item, case.rules.kinds.get(item.kind or ""))
            say = f"It is meant to {meant}, and lies in {record.name or 'a container'} of waste."
            do = "Take it out, or say that it is waste: until then it is on no list of waste."
            yield Fault(f"item/{item.key}", name, say, do)
