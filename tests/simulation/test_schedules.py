"""A short run of the simulation; `python -m tests.simulation` is the long one."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

import pytest
from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st

from simulation.schedule import MINUTE, YEAR, Edit, Schedule, Step, schedule_of
from simulation.session import Session


@pytest.fixture(scope="module")
def session(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Session]:
    made = Session(tmp_path_factory.mktemp("simulation"))
    yield made
    made.close()


@settings(
    max_examples=40,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(st.randoms(use_true_random=False), st.integers(0, 5))
def test_whatever_befalls_phones_line_and_server_nothing_is_lost_and_all_agree(
    session: Session, chance: Random, seed: int
) -> None:
    schedule = schedule_of(chance, seed)
    note(schedule)
    session.run(schedule)


def test_schedule_run_twice_does_the_same_twice(session: Session) -> None:
    assert session.run_seed(7) == session.run_seed(7)


def keep(phone: int, *edits: tuple[str, int, str, object]) -> Step:
    made = tuple(Edit(table, key, ((field, value),)) for table, key, field, value in edits)
    return Step("keep", phone, edits=made)


def sync(phone: int, *fates: str) -> Step:
    return Step("sync", phone, fates=fates)


def clock(phone: int, error_ms: int) -> Step:
    return Step("clock", phone, amount=error_ms)


BACK_UP, BRING_BACK, WAIT = Step("back up"), Step("bring back"), Step("pass", amount=5)
PUMP, SEACOCK = ("item", 0, "name", "pump"), ("item", 0, "name", "seacock")
FIVE = tuple(("note", at % 2, "text", text) for at, text in enumerate(["a", "b", "c", "d", "e"]))
REPLY_TO_PUSH_LOST = ("ok", "ok", "reply lost")
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
}  # fmt: skip


@pytest.mark.parametrize("steps", ONCE_BROKEN.values(), ids=ONCE_BROKEN.keys())
def test_schedule_that_once_broke_a_promise_keeps_it(session: Session, steps: list[Step]) -> None:
    session.run(Schedule(2, (0, 0), tuple(steps)))
