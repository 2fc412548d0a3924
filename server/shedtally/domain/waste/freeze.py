"""The list of a handover as text that can be proved unchanged: written, digested, read again.

The text is JSON with sorted keys, so that the same list gives the same bytes; its digest is the
SHA-256 of them in UTF-8.
"""

from __future__ import annotations

import dataclasses
import datetime
import hashlib
import json
from dataclasses import dataclass

from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import WasteList
from shedtally.domain.rulebook import Rules
from shedtally.domain.waste.box import day_of
from shedtally.domain.waste.by_stream import waste_list
from shedtally.domain.waste.handed_over import part_of

FORMAT = 1


@dataclass(frozen=True, slots=True)
class Frozen:
    """A frozen list: the text, and the SHA-256 of its UTF-8 bytes in hexadecimal."""

    body: str
    digest: str


def freeze(boat: BoatRecords, rules: Rules, handover: str, today: datetime.date) -> Frozen:
    """The list of a handover by the records as given.

    Args: today: counts where the handover says no day.
    A rule set that this server doesn't have gives way to the first, and the text says so; the day
    of a handover must never be the day on which its list is lost.
    Raises: KeyError for a handover that isn't among the records.
    """
    record = boat.handovers[handover]
    asked = boat.boat.rule_set or ""
    rule_set = asked if asked in rules.rule_sets else next(iter(rules.rule_sets))
    on = day_of(record.on) or day_of(record.sealed_at) or today
    waste = waste_list(boat, rules, rule_set, boat.boat.holder or "", on)
    text = {
        "format": FORMAT,
        "boat": boat.boat.key,
        "boat_name": boat.boat.name or "",
        "handover": {
            "key": handover,
            "on": on.isoformat(),
            "to": record.to or "",
            "carrier": record.carrier or "",
            "document": record.document or "",
            "note": record.note or "",
        },
        "rule_set_asked": asked,
        "rules_version": rules.version,
        "waste": dataclasses.asdict(went_with(boat, waste, handover)),
    }
    body = json.dumps(text, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return Frozen(body, digest_of(body))


def went_with(boat: BoatRecords, waste: WasteList, handover: str) -> WasteList:
    """The part of a list that goes with a handover: its containers, and loose items."""
    boxes = {box.key for box in boat.went_in.get(handover, ())}
    loose = {item.key for item in boat.went_loose.get(handover, ())}
    return part_of(waste, boxes, loose)


def digest_of(body: str) -> str:
    """SHA-256 of a frozen list's text, in hexadecimal."""
    return hashlib.sha256(body.encode()).hexdigest()
