"""Trim on paper: two pictures, what is behind them, and the ledger of what came off and goes in."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator

from reportlab.platypus import Flowable, KeepTogether

from shedtally.domain.floating.lists import Floats, TrimList
from shedtally.domain.lifting.lists import Reach
from shedtally.domain.records import tag
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import CODE_WIDTH_MM, codes, number, words
from shedtally.printing.paper import ASKS, RIGHT, SMALL, STRONG_BODY, Heading, document
from shedtally.printing.tables import Cell, facts, opening, part, table
from shedtally.printing.trim_picture import TrimPicture, times_of

_TITLE = "Trim"
# The heaviest of a whole boat; what is lighter is summed up in the last line.
MOST_LINES = 36


def trim_pdf(trim: TrimList, heading: Heading) -> bytes:
    """The list as PDF on A4."""
    story = opening(_TITLE, heading, _lead(trim))
    story += [words(text, ASKS) for text in trim.warnings]
    for state in trim.states:
        story += _state(trim, state)
    if trim.facts:
        rows: list[list[Cell]] = [
            [
                words(fact.name, STRONG_BODY),
                words(f"{number(fact.value.likely, 2)} {fact.unit}", RIGHT),
                words(f"{number(fact.value.low, 2)} to {number(fact.value.high, 2)}", RIGHT),
                words(fact.how, SMALL),
            ]
            for fact in trim.facts
        ]
        story += [
            *part("Waterplane and stability"),
            table(["", "likely", "low to high", "got by"], [66, 34, 38, 40], rows),
        ]
    for state in trim.states:
        story += _ledger(state)
    story += [*part("Sources"), *(words(source, SMALL) for source in trim.sources)]
    return document(story, _TITLE, heading)


def trim_csv(trim: TrimList) -> str:
    """The ledger as CSV, one row an item and state."""
    heads = [
        "state", "item", "tag codes", "mass (kg)", "mass low (kg)", "mass high (kg)",
        "aft of the stem (m)", "to starboard (m)", "place got by",
    ]  # fmt: skip
    return csv_text(heads, _csv_rows(trim))


def _csv_rows(trim: TrimList) -> Iterator[list[Value]]:
    for state in trim.states:
        for row in state.moved:
            yield [
                state.name, row.name, several(tag.shown(code) for code in row.tags),
                round(row.kg, 3), round(row.low_kg, 3), round(row.high_kg, 3),
                round(row.aft_m, 2), round(row.off_m, 2), row.how,
            ]  # fmt: skip


def _lead(trim: TrimList) -> str:
    if trim.missing:
        return f"Not reckoned yet. {'; '.join(trim.missing)}."
    return (
        f"Change of draught, trim and list against how she floated with everything aboard, in "
        f"{trim.water} water. Low and high hold about 95 of 100 cases."
    )


def _state(trim: TrimList, state: Floats) -> list[Flowable]:
    story = part(state.name)
    if state.sinkage_cm:
        times = times_of(state)
        large = "true to scale" if times == 1 else f"changes drawn {times} times as large"
        story += [
            TrimPicture(trim.shape, state),
            words(
                "Profile, bow to the left, and section seen from aft. Thin: waterline before. "
                f"Blue: waterline then; {large}. More draught is deeper in the water.",
                SMALL,
            ),
        ]
    story.append(
        facts(
            [
                ("weight", _way(state.mass, " kg", "on", "off", 0)),
                ("mean draught", _way(state.sinkage_cm, " cm", "more", "less")),
                ("at the bow", _way(state.fore_cm, " cm", "more", "less")),
                ("at the stern", _way(state.aft_cm, " cm", "more", "less")),
                ("trim", _way(state.trim_cm, " cm", "by the stern", "by the bow")),
                ("list", _way(state.list_deg, "°", "to starboard", "to port")),
                ("draught", _draught(state)),
            ]
        )
    )
    story += [words(text, ASKS) for text in state.refused]
    # Half of the figures on the next page would be taken for all of them.
    return [KeepTogether(story)]


def _ledger(state: Floats) -> list[Flowable]:
    if not state.moved:
        return []
    usual, _ = Counter(row.how for row in state.moved).most_common(1)[0]
    rows: list[list[Cell]] = [
        [
            codes(row.tags),
            # A remark that nearly every line has is said once, over the table.
            [
                words(row.name, STRONG_BODY),
                *([] if row.how == usual else [words(row.how, SMALL)]),
            ],
            words(f"{number(row.aft_m, 1)} m", RIGHT),
            words(f"{number(row.off_m, 1)} m", RIGHT),
            words(f"{number(row.kg, 1)} kg", RIGHT),
        ]
        for row in state.moved[:MOST_LINES]
    ]
    rest = state.moved[MOST_LINES:]
    if rest:
        together = number(math.fsum(row.kg for row in rest), 1)
        lighter = f"{len(rest)} more, each of {number(abs(rest[0].kg), 1)} kg or less"
        where = words("All of them are in the table of the same list.", SMALL)
        rows.append(
            ["", [words(lighter, STRONG_BODY), where], "", "", words(f"{together} kg", RIGHT)]
        )
    heads = ["tag", "what", "aft", "starboard", "mass"]
    return [
        *part(
            f"{state.name}: what came off and goes in",
            "Weight off is below 0, weight on above it. Places, where nothing else is said: "
            f"{usual[0].lower()}{usual[1:]}",
        ),
        table(heads, [CODE_WIDTH_MM + 4, 84, 18, 20, 25], rows, right=3),
    ]


def _way(value: Reach | None, unit: str, up: str, down: str, digits: int = 1) -> str:
    """A figure that goes either way, in words: *2.1 cm less, 1.4 to 2.9 cm less*."""
    if value is None:
        return ""

    def one(figure: float) -> str:
        shown = number(abs(figure), digits)
        nothing = not any(digit in shown for digit in "123456789")
        return f"{shown}{unit}" if nothing else f"{shown}{unit} {up if figure > 0 else down}"

    near, far = sorted((value.low, value.high), key=abs)
    if near * far < 0:
        near, far = value.low, value.high
    return f"{one(value.likely)}; {one(near)} to {one(far)}"


def _draught(state: Floats) -> str:
    ends = ((state.draught_fore_m, "fore"), (state.draught_aft_m, "aft"))
    return ", ".join(f"{number(value, 2)} m {end}" for value, end in ends if value is not None)
