"""What must not share a container or a shelf: the rows of apart.toml, asked for two streams."""

from __future__ import annotations

from shedtally.domain.rulebook import Rules
from shedtally.domain.rulebook.law import Apart, ApartLevel


def may_share(rules: Rules, stream_a: str, stream_b: str, level: ApartLevel) -> Apart | None:
    """The ban on two streams in one container, or on one shelf; None: they may share it.

    ``only_if`` of what is returned says what lifts the ban; empty: nothing does. The answer is the
    same in either order. A ban without ``only_if`` comes before one that can be lifted. Two pieces
    of one stream may share unless a row names that stream twice. What may not share a shelf may
    not share a container. A stream that answers made milder (drained filters) goes with its own.
    Source: 49 CFR 177.848 and the plain separations; each row of apart.toml names its own.
    """
    same = rules.mild_of(stream_a) == rules.mild_of(stream_b)
    levels = {level, "shelf"}
    found = [
        row
        for row in rules.apart
        if row.level in levels and _bans(rules, row, stream_a, stream_b, same=same)
    ]
    return min(found, key=lambda row: bool(row.only_if), default=None)


class Bans:
    """The same answers as `may_share` for many pairs: what a stream is, is asked once."""

    def __init__(self, rules: Rules, level: ApartLevel) -> None:
        self._rules = rules
        self._rows = [row for row in rules.apart if row.level in {level, "shelf"}]
        self._sides: dict[str, tuple[frozenset[int], frozenset[int]]] = {}

    def between(self, one: str, other: str) -> Apart | None:
        """The ban on two streams, as `may_share` tells it."""
        if self._rules.mild_of(one) == self._rules.mild_of(other):
            found = [row for row in self._rows if _bans(self._rules, row, one, other, same=True)]
        else:
            (first, second), (others_first, others_second) = self._of(one), self._of(other)
            rows = (first & others_second) | (others_first & second)
            found = [self._rows[n] for n in sorted(rows)]
        return min(found, key=lambda row: bool(row.only_if), default=None)

    def _of(self, stream: str) -> tuple[frozenset[int], frozenset[int]]:
        """The rows that mean a stream by their first side, and by their second."""
        if stream not in self._sides:
            rows, rules = list(enumerate(self._rows)), self._rules
            self._sides[stream] = (
                frozenset(n for n, row in rows if _is(rules, row.first, stream)),
                frozenset(n for n, row in rows if _is(rules, row.second, stream)),
            )
        return self._sides[stream]


def transport_table(rules: Rules, class_a: str, class_b: str) -> Apart | None:
    """The row of 49 CFR 177.848 for two classes, as printed in apart.toml; None: no rule."""
    pair = {f"class:{class_a}", f"class:{class_b}"}
    return next((row for row in rules.apart if {row.first, row.second} == pair), None)


def _bans(rules: Rules, row: Apart, one: str, other: str, *, same: bool) -> bool:
    if same:
        return row.first == row.second == one == other
    return (_is(rules, row.first, one) and _is(rules, row.second, other)) or (
        _is(rules, row.first, other) and _is(rules, row.second, one)
    )


def _is(rules: Rules, selector: str, stream: str) -> bool:
    """Whether a stream is meant by a selector: itself, a set, a class, a hazard or any."""
    known = rules.streams.get(stream)
    if selector == "any":
        return True
    if selector == "hazard":
        return known is None or known.in_itself
    if selector.startswith("class:"):
        return known is not None and selector[6:] in known.classes
    if selector.startswith("set:"):
        return stream in rules.stream_sets[selector[4:]]
    return selector == stream
