"""Loading the demo boat the way two phones would send it: paired, in batches, photos by digest.

Everything is derived from the source, tag codes aside, which only the server gives out. A second
load sends the same changes again, and those are repeats. A boat that was loaded from another
version of the source stays as it is.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import io
import itertools
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from PIL import Image

from shedtally.domain.records.shape import JsonValue
from shedtally.domain.sync import stamp
from shedtally.domain.sync.change import Change
from shedtally.usecases.demo_source import Source, read
from shedtally.usecases.demo_story import NOW, Event, Story, uuid7
from shedtally.usecases.keep_photo import keep_photo
from shedtally.usecases.pair_device import make_code, pair_device
from shedtally.usecases.receive_changes import MAX_BATCH, SCHEMA, receive_changes
from shedtally.usecases.reserve_tags import MAX_BLOCK, reserve_tags
from shedtally.usecases.shed import Shed

EVENING = dt.time(20, 0)
PAIRED_BEFORE = dt.timedelta(minutes=30)


class DemoRefused(Exception):
    """The server refused part of the demo boat: its source and this version do not agree."""


@dataclass(frozen=True)
class Loaded:
    """What was loaded; ``new_changes`` is 0 when it was all there before."""

    boat: str
    changes: int
    new_changes: int
    photos: int
    tags: int


def load(shed: Shed, folder: Path) -> Loaded:
    """Load the demo boat in ``folder`` into ``shed``; needs an app context.

    Raises: DemoRefused, naming the first change that was refused, unless the boat was there before.
    """
    source = read(folder)
    story = Story(source, shed.rules)
    loader = _Loader(shed, story, _scheduled(story, source))
    with shed.reading() as uow:
        was_there = uow.log(loader.boat).exists()
    try:
        loader.pair()
        for part in loader.parts():
            loader.send(part)
    except DemoRefused:
        if not was_there:
            raise
    return loader.loaded()


@dataclass(frozen=True)
class _Timed:
    """An event with its moment."""

    event: Event
    at: dt.datetime


@dataclass
class _Loader:
    """Both phones, and the server that they send to."""

    shed: Shed
    story: Story
    timed: list[_Timed]
    sent: int = 0
    new: int = 0
    photos: int = 0
    seqs: dict[str, Iterator[int]] = field(default_factory=dict)
    stamps: dict[str, str] = field(default_factory=dict)
    codes: dict[str, list[str]] = field(default_factory=dict)
    free: Iterator[str] = field(default_factory=lambda: iter(()))

    @property
    def boat(self) -> str:
        return self.story.key("boat", "boat")

    def phone(self, who: str) -> str:
        return self.story.key("device", who)

    def pair(self) -> None:
        """Let both phones in, half an hour before the first edit."""
        now = _ms(self.timed[0].at - PAIRED_BEFORE)
        for who, name in self.story.source.phones.items():
            with self.shed.writing() as uow:
                code = make_code(uow, now).code
                pair_device(uow, code, self.phone(who), name, address="", now_ms=now)
            self.seqs[who] = itertools.count(1)
            self.stamps[who] = stamp.FIRST

    def parts(self) -> Iterator[list[list[_Timed]]]:
        """The parts of the days; of each part what either phone has to send at its end."""
        for _, part in itertools.groupby(self.timed, key=lambda one: _part(one.event)[:2]):
            phones = itertools.groupby(part, key=lambda one: one.event.who)
            yield [list(batch) for _, batch in phones]

    def send(self, part: list[list[_Timed]]) -> None:
        """Send a part; neither phone has seen what the other noted in it."""
        base = self.sent
        for batch in part:
            self._send(batch, base)

    def _send(self, batch: list[_Timed], base: int) -> None:
        who = batch[0].event.who
        self._take_codes(batch)
        now = _ms(batch[-1].at + dt.timedelta(minutes=5))
        changes = [self._change(one, base) for one in batch]
        for start in range(0, len(changes), MAX_BATCH):
            sent = [change.as_sent() for change in changes[start : start + MAX_BATCH]]
            with self.shed.writing() as uow:
                results = receive_changes(
                    uow,
                    self.boat,
                    sent,
                    sent_by=self.phone(who),
                    schema=SCHEMA,
                    now_ms=now,
                    rules=self.shed.rules,
                ).results
                uow.devices.seen(self.phone(who), now)
            for change, result in zip(changes[start:], results, strict=False):
                if result.outcome == "rejected":
                    message = f"{change.table} {change.key}: {result.field} {result.detail}"
                    raise DemoRefused(message)
                self.new += result.outcome == "accepted"
        self.sent += len(changes)
        for one in batch:
            self._keep_photo(one, now)

    def loaded(self) -> Loaded:
        """What came of it."""
        tags = sum(len(codes) for codes in self.codes.values())
        return Loaded(self.boat, self.sent, self.new, self.photos, tags)

    def _change(self, one: _Timed, base: int) -> Change:
        event, ms = one.event, _ms(one.at)
        seq = next(self.seqs[event.who])
        self.stamps[event.who] = stamp.following(self.stamps[event.who], ms)
        values = {name: _told(value, one.at) for name, value in event.values.items()}
        if event.photo is not None:
            values |= _described(event.photo)
        return Change(
            id=uuid7(one.at, event.who, seq),
            device=self.phone(event.who),
            seq=seq,
            stamp=self.stamps[event.who],
            table=event.table,
            key=event.key,
            values=values,
            base=base,
        )

    def _take_codes(self, batch: list[_Timed]) -> None:
        """Give every tag of the batch a code: the one it has here already, or the next one."""
        if not self.codes and self.sent:
            with self.shed.reading() as uow:
                known = uow.records(self.boat).read_boat().codes
            self.codes = {target: list(codes) for target, codes in known.items()}
        used: dict[str, int] = {}
        for index, one in enumerate(batch):
            if one.event.table == "tag":
                target = str(one.event.values["on"])
                place = used.get(target, 0)
                used[target] = place + 1
                event = replace(one.event, key=self._code(target, place, one))
                batch[index] = _Timed(event, one.at)

    def _code(self, target: str, place: int, one: _Timed) -> str:
        codes = self.codes.setdefault(target, [])
        if place == len(codes):
            codes.append(self._next_code(one))
        return codes[place]

    def _next_code(self, one: _Timed) -> str:
        code = next(self.free, None)
        if code is None:
            with self.shed.writing() as uow:
                phone = self.phone(one.event.who)
                _, block = reserve_tags(uow, self.boat, MAX_BLOCK, phone, _ms(one.at))
            self.free = iter(block)
            code = next(self.free)
        return code

    def _keep_photo(self, one: _Timed, now: int) -> None:
        if one.event.photo is None:
            return
        content = one.event.photo.read_bytes()
        digest = hashlib.sha256(content).hexdigest()
        keep_photo(
            self.shed.reading,
            self.shed.writing,
            self.shed.photos,
            digest,
            declared=len(content),
            chunks=[content],
            device=self.phone(one.event.who),
            now_ms=now,
        )
        self.photos += 1


def _part(event: Event) -> tuple[dt.date, int, str]:
    return event.day, event.evening, event.who


def _scheduled(story: Story, source: Source) -> list[_Timed]:
    """Every event with its moment: spread over its sitting, or over the evening after it."""
    events = sorted(story.tell(), key=_part)
    sittings = {row["on"]: row for row in source.sittings}
    timed = []
    for (day, evening, _), part in itertools.groupby(events, key=_part):
        row, noted = sittings[day], list(part)
        start = dt.datetime.combine(day, dt.time.fromisoformat(row["from"]), story.zone(day))
        length = dt.timedelta(hours=row["hours"])
        if evening:
            by_the_stove = dt.datetime.combine(day, EVENING, story.zone(day))
            start = max(by_the_stove, start + length + dt.timedelta(minutes=30))
            start += dt.timedelta(hours=2.5) * (evening - 1)
            length = min(dt.timedelta(hours=2), len(noted) * dt.timedelta(seconds=40))
        step = length / (len(noted) + 1)
        timed += [_Timed(event, start + step * place) for place, event in enumerate(noted, 1)]
    return timed


def _told(value: JsonValue, at: dt.datetime) -> JsonValue:
    return at.isoformat(timespec="seconds") if value == NOW else value


def _described(photo: Path) -> dict[str, JsonValue]:
    content = photo.read_bytes()
    with Image.open(io.BytesIO(content)) as image:
        width, height = image.size
    return {
        "sha256": hashlib.sha256(content).hexdigest(),
        "type": "image/jpeg",
        "bytes": len(content),
        "width": width,
        "height": height,
    }


def _ms(at: dt.datetime) -> int:
    return int(at.timestamp() * 1000)
