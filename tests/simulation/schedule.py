"""Schedules: what happens to the phones, the link and the server, as plain data.

A schedule is made by a `random.Random`: of a seed in the long run, of Hypothesis in the tests,
which then makes failing ones smaller. Running it twice does the same twice.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

from shedtally.domain.records import tag

MINUTE = 60_000
DAY = 86_400_000
YEAR = 365 * DAY

CLOCK_ERRORS = [
    0, 1_000, -1_000, 4 * MINUTE, -4 * MINUTE, 6 * MINUTE, -6 * MINUTE,
    DAY, -DAY, YEAR, -YEAR, 10 * YEAR, -10 * YEAR,
]  # fmt: skip
PAUSES = [0, 1, 2, 900, 30_000, 5 * MINUTE + 1, DAY, 40 * DAY]

Weights = dict[str, int]
Sorts = tuple[tuple[str, ...], ...]
Fields = tuple[tuple[str, object], ...]


@dataclass(frozen=True)
class Edit:
    """What one change sets; ``key`` numbers the records of its table."""

    table: str
    key: int
    values: Fields


@dataclass(frozen=True)
class Fault:
    """At the ``at``-th transaction the phone dies before or after its commit, is full, or loses
    its connection to the database."""

    at: int
    how: str


@dataclass(frozen=True)
class Step:
    """One thing that happens. Which members count depends on ``do``."""

    do: str
    phone: int = 0
    # On the second page that is open on the phone.
    second: bool = False
    edits: tuple[Edit, ...] = ()
    photo: int | None = None
    fault: Fault | None = None
    fates: tuple[str, ...] = ()
    page: int = 500
    amount: int = 0
    # What happens while the phone waits for its ``at``-th answer.
    meanwhile: tuple[tuple[int, Step], ...] = ()


@dataclass(frozen=True)
class Schedule:
    """``phones`` at the start, their clock errors in milliseconds, and the steps in order."""

    seed: int
    clocks: tuple[int, ...]
    steps: tuple[Step, ...]


FATES = [
    "lost", "reply lost", "reply lost", "twice", "late", "part", "cut", "portal", "busy", "dies",
    "phone dies first", "phone dies after",
]  # fmt: skip

# For each table some fields with few values, so that phones meet.
VALUES: dict[str, dict[str, list[object]]] = {
    "boat": {"name": ["Tern", "Dunlin", None], "length_m": [7, 7.5, 18]},
    "compartment": {"name": ["galley", "locker"], "side": ["port", "centre", None]},
    "item": {
        "name": ["seacock", "pump", "é𝄞 \u200d", None],
        "condition": ["sound", "worn", "failed"],
        "whereabouts": ["aboard", "ashore", "gone"],
        "mass_kg": [1, 1.5, 0, None],
        "leaking": [True, False, None],
        "binned": [True, False],
        "polish": ["matt", 1, True, None],
    },
    "end": {"label": ["in", "out"], "to_point": ["tank", None]},
    "tag": {"on": ["item/i0", "item/i1", "place/p0", None], "binned": [True, False]},
    "place": {"name": ["shelf", "crate"], "sort": ["shelf", "rack"], "binned": [True]},
    "container": {"stream": ["diesel", "lead-acid"], "gross_kg": [1.25, 30]},
    "job": {"task": ["scrape", "grind"], "hours": [1, 2.5]},
    "before": {"first": ["item/i0", "job/j0"], "then": ["item/i1"]},
    "handover": {"to": ["the yard", "the tip"], "on": ["2026-05-04", None]},
    "note": {"text": ["", "look here", "do not"], "binned": [True, False]},
    "work": {"hours": [1, 3], "people": [1, 2]},
    "price": {"amount": [1, 2.25], "currency": ["EUR", "USD"]},
    "device": {"name": ["red phone", "old laptop"]},
}
BUSY_TABLES = ["item"] * 6 + ["tag"] * 3 + ["note", "place"]
TAGS = [tag.encode(number) for number in range(40_000, 40_100) if tag.is_issuable(number)]


def key_of(edit: Edit, boat: str) -> str:
    """The record that an edit is of."""
    if edit.table == "boat":
        return boat
    if edit.table == "tag":
        return TAGS[edit.key]
    return f"{edit.table[0]}{edit.key}"


def schedule_of(chance: Random, seed: int = 0, sorts: Sorts | None = None) -> Schedule:
    """A schedule of 2 to 6 phones that ``chance`` decides; of the sorts of trouble in `SORTS`."""
    phones = chance.choice([2, 2, 2, 2, 3, 3, 3, 4, 5, 6])
    wrong = chance.random() < 0.6
    clocks = tuple(chance.choice(CLOCK_ERRORS) if wrong else 0 for _ in range(phones))
    count = chance.randint(4, 18)
    weights = _weights(chance, sorts or SORTS)
    steps = tuple(_step(chance, phones, weights) for _ in range(count))
    return Schedule(seed, clocks, steps)


def _step(chance: Random, phones: int, weights: Weights, depth: int = 0) -> Step:
    phone = chance.randrange(phones)
    kind = chance.choices(list(weights), list(weights.values()))[0]
    step = Step(kind, phone)
    if kind in ("keep", "sync", "close page"):
        step = replace(step, second=kind == "close page" or chance.random() < 0.15)
    if kind == "keep":
        return _keep(chance, step)
    if kind == "sync":
        return _sync(chance, step, phones, weights, depth)
    if kind == "pass":
        return replace(step, amount=chance.choice(PAUSES))
    if kind in ("clock", "server clock"):
        return replace(step, amount=chance.choice(CLOCK_ERRORS))
    if kind == "newer phone":
        return replace(step, edits=tuple(_edit(chance) for _ in range(chance.randint(1, 2))))
    return step


_WEIGHTS = {
    "keep": 40,
    "sync": 34,
    "pass": 8,
    "clock": 4,
    "server clock": 1,
    "crash": 4,
    "close page": 1,
    "restart": 1,
    "back up": 3,
    "bring back": 3,
    "revoke": 2,
    "pair again": 2,
    "arrive late": 2,
    "newer phone": 2,
    "bad batch": 1,
    "old client": 1,
    "join": 1,
    "overboard": 1,
}
# Some schedules have more than their share of one sort of trouble.
FIRST_SORTS: Sorts = (
    (),
    (),
    ("back up", "bring back"),
    ("back up", "bring back", "overboard", "join"),
    ("clock", "server clock", "pass"),
    ("crash", "restart"),
    ("revoke", "pair again", "arrive late"),
)
SORTS: Sorts = (
    *FIRST_SORTS,
    ("back up", "bring back", "server clock", "overboard"),
    ("revoke", "bring back", "server clock", "join"),
)
_MORE = 4


def _weights(chance: Random, sorts: Sorts) -> Weights:
    sort = chance.choice(sorts)
    return {kind: number * _MORE if kind in sort else number for kind, number in _WEIGHTS.items()}


def _keep(chance: Random, step: Step) -> Step:
    edits = tuple(_edit(chance) for _ in range(chance.choice([1, 1, 1, 2, 4])))
    photo = chance.randrange(6) if chance.random() < 0.12 else None
    fault = None
    if chance.random() < 0.12:
        fault = Fault(chance.randint(1, 3), chance.choice(["before", "after", "full", "lost"]))
    return replace(step, edits=edits, photo=photo, fault=fault)


def _sync(chance: Random, step: Step, phones: int, weights: Weights, depth: int) -> Step:
    fates: tuple[str, ...] = ()
    if chance.random() < 0.5:
        fates = tuple(
            chance.choice(FATES) if chance.random() < 0.35 else "ok"
            for _ in range(chance.randint(1, 6))
        )
    fault = None
    if chance.random() < 0.15:
        fault = Fault(chance.randint(1, 30), chance.choice(["before", "after", "full", "lost"]))
    meanwhile: tuple[tuple[int, Step], ...] = ()
    if depth < 2 and chance.random() < 0.25:
        other = _step(chance, phones, weights, depth + 1)
        at = chance.randint(0, 5)
        if chance.random() < 0.25:
            # The other page of the same phone sends too, most likely while this one pushes.
            at = chance.choice([1, 2, 2, 2, 3])
            other = Step("sync", step.phone, second=not step.second)
        meanwhile = ((at, other),)
    page = chance.choice([500, 500, 1, 2, 5])
    return replace(step, fates=fates, fault=fault, meanwhile=meanwhile, page=page)


def _edit(chance: Random) -> Edit:
    common = chance.random() < 0.8
    table = chance.choice(BUSY_TABLES) if common else chance.choice(list(VALUES))
    fields = VALUES[table]
    names = chance.sample(list(fields), min(len(fields), chance.choice([1, 1, 2])))
    values = tuple((name, chance.choice(fields[name])) for name in names)
    return Edit(table, chance.randrange(2), values)
