"""The first page of the order: what it costs, what can be ordered today, what has to be asked."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence

from reportlab.platypus import Flowable

from shedtally.domain.buying.lists import OrderLine, OrderList
from shedtally.printing.figures import counted, number, spec_without, words
from shedtally.printing.paper import RIGHT, STRONG_BODY
from shedtally.printing.tables import Cell, section, table

TO_BUY = "to buy"
# From so many lines of a group on, what all of them say is said once at its head.
SHARED_FROM = 3
_MOST_NAMES = 24
_SHORT = 30


def is_ready(line: OrderLine) -> bool:
    """Whether it can be ordered today: not bought yet, priced, and nothing to be asked first."""
    return line.state == TO_BUY and line.cost is not None and not line.asks


def lead(order: OrderList) -> str:
    """How many lines, how far they are, and what can be ordered at once, in a few sentences."""
    if not order.lines:
        return "Nothing is to be renewed yet, so there is nothing to order."
    states = Counter(line.state for line in order.lines)
    by_state = ", ".join(f"{count} {state}" for state, count in states.items())
    said = [f"{counted(len(order.lines), 'line')}: {by_state}."]
    ready = [line for line in order.lines if is_ready(line)]
    if ready:
        said.append(f"{counted(len(ready), 'line')} can be ordered today, for {_money(ready)}.")
    asked = sum(line.state == TO_BUY and not is_ready(line) for line in order.lines)
    if asked:
        said.append(f"{counted(asked, 'line')} to be asked or looked at first.")
    if order.unpriced:
        said.append(f"{counted(order.unpriced, 'line')} without a price: in no sum.")
    return " ".join(said)


def summary(groups: Mapping[str, Sequence[OrderLine]], by: str) -> list[Flowable]:
    """A row for each group, and the names of what has no price."""
    heads = [by, "to buy", "today", "ask first", "no price", "still to buy", "bought"]
    rows = [_row(name, lines) for name, lines in groups.items()]
    rows.append(_row("All", [line for lines in groups.values() for line in lines]))
    missing = [line for lines in groups.values() for line in lines if line.cost is None]
    found: list[Flowable] = [
        *section("What it costs", "today: can be ordered as it stands"),
        table(heads, [50, 14, 14, 16, 16, 36, 32], rows, right=6),
    ]
    if missing:
        names = [_short(line) for line in missing[:_MOST_NAMES]]
        more = len(missing) - len(names)
        rest = [f"and {more} more"] if more else []
        found += [*section("Without a price"), words("; ".join([*names, *rest]) + ".")]
    return found


def shared(lines: Sequence[OrderLine]) -> Mapping[str, int]:
    """What several lines of a group say alike, and how many do; short words stay on each line."""
    said = Counter(text for line in lines for text in dict.fromkeys([*line.details, *line.asks]))
    return {
        text: count for text, count in said.items() if count >= SHARED_FROM and len(text) > _SHORT
    }


def _row(name: str, lines: Sequence[OrderLine]) -> list[Cell]:
    open_lines = [line for line in lines if line.state == TO_BUY]
    asked = sum(not is_ready(line) and line.cost is not None for line in open_lines)
    figures = (
        len(open_lines),
        sum(map(is_ready, open_lines)),
        asked,
        sum(line.cost is None for line in lines),
    )
    bought = [line for line in lines if line.state != TO_BUY]
    return [
        words(name, STRONG_BODY),
        *(words(number(count) if count else "", RIGHT) for count in figures),
        words(_money(open_lines), RIGHT),
        words(_money(bought), RIGHT),
    ]


def _money(lines: Sequence[OrderLine]) -> str:
    """``1 240.50 EUR and 236.00 GBP``; empty where nothing has a price."""
    sums: defaultdict[str, float] = defaultdict(float)
    for line in lines:
        if line.cost is not None:
            sums[line.currency] += line.cost
    return " and ".join(f"{number(sums[money], 2)} {money}" for money in sorted(sums))


def _short(line: OrderLine) -> str:
    return spec_without(line.spec, line.standard)
