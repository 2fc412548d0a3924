"""A server and a process of phones, used for one schedule after another."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from random import Random

from . import quiet_end
from .link import Counts
from .phones import Phones
from .schedule import Schedule, schedule_of
from .shed_server import ShedServer
from .world import Clock, World


class Session:
    """Runs schedules. Starting it takes a second or two, a schedule a tenth of that."""

    def __init__(self, folder: Path, breaks: Sequence[Mapping[str, str]] = ()) -> None:
        self._clock = Clock()
        self.server = ShedServer(folder, self._clock.at_server)
        self.phones = Phones(breaks)

    def close(self) -> None:
        """End the phones and let go of the files."""
        self.phones.close()
        self.server.close()

    @staticmethod
    def schedule(seed: int) -> Schedule:
        """The schedule of this number."""
        return schedule_of(Random(seed), seed)

    def run_seed(self, seed: int) -> Counts:
        """Run the schedule of this number."""
        return self.run(self.schedule(seed))

    def run(self, schedule: Schedule) -> Counts:
        """Run a schedule to its quiet end.

        Raises: Broken, Alarm.
        """
        world = World(self.phones, self.server, self._clock, schedule)
        world.run()
        quiet_end.end(world)
        return world.counts
