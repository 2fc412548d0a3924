"""A short run of the simulation; `python -m tests.simulation` is the long one."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

import pytest
from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st

from simulation.named import ONCE_BROKEN, SMALL
from simulation.schedule import FIRST_SORTS, Schedule, Step, schedule_of
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


NAMED = {**SMALL, **ONCE_BROKEN}


@pytest.mark.parametrize("steps", NAMED.values(), ids=NAMED.keys())
def test_schedule_written_by_hand_keeps_every_promise(session: Session, steps: list[Step]) -> None:
    session.run(Schedule(2, (0, 0, 0), tuple(steps)))


# Numbers of the long run that once broke a promise: a row that one page told another while that
# one was being opened stayed unseen; an old value came back to a restored server above a new one
# (9478). They are other schedules once `schedule_of` changes.
ONCE_BROKEN_NUMBERS = [119, 1379, 1447, 1516, 6821, 9478]


@pytest.mark.parametrize("seed", ONCE_BROKEN_NUMBERS)
def test_numbered_schedule_that_once_broke_a_promise_keeps_it(session: Session, seed: int) -> None:
    session.run(schedule_of(Random(seed), seed, FIRST_SORTS))
