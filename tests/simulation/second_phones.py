"""A phone that says "and a second phone" must be right: the other one has all that it kept."""

from __future__ import annotations

from typing import Any

from . import oracle
from .link import SimPhone
from .world import World


def wrong_claims(world: World, log: list[dict], told: dict[str, Any]) -> list[str]:
    """Claims of pages, by name, that the phone which they name does not bear out.

    That phone may lie at the bottom of the harbour; what it had stored is looked at all the same.
    """
    wrong = []
    for page in world.pages():
        name = told[page.name]["secondPhone"] if page.name in told else None
        if name is None:
            continue
        world.counts.second_phones += 1
        reader = next(phone for phone in world.phones if f"phone {phone.name}" == name)
        held = _held(world, reader)
        wrong += [
            f"page {page.name} says that {name} has {entry}, and it has not"
            for entry in log
            if entry["device"] == page.handset.device and not _has(held, entry)
        ]
    return wrong


Versions = dict[tuple[str, str, str], tuple[str, str, str]]


def _held(world: World, reader: SimPhone) -> Versions:
    dump = world.result(world.do(reader, "dump"))
    return {
        (row["table"], row["key"], field): tuple(version)
        for row in dump["record"]
        for field, version in row["versions"].items()
    }


def _has(held: Versions, entry: dict) -> bool:
    """Whether each field has the value of the change, or of one that came after it."""
    names = [(entry["table"], entry["key"], field) for field in entry["set"]]
    return all(held.get(name, ("", "", "")) >= oracle.rank(entry) for name in names)
