"""Schedules written by hand: those that once broke a promise, and small ones for each promise."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain

from .schedule import MINUTE, YEAR, Edit, Fault, Step


def keep(phone: int, *edits: tuple[str, int, str, object]) -> Step:
    made = tuple(Edit(table, key, ((field, value),)) for table, key, field, value in edits)
    return Step("keep", phone, edits=made)


def sync(phone: int, *fates: str) -> Step:
    return Step("sync", phone, fates=fates)


def on_second(step: Step) -> Step:
    return replace(step, second=True)


def beside(phone: int, at: int) -> Step:
    """A page syncs; at its ``at``-th request the other page of the phone does."""
    return Step("sync", phone, meanwhile=((at, on_second(sync(phone))),))


def server_clock(error_ms: int) -> Step:
    return Step("server clock", amount=error_ms)


def clock(phone: int, error_ms: int) -> Step:
    return Step("clock", phone, amount=error_ms)


def dies_over_each_transaction(numbers: range) -> list[Step]:
    """Phone 1 keeps an item; phone 0 receives it and dies once its n-th transaction has ended."""
    rounds = (
        [
            keep(1, ("item", number, "name", "seacock")),
            sync(1),
            replace(sync(0), fault=Fault(number, "after")),
        ]
        for number in numbers
    )
    return list(chain.from_iterable(rounds))


BACK_UP, BRING_BACK, WAIT = Step("back up"), Step("bring back"), Step("pass", amount=5)
PUMP, SEACOCK = ("item", 0, "name", "pump"), ("item", 0, "name", "seacock")
PUMP_EDIT = (Edit("item", 0, (("name", "pump"),)),)
TWO_FIELDS = (Edit("item", 0, (("name", "pump"), ("condition", "worn"))),)
FIVE = tuple(("note", at % 2, "text", text) for at, text in enumerate(["a", "b", "c", "d", "e"]))
REPLY_TO_PUSH_LOST = ("ok", "ok", "reply lost")
NO_PHOTO = (*("ok",) * 7, *("lost",) * 3)
LINE_LOST_BEFORE_PULL = ("ok", "ok", "ok", "lost")

# Schedules that once broke a promise.
ONCE_BROKEN = {
    "a base counted in a lost log hides no overwriting": [
        BACK_UP, keep(1, *FIVE), sync(1), BRING_BACK,
        keep(0, SEACOCK, *FIVE), sync(0), keep(1, PUMP), sync(1),
    ],
    "the last copy of a lost phone's change is offered to a restored server": [
        BACK_UP, keep(0, PUMP), sync(0), sync(1), Step("overboard", 0), BRING_BACK,
    ],
    "a stamp put right is not put right again, past later edits, by a restored server": [
        BACK_UP, clock(0, YEAR), keep(0, PUMP), sync(0), sync(1), WAIT,
        keep(1, SEACOCK), sync(1), BRING_BACK, sync(1), sync(0),
    ],
    "a change that somebody else brought with its stamp put right is no other change": [
        clock(0, YEAR), keep(0, PUMP), BACK_UP, sync(0, *REPLY_TO_PUSH_LOST), sync(1), WAIT,
        keep(1, SEACOCK), sync(1), BRING_BACK, sync(1), sync(0),
    ],
    "an edit is shown though the value before it has a stamp from the future": [
        clock(0, YEAR), keep(0, PUMP), sync(0, *LINE_LOST_BEFORE_PULL), clock(0, 0),
        keep(0, SEACOCK),
    ],
    "an edit wins over one from a clock that is minutes ahead": [
        clock(0, 4 * MINUTE + 50_000), keep(0, PUMP), sync(0), sync(1), keep(1, SEACOCK),
    ],
    "a phone that is shut out brings also what was lost with the server's disk": [
        keep(0, SEACOCK), BACK_UP, Step("keep", 0, PUMP_EDIT, photo=1), sync(0),
        Step("revoke", 0), BRING_BACK,
    ],
    "a phone that is shut out brings the last copy of a lost phone's change": [
        BACK_UP, keep(1, PUMP), sync(1), sync(0), Step("overboard", 1), Step("revoke", 0),
        BRING_BACK,
    ],
    "a base in a rescue file, counted in a lost log, hides no overwriting": [
        BACK_UP, keep(1, *FIVE), sync(1), sync(0), keep(0, SEACOCK), Step("revoke", 0),
        BRING_BACK, keep(2, PUMP), sync(2), sync(1),
    ],
    "what a phone knows by a snapshot only is restated to a restored server": [
        BACK_UP, keep(0, PUMP, ("item", 0, "condition", "worn")), sync(0), Step("join"), sync(3),
        Step("overboard", 0), BRING_BACK,
    ],
    "a rescue file restates what its phone knows by a snapshot only": [
        BACK_UP, keep(0, PUMP), sync(0), Step("join"), Step("join"), sync(4),
        Step("overboard", 0), Step("overboard", 3), Step("revoke", 4), BRING_BACK,
    ],
    "what is restated, and then brought whole by its author, stands once": [
        BACK_UP, Step("keep", 0, TWO_FIELDS), sync(0), sync(1), WAIT, keep(1, SEACOCK), sync(1),
        Step("join"), sync(3), BRING_BACK, sync(3), sync(0), sync(2), sync(1),
    ],
    "a change that came by a snapshot takes the stamp that a restored server gives it": [
        BACK_UP, clock(1, 4 * MINUTE), keep(1, ("note", 0, "text", "a")), sync(1),
        clock(0, YEAR), keep(0, PUMP), sync(0, *REPLY_TO_PUSH_LOST), Step("join"), sync(3),
        BRING_BACK, sync(0), WAIT, keep(2, SEACOCK), sync(2), sync(3),
    ],
    "what a page stored and died over is shown on the other": [
        on_second(sync(0)), *dies_over_each_transaction(range(8, 17)),
    ],
    "a restored server with a clock years behind keeps the order of what it is told again": [
        BACK_UP, WAIT, keep(0, PUMP), sync(0), sync(1), WAIT, keep(1, SEACOCK), sync(1), sync(0),
        Step("join"), BRING_BACK, server_clock(-10 * YEAR), sync(3), sync(1), sync(0),
    ],
    "what a phone has whole lies above what it restates, by whatever clock": [
        BACK_UP, WAIT, keep(0, PUMP), sync(0), sync(1), Step("join"), WAIT, keep(1, SEACOCK),
        sync(1), sync(3), Step("overboard", 0), Step("overboard", 1), BRING_BACK,
        server_clock(-10 * YEAR), sync(3),
    ],
    "what is new on a phone lies above what only that phone can say again": [
        BACK_UP, WAIT, keep(0, PUMP), sync(0), sync(1), Step("overboard", 0), BRING_BACK,
        server_clock(-10 * YEAR), keep(1, SEACOCK), sync(1), sync(2),
    ],
    "what is new on a phone lies above what it can only restate": [
        BACK_UP, WAIT, keep(0, PUMP), sync(0), Step("join"), sync(3), Step("overboard", 0),
        BRING_BACK, server_clock(-10 * YEAR), keep(3, SEACOCK), sync(3), sync(2),
    ],
    "a rescue file brought to a server with a clock years behind keeps its order": [
        BACK_UP, WAIT, keep(0, PUMP), sync(0), sync(1), Step("overboard", 0), WAIT,
        keep(1, SEACOCK), BRING_BACK, server_clock(-10 * YEAR), Step("revoke", 1),
    ],
}  # fmt: skip

# One small schedule for each way in which a promise may be broken.
SMALL = {
    "an answer that speaks of half a batch": [
        keep(0, PUMP, ("note", 0, "text", "a")), sync(0, "ok", "ok", "part"),
    ],
    "a push that does not arrive": [keep(0, PUMP), sync(0, "ok", "ok", "lost")],
    "a push that arrives twice": [keep(0, PUMP), sync(0, "ok", "ok", "twice")],
    "a photograph that does not arrive": [
        Step("keep", 0, photo=1), sync(0, "ok", "ok", "ok", "ok", "lost"),
    ],
    "photographs that the server had confirmed and lost": [
        Step("keep", 0, PUMP_EDIT, photo=1), sync(0), sync(1), Step("lose photos"),
        Step("pass", amount=11 * MINUTE), sync(0),
    ],
    "photographs in a backup's records whose bytes came after it": [
        Step("keep", 0, PUMP_EDIT, photo=1), sync(0, *NO_PHOTO), BACK_UP, sync(0), BRING_BACK,
    ],
    "two values unseen, and a third": [
        keep(0, PUMP), keep(1, SEACOCK), sync(0), sync(1),
        Step("keep", 2, edits=(Edit("item", 0, (("name", None),)),)), sync(2),
    ],
    "work on something binned unseen": [
        keep(0, PUMP), sync(0), sync(1), WAIT, keep(0, ("item", 0, "binned", True)),
        keep(1, ("item", 0, "condition", "worn")), sync(0), sync(1),
    ],
    "two pages of a phone that has locks push": [
        keep(0, PUMP), on_second(keep(0, ("note", 0, "text", "a"))), beside(0, 2),
    ],
    "two pages of a phone without locks push": [
        keep(1, PUMP), on_second(keep(1, ("note", 0, "text", "a"))), beside(1, 2), beside(1, 3),
    ],
    "what is kept on one page is shown on the other before any sync": [
        on_second(keep(0, ("item", 1, "name", "seacock"))), keep(0, PUMP),
        on_second(Step("look", 0)),
    ],
    "a page dies while it pushes, and the other goes on": [
        keep(0, PUMP), sync(0, "ok", "ok", "phone dies after"), on_second(sync(0)),
    ],
    "a server whose clock is ten years ahead, and then right": [
        server_clock(10 * YEAR), keep(0, PUMP), sync(0), sync(1), server_clock(0),
        keep(1, SEACOCK), sync(1), sync(0), keep(2, PUMP), sync(2),
    ],
    "a server whose clock is ten years behind": [
        server_clock(-10 * YEAR), keep(0, PUMP), sync(0), sync(1), keep(1, SEACOCK), sync(1),
    ],
    "a phone that is shut out for good": [keep(0, PUMP), Step("revoke", 0)],
    "an older edit that comes later": [
        keep(0, PUMP), WAIT, keep(1, SEACOCK), sync(1), sync(0), sync(1),
    ],
    "a clock ten years ahead, seen by another": [
        clock(0, 10 * YEAR), keep(0, PUMP), sync(0), sync(1), keep(1, SEACOCK), sync(1),
    ],
    "minutes ahead, then a clock that is right": [
        clock(0, 4 * MINUTE), keep(0, PUMP), sync(0), sync(1), keep(1, SEACOCK), sync(1),
    ],
}  # fmt: skip
