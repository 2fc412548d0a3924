"""Photographs with pins on them: where each item sat, beside its number in a list."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from shedtally.domain.records import Photo, Pin


@dataclass(frozen=True, slots=True)
class PinnedItem:
    """One pin: shares of the picture's width from the left and of its height down."""

    item: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class PinnedPhoto:
    """A photograph by its digest, and what is pinned on it, in the order of the pins' keys."""

    sha256: str
    of: str
    pins: tuple[PinnedItem, ...]


def pinned_photos(pins: Mapping[str, Pin], photos: Mapping[str, Photo]) -> tuple[PinnedPhoto, ...]:
    """Every photograph that is there and has a pin on it, in the order of their keys.

    A pin without an item, a place or its photograph is left out: it is still on its way.
    """
    found: defaultdict[str, list[PinnedItem]] = defaultdict(list)
    for _, pin in sorted(pins.items()):
        if pin.photo and pin.item and pin.x is not None and pin.y is not None:
            found[pin.photo].append(PinnedItem(pin.item, pin.x, pin.y))
    made = []
    for key, on_it in sorted(found.items()):
        photo = photos.get(key)
        if photo is not None and photo.sha256:
            made.append(PinnedPhoto(photo.sha256, photo.of or "", tuple(on_it)))
    return tuple(made)
