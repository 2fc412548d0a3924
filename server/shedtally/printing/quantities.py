"""Quantities of waste over time on paper: months, limits, days by which it must go, streams."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable

from shedtally.domain.lists import Spread
from shedtally.domain.waste.box_lists import Limit, MonthLine, Quantities, Standing, StreamAmount
from shedtally.printing.charts import KilogramsByMonth
from shedtally.printing.csv_text import Value, csv_text
from shedtally.printing.figures import Bar, kilograms, number, range_words, words
from shedtally.printing.figures import mass as mass_words
from shedtally.printing.paper import (
    ASKS,
    RIGHT,
    SMALL,
    SMALL_CAUTION,
    STRONG_BODY,
    Heading,
    day,
    document,
)
from shedtally.printing.tables import Cell, opening, part, table

_TITLE = "Waste over the months"
STANDING = "Local rules and licensed firms come first."


def quantities_pdf(found: Quantities, heading: Heading) -> bytes:
    """The list as PDF on A4: limits first, then months as bars and table, days, streams."""
    story = opening(_TITLE, heading, _lead(found))
    story += [words(text, STRONG_BODY) for text in _unknown(found)]
    story += _limits(found)
    story += _standing(found.standing)
    story += _months(found.months)
    story += _streams(found.streams)
    story += part("What these rules say")
    story += [words(text, SMALL) for text in (*found.sayings, STANDING)]
    return document(story, _TITLE, heading)


def quantities_csv(found: Quantities) -> str:
    """The list as CSV: one row a month, then what came up on no known day, then the sum."""
    heads = [
        "month", "came up low (kg)", "came up likely (kg)", "came up high (kg)",
        "hazardous likely (kg)", "counted low (kg)", "counted likely (kg)", "counted high (kg)",
        "gone likely (kg)", "category", "category by the high value", "rule set",
    ]  # fmt: skip
    return csv_text(heads, _csv_rows(found))


def _csv_rows(found: Quantities) -> Iterator[list[Value]]:
    for row in reversed(found.months):
        yield [
            row.period, row.came_up.low, row.came_up.likely, row.came_up.high,
            row.hazardous.likely, row.counted.low, row.counted.likely, row.counted.high,
            row.gone.likely, row.step, row.step_high, found.rule_set_name,
        ]  # fmt: skip
    one, part = found.undated, found.undated_counted
    yield [
        "day not known", one.low, one.likely, one.high, None, part.low, part.likely, part.high,
        found.gone_undated.likely, "", "", found.rule_set_name,
    ]  # fmt: skip


def _kg(spread: Spread) -> str:
    between = range_words(spread)
    return f"{kilograms(spread.likely)} kg" + (f" ({between})" if between else "")


def _mass(of: Spread) -> Cell:
    """A mass; a dash where there is nothing, which is no doubt about how much."""
    return words("–", RIGHT) if of.high == 0 else mass_words(of)


def _lead(found: Quantities) -> str:
    said = [
        f"Ashore now {_kg(found.on_site)}, gone {_kg(found.gone)}.",
        f"Still aboard {_kg(found.aboard)}.",
        f"Rules of {found.rule_set_name}, {found.holder}.",
    ]
    if found.step:
        high = f"; by the high value {found.step_high}" if found.step_high != found.step else ""
        said.append(f"{found.ladder} now: {found.step}{high}.")
    if found.no_limits:
        said.append(found.no_limits)
    return " ".join(said)


def _unknown(found: Quantities) -> Iterator[str]:
    if found.undated.likely:
        yield (
            f"{_kg(found.undated)} came out on no known day; {_kg(found.undated_counted)} of it "
            "is counted in the present period. Enter the days on the items."
        )
    if found.gone_undated.likely:
        yield f"{_kg(found.gone_undated)} went on no known day. Enter the day of the handover."


def _limits(found: Quantities) -> list[Flowable]:
    if not found.limits:
        return []
    rate = f"{number(found.kg_a_month, 1)} kg a month are counted, from the last 90 days."
    rows = [_limit(limit) for limit in found.limits]
    heads = ["limit", "how far", "now"]
    return [*part("Limits", rate), table(heads, [92, 46, 38], rows, right=1)]


def _limit(limit: Limit) -> list[Cell]:
    what: list[Flowable] = [
        words(f"{limit.name}: {number(limit.limit_kg)} kg", STRONG_BODY),
        words(limit.meaning),
    ]
    said = warned(limit)
    if said:
        what.append(words(said, SMALL_CAUTION if limit.warn == "over" else ASKS))
    what.append(words("; ".join(limit.sources), SMALL))
    share = f"{round(100 * limit.share)} %"
    return [what, [Bar(limit.share, 42), words(share)], _mass(limit.now)]


def warned(limit: Limit) -> str:
    """What must be said of a limit, empty where it is far off."""
    word = {
        "over": "Over the limit. Call a licensed firm.",
        "may be over": "May be over: the high value is. Weigh what is here.",
        "near": "Near: 80 % or more.",
        "": "",
    }[limit.warn]
    if limit.day and limit.warn != "over":
        return f"{word} Reached about {_day(limit.day)} at the present rate.".strip()
    if limit.day_high and not limit.warn:
        return f"By the high value reached about {_day(limit.day_high)}."
    return word


def _day(text: str) -> str:
    return day(dt.date.fromisoformat(text))


def _standing(rows: Sequence[Standing]) -> list[Flowable]:
    if not rows:
        return []
    return [
        *part("Must be gone by", "Counted from the first day that is known of each."),
        table(
            ["what", "since", "gone by", "days left"],
            [86, 34, 34, 22],
            [_stands(row) for row in rows],
            right=1,
        ),
    ]


def _stands(row: Standing) -> list[Cell]:
    if row.left is None:
        return [words(row.name, STRONG_BODY), words("day not known", ASKS), "", words("?", RIGHT)]
    style = SMALL_CAUTION if row.warn == "over" else ASKS
    due: list[Flowable] = [words(_day(row.due))]
    if row.warn:
        due.append(words("overdue" if row.warn == "over" else "soon", style))
    return [words(row.name, STRONG_BODY), words(_day(row.since)), due, words(str(row.left), RIGHT)]


def _months(months: Sequence[MonthLine]) -> list[Flowable]:
    if not months:
        return [*part("By month"), words("Nothing has come up on a known day yet.")]
    rows: list[list[Cell]] = [
        [
            [words(month_words(row.period), STRONG_BODY), words(row.step, SMALL)],
            _mass(row.came_up),
            _mass(row.hazardous),
            _mass(row.counted),
            _mass(row.gone),
        ]
        for row in months
    ]
    heads = ["month", "came up", "of it hazardous", "counted", "gone"]
    return [
        *part("By month", "By the day an item came out; gone by the day of the handover."),
        KilogramsByMonth([*reversed(months)]),
        table(heads, [52, 31, 31, 31, 31], rows, right=4),
    ]


def month_words(period: str) -> str:
    """``2026-11`` as November 2026."""
    return f"{dt.date.fromisoformat(period + '-01'):%B %Y}"


def _streams(streams: Sequence[StreamAmount]) -> list[Flowable]:
    if not streams:
        return []
    rows: list[list[Cell]] = [
        [_stream(row), words(row.code), _mass(row.on_site), _mass(row.gone)] for row in streams
    ]
    heads = ["stream", "code", "ashore", "gone"]
    return [*part("By stream"), table(heads, [90, 26, 30, 30], rows, right=2)]


def _stream(row: StreamAmount) -> list[Flowable]:
    found: list[Flowable] = [words(row.name, STRONG_BODY)]
    if row.hazardous:
        found.append(words("hazardous", SMALL_CAUTION))
    if row.left_out:
        found.append(words(f"not counted: {row.left_out}", SMALL))
    return found
