"""A boat from a few rows, and the rules that a server runs with."""

from __future__ import annotations

import datetime
from collections.abc import Callable

import pytest

from shedtally.domain.boat import BoatRecords, from_values
from shedtally.domain.lists import WasteList, WasteStream
from shedtally.domain.rulebook import Rules
from shedtally.domain.waste.by_stream import waste_list
from shedtally.rules.load import load

# Before the doubt about the new battery codes begins.
DAY = datetime.date(2026, 10, 1)


@pytest.fixture(scope="session")
def rules() -> Rules:
    return load()


@pytest.fixture
def items() -> Callable[..., BoatRecords]:
    """A boat of items by key, and of whatever else is given as rows of (table, key, values)."""

    def made(*rows, **by_key) -> BoatRecords:
        return from_values("boat", [*rows, *(("item", key, v) for key, v in by_key.items())])

    return made


@pytest.fixture
def waste(items, rules) -> Callable[..., WasteList]:
    """The waste list of a boat of such items."""

    def made(*rows, law="eu", holder="business", on=DAY, **by_key) -> WasteList:
        return waste_list(items(*rows, **by_key), rules, law, holder, on)

    return made


@pytest.fixture
def stream(waste) -> Callable[..., WasteStream]:
    """The one stream that a single item falls into."""

    def made(law="eu", holder="business", on=DAY, **values) -> WasteStream:
        (only,) = waste(law=law, holder=holder, on=on, it=values).streams
        return only

    return made
