"""The demo boat told as events: who noted what, on which day, in the shed or by the stove.

A sitting has two parts. In the shed both phones are offline and note what comes out; what one
writes, the other sees only in the evening, when both have a signal, weigh, measure and decide.
Late in the evening, when both have sent everything, what went away that day is sealed.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import uuid
from dataclasses import dataclass, field
from pathlib import Path

from shedtally.domain import records
from shedtally.domain.records.shape import JsonValue, fields_of
from shedtally.domain.rulebook import Rules
from shedtally.usecases import demo_buying
from shedtally.usecases.demo_source import Row, Rows, Source

NOW = "(the moment of the event)"
LATE = 2
# Places on the drawings of compartments are pixels of the sheet that they were drawn on.
PIXELS_WIDE, PIXELS_HIGH = 1280, 960
NOTED_OUT = ("condition", "fastened")
NOTED_FIRST = ("name", "kind", "system", "sat")
SUMMER, WINTER = dt.timezone(dt.timedelta(hours=2)), dt.timezone(dt.timedelta(hours=1))


@dataclass(frozen=True)
class Event:
    """One edit by phone ``who``. A tag's key is empty: the code is taken when it is tied on.

    ``evening`` is 0 in the shed, 1 by the stove, 2 late.
    """

    day: dt.date
    evening: int
    who: str
    table: str
    key: str
    values: dict[str, JsonValue]
    photo: Path | None = None


@dataclass
class Story:
    """The events, in the order in which each phone notes them."""

    source: Source
    rules: Rules
    events: list[Event] = field(default_factory=list)

    @property
    def first_day(self) -> dt.date:
        """The day of the walk round."""
        day: dt.date = self.source.sittings[0]["on"]
        return day

    def key(self, table: str, name: str) -> str:
        """The key of a record: a UUIDv7 of its first day, always the same for the same name."""
        return uuid7(dt.datetime.combine(self._born(table, name), dt.time(12), WINTER), table, name)

    def zone(self, day: dt.date) -> dt.timezone:
        """The shed's clock on ``day``."""
        return SUMMER if day < self.source.summer_time_ends else WINTER

    def tell(self) -> list[Event]:
        """All events."""
        self._walk_round()
        for name, row in self.source.items.items():
            self._item(name, row)
        self._jobs_done()
        self._waste()
        self._evenings()
        self._buying()
        self._weighings()
        self._tanks()
        self._lifts()
        self._pins()
        return self.events

    def _born(self, table: str, name: str) -> dt.date:
        day: dt.date | None = None
        if table == "item":
            day = self.source.items[name].get("found")
        elif table == "weighing":
            day = self.source.weighings[name]["on"]
        elif table in {"tank", "sounding"}:
            day = {"tank": self.source.tanks, "sounding": self.source.soundings}[table][name]["on"]
        elif table in {"lift", "eye"}:
            day = {"lift": self.source.lifts, "eye": self.source.eyes}[table][name]["on"]
        elif table == "container":
            day = self.source.containers[name]["opened"]
        elif table == "handover":
            day = self.source.handovers[name]["on"]
        return day or self.first_day

    def _note(
        self,
        when: tuple[dt.date, int, str],
        table: str,
        key: str,
        values: dict[str, JsonValue],
        photo: Path | None = None,
    ) -> None:
        day, evening, who = when
        if values:
            self.events.append(Event(day, evening, who, table, key, values, photo))

    def _walk_round(self) -> None:
        source, when = self.source, (self.first_day, False, "M")
        self._note(when, "boat", self.key("boat", "boat"), _plain(records.Boat, source.boat))
        for who, name in source.phones.items():
            self._note(when, "device", self.key("device", who), {"name": name})
        self._tree(when, "compartment", records.Compartment, source.compartments)
        evening = (self.first_day, True, "T")
        self._tree(evening, "place", records.Place, source.places)
        for name, row in source.jobs.items():
            values = _plain(records.Job, row)
            if "compartment" in row:
                values["compartment"] = self.key("compartment", row["compartment"])
            self._note(evening, "job", self.key("job", name), values)
        for first, then, why in source.befores:
            ends = {"first": self._target(first), "then": self._target(then), "why": why}
            self._note(evening, "before", self.key("before", f"{first} {then}"), {**ends})

    def _tree(
        self,
        when: tuple[dt.date, int, str],
        table: str,
        record: type[records.Record],
        rows: Rows,
    ) -> None:
        for name, row in rows.items():
            values = _plain(record, row)
            if "in" in row:
                values["within"] = self.key(table, row["in"])
            self._note(when, table, self.key(table, name), values)

    def _target(self, text: str) -> str:
        table, _, name = text.partition("/")
        return f"{table}/{self.key(table, name)}"

    def _item(self, name: str, row: Row) -> None:
        key, found, out = self.key("item", name), row.get("found"), row.get("out")
        finder = row.get("by", "M") if found else "MT"[len(name) % 2]
        listed = (found or self.first_day, False, finder)
        values = {field: row[field] for field in NOTED_FIRST if field in row}
        values["compartment"] = self.key("compartment", row["in"])
        if "drawn_from" in row:
            values["drawn_from"] = self.key("item", row["drawn_from"])
        self._note(listed, "item", key, {**values, "whereabouts": "aboard"})
        settled = _plain(records.Item, row, without=(*NOTED_FIRST, *NOTED_OUT, "drawn_from"))
        if out is None:
            settled |= {field: row[field] for field in NOTED_OUT if field in row}
            self._photos(name, row, listed)
            self._note((listed[0], True, finder), "item", key, settled)
            self._ends(name, row, (listed[0], True, finder))
            return
        at = (out, False, row["by"])
        noted = {field: row[field] for field in NOTED_OUT if field in row}
        self._note(at, "item", key, {"whereabouts": "ashore", "out_at": NOW, **noted})
        self._photos(name, row, at)
        for _ in range(row.get("tags", 1)):
            self._note(at, "tag", "", {"on": f"item/{key}"})
        self._note(at, "item", key, self._put(row))
        self._note((out, True, row["by"]), "item", key, settled)
        self._ends(name, row, (out, True, row["by"]))
        self._gone(row, key)

    def _put(self, row: Row) -> dict[str, JsonValue]:
        values: dict[str, JsonValue] = {}
        if "away" in row:
            values["place"] = self.key("place", row["away"])
        if "container" in row:
            values["container"] = self.key("container", row["container"])
        return values

    def _photos(self, name: str, row: Row, when: tuple[dt.date, int, str]) -> None:
        for number in range(1, row.get("photos", 1 if "out" in row else 0) + 1):
            key = uuid7(dt.datetime.combine(when[0], dt.time(12), WINTER), "photo", name, number)
            values: dict[str, JsonValue] = {"of": self._target(f"item/{name}"), "taken_at": NOW}
            self._note(when, "photo", key, values, self.source.photograph(name, number))

    def _ends(self, name: str, row: Row, when: tuple[dt.date, int, str]) -> None:
        for end in row.get("ends", ()):
            values: dict[str, JsonValue] = {"item": self.key("item", name), "label": end["label"]}
            if "to" in end:
                values["to_item"] = self.key("item", end["to"])
            if "at" in end:
                values["to_point"] = end["at"]
            values |= {field: end[field] for field in ("joined", "stud", "thread") if field in end}
            self._note(when, "end", self.key("end", f"{name} {end['label']}"), values)

    def _gone(self, row: Row, key: str) -> None:
        box = self.source.containers.get(row.get("container", ""), {})
        went = row.get("handover") or box.get("handover")
        day = row.get("gone") or (self.source.handovers[went]["on"] if went else None)
        if day is not None:
            left: dict[str, JsonValue] = {"whereabouts": "gone"}
            if "handover" in row:
                left["handover"] = self.key("handover", row["handover"])
            self._note((day, True, "M"), "item", key, left)

    def _jobs_done(self) -> None:
        for name, row in self.source.jobs.items():
            if "done" in row:
                who = "MT"[len(name) % 2]
                self._note(
                    (row["done"], False, who), "job", self.key("job", name), {"done_at": NOW}
                )

    def _waste(self) -> None:
        for name, row in self.source.handovers.items():
            values = _plain(records.Handover, row)
            self._note((row["on"], True, "M"), "handover", self.key("handover", name), values)
        for name, row in self.source.containers.items():
            key, opened = self.key("container", name), _plain(records.Container, row)
            weighed = opened.pop("gross_kg", None)
            if "place" in row:
                opened["place"] = self.key("place", row["place"])
            opened.pop("handover", None)
            opened["opened_at"] = row["opened"].isoformat()
            self._note((row["opened"], False, "M"), "container", key, opened)
            self._note((row["opened"], False, "M"), "tag", "", {"on": f"container/{key}"})
            if "closed" in row:
                closed: dict[str, JsonValue] = {
                    "closed_at": row["closed"].isoformat(),
                    "handover": self.key("handover", row["handover"]),
                }
                if weighed is not None:
                    closed["gross_kg"] = weighed
                self._note((row["closed"], True, "M"), "container", key, closed)
        self._said_of_waste()

    def _said_of_waste(self) -> None:
        """What was put where it may not be; lists that are sealed, and what was corrected later."""
        for row in self.source.mixings:
            of = {name: self.key(name, row[name]) for name in ("container", "item")}
            key = self.key("mixing", f"{row['container']} {row['item']}")
            values = _plain(records.Mixing, row, without=("item", "on"))
            self._note((row["on"], False, row["by"]), "mixing", key, {**values, **of, "on": NOW})
        for name, row in self.source.handovers.items():
            key = self.key("handover", name)
            self._note((row["on"], LATE, "M"), "handover", key, {"sealed_at": NOW})
        for row in self.source.corrections:
            values = _plain(records.Correction, row, without=("on",))
            about = {"handover": self._target(row["of"]).partition("/")[2], "on": NOW}
            about["item"] = self._target(row["about"])
            key = self.key("correction", f"{row['of']} {row['about']} {row['on']}")
            self._note((row["on"], True, row["by"]), "correction", key, {**values, **about})

    def _evenings(self) -> None:
        for number, row in enumerate(self.source.sittings):
            values = _plain(records.Work, row, without=("job", "compartment"))
            for table in ("job", "compartment"):
                if table in row:
                    values[table] = self.key(table, row[table])
            self._note((row["on"], True, "M"), "work", self.key("work", str(number)), values)
        for row in self.source.remarks:
            key = self.key("note", f"{row['on']} {row['of']}")
            values = {"of": self._target(row["of"]), "text": row["text"]}
            self._note((row["on"], True, row["by"]), "note", key, values)
        for row in self.source.edits:
            table, _, name = row["of"].partition("/")
            when = (row["on"], False, row["by"])
            self._note(when, table, self.key(table, name), dict(row["set"]))

    def _buying(self) -> None:
        source, rules = self.source, self.rules
        for name, row in (*source.prices.items(), *demo_buying.quoted(source.quoted)):
            values = _plain(records.Price, row)
            if "spec" not in row:
                values["spec"] = demo_buying.line_of(source, rules, row)
            self._note((row["heard"], True, "T"), "price", self.key("price", name), values)
        for row in source.specs:
            when = (row["on"], True, row["by"])
            self._note(
                when, "spec", demo_buying.line_of(source, rules, row), _plain(records.Spec, row)
            )
        for on, by, line, step, row in demo_buying.steps(source, rules):
            values = {step: NOW}
            if step == "bought_at":
                values |= demo_buying.told(row)
                if "price" in row:
                    values["from_price"] = self.key("price", row["price"])
            self._note((on, True, by), "purchase", line, values)
        for row in source.new_parts:
            self._new_part(row)
        for name, row in source.leftovers.items():
            values = _plain(records.Leftover, row)
            values["spec"] = demo_buying.line_of(source, rules, row)
            values["place"] = self.key("place", row["place"])
            self._note((row["on"], True, row["by"]), "leftover", self.key("leftover", name), values)

    def _new_part(self, row: Row) -> None:
        old, who = self.source.items[row["for"]], row["by"]
        noon = dt.datetime.combine(row["arrived"], dt.time(12), WINTER)
        key, came = uuid7(noon, "new part", row["for"]), (row["arrived"], True, who)
        keys: dict[str, JsonValue] = {
            "replaces": self.key("item", row["for"]),
            "compartment": self.key("compartment", old["in"]),
        }
        if "place" in row:
            keys["place"] = self.key("place", row["place"])
        self._note(came, "item", key, demo_buying.new_part(row, old, keys))
        self._note(came, "tag", "", {"on": f"item/{key}"})
        if "fitted" in row:
            aboard: dict[str, JsonValue] = {"whereabouts": "aboard", "back_at": NOW}
            self._note((row["fitted"], True, who), "item", key, aboard)

    def _weighings(self) -> None:
        for name, row in self.source.weighings.items():
            when, key = (row["on"], True, row["by"]), self.key("weighing", name)
            values = _plain(records.Weighing, row, without=("of",))
            self._note(when, "weighing", key, {**values, "of": self._target(row["of"]), "on": NOW})
            for item in row.get("items", ()):
                of = {"weighing": key, "item": self.key("item", item)}
                self._note(when, "weighed", self.key("weighed", f"{name} {item}"), {**of})

    def _tanks(self) -> None:
        for name, row in self.source.tanks.items():
            when, key = (row["on"], True, row["by"]), self.key("tank", name)
            values = _plain(records.Tank, row, without=("of",))
            self._note(when, "tank", key, {**values, "of": self.key("item", row["of"])})
        for name, row in self.source.soundings.items():
            when, key = (row["on"], True, row["by"]), self.key("sounding", name)
            values = _plain(records.Sounding, row, without=("tank", "on"))
            of = {"tank": self.key("tank", row["tank"]), "on": NOW}
            self._note(when, "sounding", key, {**values, **of})

    def _lifts(self) -> None:
        for name, row in self.source.lifts.items():
            when, key = (row["on"], True, row["by"]), self.key("lift", name)
            values = _plain(records.Lift, row, without=("of", "on"))
            of = {"of": self.key("item", row["of"]), "on": NOW}
            self._note(when, "lift", key, {**values, **of})
            for part in self.source.bolted.get(row["of"], ()):
                held = {"part_of": self.key("item", row["of"])}
                self._note(when, "item", self.key("item", part), {**held})
        for name, row in self.source.eyes.items():
            when, key = (row["on"], True, row["by"]), self.key("eye", name)
            values = _plain(records.Eye, row, without=("lift",))
            self._note(when, "eye", key, {**values, "lift": self.key("lift", row["lift"])})

    def _pins(self) -> None:
        """The photographs of compartments, taken on the walk round and pinned in the evening."""
        for place, row in self.source.pinned.items():
            noon = dt.datetime.combine(self.first_day, dt.time(12), WINTER)
            photo = uuid7(noon, "photo", place)
            of: dict[str, JsonValue] = {"of": self._target(f"compartment/{place}"), "taken_at": NOW}
            file = self.source.photograph_of_place(place)
            self._note((self.first_day, False, row["by"]), "photo", photo, of, file)
            for name, x, y, *_ in row["things"]:
                share = {"x": round(x / PIXELS_WIDE, 3), "y": round(y / PIXELS_HIGH, 3)}
                held: dict[str, JsonValue] = {"photo": photo, "item": self.key("item", name)}
                key = uuid7(noon, "pin", place, name)
                self._note((self.first_day, True, row["by"]), "pin", key, {**held, **share})


def uuid7(at: dt.datetime, *names: object) -> str:
    """A UUIDv7 whose random part is a digest of ``names``."""
    digest = hashlib.sha256("/".join(map(str, names)).encode()).digest()
    number = int(at.timestamp() * 1000) << 80 | int.from_bytes(digest[:10])
    number = number & ~(0xF << 76) | 0x7 << 76
    return str(uuid.UUID(int=number & ~(0x3 << 62) | 0x2 << 62))


def _plain(
    record: type[records.Record], row: Row, without: tuple[str, ...] = ()
) -> dict[str, JsonValue]:
    """What ``row`` says in the very words of the record's fields; dates as text."""
    refs = ("compartment", "place", "container", "within", "handover", *without)
    return {
        name: row[name].isoformat() if isinstance(row[name], dt.date) else row[name]
        for name in fields_of(record)  # type: ignore[arg-type]  # a class is hashable
        if name in row and name not in refs
    }
