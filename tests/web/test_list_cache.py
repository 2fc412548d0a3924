"""The cache of lists holds little, forgets the oldest, and never mixes two keys up."""

from __future__ import annotations

import pytest

from shedtally.usecases.read_lists import ListCache


def test_the_least_recently_used_list_goes_first() -> None:
    cache, made = ListCache(lists=2), []

    def get(key: str) -> str:
        return cache.list(key, lambda: made.append(key) or key)

    for key in ("a", "b", "a", "c", "a", "b"):
        assert get(key) == key
    assert made == ["a", "b", "c", "b"]


def test_what_failed_is_not_kept() -> None:
    cache = ListCache()

    def fail() -> str:
        raise RuntimeError("not now")

    with pytest.raises(RuntimeError, match="not now"):
        cache.list("a", fail)
    assert cache.list("a", lambda: "made") == "made"
