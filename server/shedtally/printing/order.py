"""The order on paper, by system or by supplier, and as a table."""

from __future__ import annotations

import datetime as dt
import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence

from reportlab.platypus import Flowable

from shedtally.domain.buying.lists import CutSheet, OrderLine, OrderList
from shedtally.domain.records import tag
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import (
    Tick,
    capital,
    codes_in_words,
    counted,
    number,
    spec_without,
    trade_word,
    words,
)
from shedtally.printing.order_summary import TO_BUY, lead, shared, summary
from shedtally.printing.paper import (
    ASKS,
    RIGHT,
    SMALL,
    SMALL_RIGHT,
    STRONG_BODY,
    Heading,
    document,
)
from shedtally.printing.phrases import phrases
from shedtally.printing.tables import Cell, numbered_cautions, opening, part, table
from shedtally.printing.workbook import Page, workbook

_TITLE = "Order list"
_STANDING = "Local rules and licensed trades come first. Check every type and size before ordering."
_SHORTEST = "No shorter purchase is possible."
# A heading with what is said of its whole group, and a deep first line.
_NEEDS_MM = 60
_NO_SUPPLIER = "Supplier not chosen yet"
_HEADS = (
    "system", "spec", "size", "standard", "count (pieces)", "order length (m)", "to buy as",
    "state", "bought", "arrived", "fitted", "supplier", "cost", "currency", "bound of cost",
    "substitute", "tag codes of the old", "tag codes of the new", "asks", "note",
)  # fmt: skip
_CUTS = (
    "spec", "stock (m)", "from", "cut", "for", "tag codes", "length (m)", "kerf (mm)", "left (m)",
)  # fmt: skip


def order_pdf(order: OrderList, heading: Heading) -> bytes:
    """The order as PDF on A4, a table for each system."""
    return _pdf(order, heading, _system, _TITLE)


def order_pdf_by_supplier(order: OrderList, heading: Heading) -> bytes:
    """The order as PDF on A4, a table for each supplier, to be sent to them."""
    return _pdf(order, heading, supplier_of, "Order list by supplier")


def order_csv(order: OrderList) -> str:
    """The order as CSV, one row a line."""
    return csv_text(_HEADS, _rows(order))


def order_xlsx(order: OrderList, heading: Heading) -> bytes:
    """The order and every cut as a workbook of two sheets."""
    pages = [
        Page("order", _HEADS, list(_rows(order)), money=("cost", "bound of cost")),
        Page("cuts", _CUTS, list(_cut_rows(order))),
    ]
    return workbook(pages, f"{_TITLE}, {heading.boat_name}", heading.made_on)


def supplier_of(line: OrderLine) -> str:
    """Who it is bought from: as written, else who asks the least."""
    return line.supplier or " and ".join(line.sellers) or _NO_SUPPLIER


def bought_as(line: OrderLine) -> str:
    """``2 reels of 25 m, 1.40 m by the metre``; pieces for what isn't cut."""
    if line.cut is None:
        if line.buy_as:
            return line.buy_as
        if line.order_mm is not None:
            return f"{metres(line.order_mm)} m in all"
        return counted(line.count, "piece")
    return cut_words(line.cut)


def cut_words(cut: CutSheet) -> str:
    """What is bought for a cutting sheet, in words."""
    counts: defaultdict[int, int] = defaultdict(int)
    for one in cut.stock:
        if not one.from_shed:
            counts[one.length_mm] += 1
    parts = [
        f"{n} reel{'s' if n > 1 else ''} of {metres(length)} m"
        for length, n in sorted(counts.items(), reverse=True)
    ]
    if cut.by_metre:
        whole = sum(piece.length_mm for piece in cut.by_metre)
        parts.append(f"{metres(whole)} m by the metre")
    if not parts:
        return "nothing: what lies in the shed is enough" if cut.stock else "nothing can be cut"
    return ", ".join(parts)


def metres(length_mm: float) -> str:
    """Metres without needless noughts: 25, 1.4, 0.315."""
    return f"{length_mm / 1000:.3f}".rstrip("0").rstrip(".")


def money(amount: float, currency: str) -> str:
    """An amount with its currency: 1 240.50 EUR."""
    return f"{number(amount, 2)} {currency}"


def proof(cut: CutSheet) -> str:
    """How near the plan is to the best there could be, in a sentence or two."""
    if not cut.stock and not cut.by_metre:
        return "Nothing on offer and nothing in the shed holds these runs: nothing is cut."
    left_out = " The runs that nothing holds are left out." if cut.too_long else ""
    if not cut.bought_mm:
        return f"Nothing must be bought: what lies in the shed is enough.{left_out}"
    return f"{_nearness(cut)}{left_out}"


def _nearness(cut: CutSheet) -> str:
    if cut.cost is None or cut.bound is None:
        if cut.proven:
            return "No cheaper purchase is possible." if cut.currency else _SHORTEST
        if cut.currency:
            return "Whether a cheaper purchase is possible is open."
        return f"{_share(cut.bought_mm, cut.least_mm)} longer than the shortest purchase could be."
    least = f"No plan costs less than {money(cut.bound, cut.currency)}"
    if cut.proven:
        return f"{least}: this is the cheapest."
    if not cut.bound:
        return f"Whether it could be done for less than {money(cut.cost, cut.currency)} is open."
    return f"{least}. {_share(cut.cost, cut.bound)} dearer than the cheapest could be."


def _share(got: float, least: float) -> str:
    """How much worse at most: ``This one is at most 0.4 %``. A gap too small to print isn't 0."""
    gap = 100 * (got - least) / least if least else 0.0
    return f"This one is at most {max(0.1, math.ceil(gap * 10) / 10):.1f} %"


def _pdf(order: OrderList, heading: Heading, by: Callable[[OrderLine], str], title: str) -> bytes:
    groups = _grouped(order.lines, by)
    story: list[Flowable] = opening(title, heading, lead(order))
    if groups:
        story += summary(groups, "supplier" if by is supplier_of else "system")
    if order.cautions:
        story += numbered_cautions([(text, "") for text in order.cautions], _STANDING)
    for name, lines in groups.items():
        alike = shared(lines)
        heads = ["", "what", "to buy as", "state", "cost"]
        rows = [_row(line, alike, of=name) for line in lines]
        story += part(name, needs_mm=_NEEDS_MM)
        story += [words(f"{count} lines: {text}", SMALL) for text, count in alike.items()]
        story.append(table(heads, [8, 80, 31, 35, 24], rows, right=1))
    return document(story, title, heading)


def _system(line: OrderLine) -> str:
    return capital(trade_word(line.system)) or "No system"


def _grouped(
    lines: Sequence[OrderLine], by: Callable[[OrderLine], str]
) -> Mapping[str, list[OrderLine]]:
    found: defaultdict[str, list[OrderLine]] = defaultdict(list)
    for line in lines:
        found[by(line)].append(line)
    return dict(sorted(found.items())) if by is supplier_of else found


def _row(line: OrderLine, alike: Mapping[str, int], of: str) -> list[Cell]:
    what: list[Flowable] = [words(spec_without(line.spec, line.standard), STRONG_BODY)]
    if line.standard:
        what.append(words(line.standard, SMALL))
    # How to choose it is of no use once it is there.
    details = line.details if line.state == TO_BUY else ()
    what += [words(detail, SMALL) for detail in details if detail not in alike]
    if line.tags:
        what.append(words("for " + codes_in_words(line.tags), SMALL))
    what += [words(f"ask first: {ask}", ASKS) for ask in line.asks if ask not in alike]
    how: list[Flowable] = [words(bought_as(line))]
    if line.supplier and line.supplier != of:
        how.append(words(line.supplier, SMALL))
    state: list[Flowable] = [words(line.state, STRONG_BODY)]
    steps = (("bought", line.bought), ("arrived", line.arrived), ("fitted", line.fitted))
    state += [words(f"{step} {_on(date)}", SMALL) for step, date in steps if date]
    cost: list[Flowable] = [
        words("not known" if line.cost is None else money(line.cost, line.currency), RIGHT)
    ]
    if line.cut is not None and line.cut.bound is not None and line.cost is not None:
        least = money(line.cut.bound, line.currency)
        cost.append(words("cheapest" if line.cut.proven else f"at least {least}", SMALL_RIGHT))
    return [Tick(done=line.state != TO_BUY), what, how, state, cost]


def _on(date: str) -> str:
    """``7 Nov 2026`` of a date as it is kept; the rest of what isn't one as it stands."""
    try:
        found = dt.date.fromisoformat(date[:10])
    except ValueError:
        return date[:10]
    return phrases().day(found, short=True)


def _rows(order: OrderList) -> Iterator[list[Value]]:
    for line in order.lines:
        supplier = supplier_of(line)
        yield [
            line.system, line.spec, line.size, line.standard, line.count,
            None if line.order_mm is None else line.order_mm / 1000, bought_as(line), line.state,
            line.bought[:10], line.arrived[:10], line.fitted[:10],
            "" if supplier == _NO_SUPPLIER else supplier, line.cost, line.currency,
            line.cut.bound if line.cut else None, line.substitute,
            several(tag.shown(code) for code in line.tags),
            several(tag.shown(code) for code in line.new_parts), several(line.asks), line.note,
        ]  # fmt: skip


def _cut_rows(order: OrderList) -> Iterator[list[Value]]:
    for line in order.lines:
        for one in line.cut.stock if line.cut else ():
            for at, piece in enumerate(one.pieces, start=1):
                last = at == len(one.pieces)
                yield [
                    line.spec, one.length_mm / 1000, "shed" if one.from_shed else one.name, at,
                    piece.name, several(tag.shown(code) for code in piece.tags),
                    piece.length_mm / 1000, one.kerf_mm if last else None,
                    one.left_mm / 1000 if last else None,
                ]  # fmt: skip
        for piece in line.cut.by_metre if line.cut else ():
            yield [
                line.spec, None, "by the metre", None, piece.name,
                several(tag.shown(code) for code in piece.tags), piece.length_mm / 1000, None, None,
            ]  # fmt: skip
