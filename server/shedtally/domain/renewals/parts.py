"""What the lines of the renewals list are merged by: kind, size, material, service, thread.

Boats have thousands of items and few specs, so what was typed is read once for each way it was
typed, and not once an item.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import system_of
from shedtally.domain.masses.recipe import material_of, readable_size
from shedtally.domain.measures.reading import Size
from shedtally.domain.measures.unreadable import Unreadable
from shedtally.domain.records import Item
from shedtally.domain.renewals.clamp import hose_called
from shedtally.domain.renewals.plain_parts import details_of, sized
from shedtally.domain.renewals.spec_id import line_id
from shedtally.domain.renewals.thread import Thread, parse_thread
from shedtally.domain.rulebook import HoseSize, Kind, Rules
from shedtally.domain.rulebook.renewing import PlainPart, Service
from shedtally.domain.wiring.cable_size import order_size

MOST_INCHES_MM = 200


@dataclass(frozen=True, slots=True)
class Parts:
    """What equal items have in common. ``id`` is that of their line; ``typed`` the size as typed.

    ``service`` is what was said, or the only one that a hose of this kind can have; ``thread`` is
    how it is shown, and ``cut`` what it was read as.
    """

    id: str
    name: str
    kind: Kind | None
    size: str
    typed: str
    read: Size | None
    material: str
    service: Service | None
    thread: str
    thread_fault: str
    cut: Thread | None
    hose: HoseSize | None
    plain: PlainPart | None

    @property
    def is_run(self) -> bool:
        """Whether it is bought by its length."""
        return self.kind is not None and self.kind.is_run


@dataclass(frozen=True, slots=True)
class Wanted:
    """One item to be renewed, and what its line is merged by."""

    item: Item
    parts: Parts
    system: str


@dataclass(slots=True)
class PartsReader:
    """Reads what items are merged by, each way of typing once."""

    rules: Rules
    _known: dict[tuple[str | None, ...], Parts] = field(default_factory=dict)

    def wanted(self, item: Item) -> Wanted:
        """One item with its parts."""
        kind = self.rules.kinds.get(item.kind or "")
        return Wanted(item, self.parts(item, kind), system_of(item, kind))

    def parts(self, item: Item, kind: Kind | None) -> Parts:
        """What an item is merged by."""
        size = order_size(item)[0] if kind and kind.section == "cable" else item.size
        called = None if kind else item.name
        plain = self.rules.renewal.parts.get(item.kind or "")
        more = details_of(item, plain) if plain else ()
        key = (item.kind, called, size, item.material, item.service, item.thread, *more)
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = self._read(item, kind, size)
        return known

    def _read(self, item: Item, kind: Kind | None, typed: str | None) -> Parts:
        rules = self.rules
        read = readable_size(typed)
        hose = hose_called(read, kind, rules)
        size = (hose.shown if hose else _shown(read)) if read else (typed or "").strip()
        plain = rules.renewal.parts.get(item.kind or "")
        if plain:
            own = (sized(typed, plain)[0],) if typed else ()
            size = ", ".join((*own, *details_of(item, plain)))
        material = _material(item, kind, rules)
        service = service_of(item, kind, rules)
        thread, fault, cut = _thread(item, typed if read and read.thread else None, rules)
        name = (plain.called if plain else "") or (kind.name if kind else name_of(item, None))
        said = service.id if service and item.service else ""
        cut_as = thread if item.thread else ""
        return Parts(
            id=line_id(kind.id if kind else f"?{name}", size, material, said, cut_as),
            name=name,
            kind=kind,
            size=size,
            typed=typed or "",
            read=read,
            material=material,
            service=service,
            thread=thread,
            thread_fault=fault,
            cut=cut,
            hose=hose,
            plain=plain,
        )


def service_of(item: Item, kind: Kind | None, rules: Rules) -> Service | None:
    """What flows in a hose: as somebody said, else the only service that its kind can have."""
    services = rules.renewal.services
    if item.service:
        return services.get(item.service)
    return only_service(kind, rules)


def only_service(kind: Kind | None, rules: Rules) -> Service | None:
    """The service of a kind that can have one only; None where there are several, or none."""
    if kind is None:
        return None
    found = [row for row in rules.renewal.services.values() if kind.id in row.kinds]
    return found[0] if len(found) == 1 else None


def thread_text(item: Item) -> str:
    """What was written of an item's thread: its own field, else its size where that names one."""
    if item.thread:
        return item.thread
    size = readable_size(item.size)
    return item.size or "" if size and size.thread else ""


def _thread(item: Item, size: str | None, rules: Rules) -> tuple[str, str, Thread | None]:
    text = item.thread or size
    if not text:
        return "", "", None
    try:
        cut = parse_thread(text, rules.renewal)
    except Unreadable as unreadable:
        return text.strip(), str(unreadable), None
    return f"{cut.shown} {cut.sex}".strip(), "", cut


def _shown(size: Size) -> str:
    """The size with its inches where it is a fraction of one: ``29 mm (1 1/8 in)``."""
    if size.thread or size.kind != "length" or size.mm is None or size.mm > MOST_INCHES_MM:
        return size.shown
    sixteenths = round(size.mm / 25.4 * 16)
    if not sixteenths or abs(sixteenths * 25.4 / 16 - size.mm) > 0.01 or size.mm % 1 < 0.01:
        return size.shown
    whole, rest = divmod(Fraction(sixteenths, 16), 1)
    inches = " ".join(str(part) for part in (whole, rest) if part)
    return f"{size.mm:.0f} mm ({inches} in)"


def _material(item: Item, kind: Kind | None, rules: Rules) -> str:
    """What it is made of, where that was written down; runs go by their standard instead."""
    if not item.material or (kind and kind.section):
        return ""
    found = material_of(item, kind, rules)
    return found.name.lower() if found else item.material.strip()
