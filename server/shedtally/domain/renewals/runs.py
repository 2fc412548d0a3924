"""The runs on the renewals list: lengths, where they lead, how they were held, which are alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from shedtally.domain.aboard.out import pieces
from shedtally.domain.aboard.run_ends import Joint, RunEnds
from shedtally.domain.aboard.run_length import length_of
from shedtally.domain.lists import RunLength
from shedtally.domain.renewals.parts import Wanted
from shedtally.domain.renewals.spec_words import Added


class RenewalRuns:
    """Looks at the ends of each run once, for all that the list says of them.

    ``held`` says of each hose how its ends were held, by key; empty texts where nobody wrote it.
    """

    def __init__(self, ends: RunEnds) -> None:
        self._ends = ends
        self._lengths: dict[str, RunLength] = {}
        self._by_pair: dict[tuple[str, ...], str] = {}
        self._alike: dict[tuple[str, ...], list[str]] = {}
        self.held: dict[str, tuple[str, ...]] = {}

    def add(self, want: Wanted, added: Added) -> None:
        """Read one run, with what is added to its length."""
        item, kind = want.item, want.parts.kind
        found = self._ends.of(item)
        length = length_of(self._ends.boat, item, found)
        low, likely, high = length.mm or (None, None, None)
        self._lengths[item.key] = RunLength(
            item.key,
            item.name or (kind.name if kind else ""),
            self._ends.boat.codes.get(f"item/{item.key}", ()),
            pieces(item),
            likely,
            None if likely is None else added.cut_mm(likely),
            low,
            high,
            length.how,
            tuple(map(self._ends.said, found)),
        )
        if kind and kind.section == "hose":
            self.held[item.key] = tuple(joint.held for joint in found)
        if pair := _pair(found):
            first = self._by_pair.setdefault(pair, item.key)
            if first != item.key:
                self._alike.setdefault(pair, [first]).append(item.key)

    def lengths(self, group: Iterable[Wanted]) -> Iterator[RunLength]:
        """The lengths of those of a group that are runs."""
        for want in group:
            if found := self._lengths.get(want.item.key):
                yield found

    def alike(self) -> Mapping[str, tuple[str, ...]]:
        """Of each run that joins the same two things as another: all that do, by key."""
        groups = [tuple(keys) for keys in self._alike.values()]
        return {key: group for group in groups for key in group}


def _pair(found: Sequence[Joint]) -> tuple[str, ...] | None:
    """The two things that a run joins; None where it has other than two ends, or one is open."""
    if len(found) != 2:
        return None
    names = [joint.to.key if joint.to else f"?{joint.point}" for joint in found]
    return None if "?" in names else tuple(sorted(names))
