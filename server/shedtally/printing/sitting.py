"""A plan for one sitting, for the pocket: boxes to tick, times, and what must not be forgotten."""

from __future__ import annotations

from collections.abc import Mapping

from reportlab.platypus import Flowable

from shedtally.domain.work.sitting import Sitting, Turn
from shedtally.printing.figures import Line, Tick, words
from shedtally.printing.paper import (
    ASKS,
    CAUTION,
    RIGHT,
    SMALL,
    STRONG_BODY,
    Heading,
    document,
)
from shedtally.printing.tables import Cell, opening, section, table

_TITLE = "One sitting"
_CAUTIONS = (
    "Make safe before anything is loosened: seacocks, batteries, shore power, fuel and gas.",
    "No sparks and no flame while fuel or gas is open, nor until it has been aired.",
    "Local rules and licensed trades come first.",
    "What is heavy or overhead is not lifted alone. Stop when you are tired.",
)
_LINES = 5


def sitting_pdf(plan: Sitting, heading: Heading, places: Mapping[str, str]) -> bytes:
    """The plan as PDF on A4. Args: places: compartments in words, by key."""
    story = opening(_TITLE, heading, _lead(plan))
    story += [words(text, CAUTION) for text in _CAUTIONS]
    if plan.turns:
        rows = [_row(turn, places.get(turn.compartment, "")) for turn in plan.turns]
        story += [
            *section("In this order", "Times count from the beginning, at your pace."),
            table(["done", "from", "to", "what", "people"], [11, 15, 15, 119, 18], rows, right=1),
        ]
    if plan.passed_over:
        left_out: list[list[Cell]] = [
            [words(name, STRONG_BODY), words(why, SMALL)] for name, why in plan.passed_over
        ]
        story += [*section("Ready, but left out"), table(["what", "why"], [89, 89], left_out)]
    story += [*section("Found, broken, to be written down at home")]
    story += [Line(above=18) for _ in range(_LINES)]
    return document(story, _TITLE, heading)


def _lead(plan: Sitting) -> str:
    who = "1 person" if plan.people == 1 else f"{plan.people} people"
    if not plan.turns:
        return f"{plan.hours:g} hours, {who}: nothing that is ready fits into it."
    return f"{plan.hours:g} hours, {who}, {len(plan.turns)} turns."


def _row(turn: Turn, place: str) -> list[Cell]:
    what: list[Flowable] = [words(turn.name, STRONG_BODY)]
    about = [place, turn.toil, "dirty" if turn.dirty else ""]
    about += [f"opens {turn.opens} more"] if turn.opens else []
    what.append(words(" · ".join(part for part in about if part), SMALL))
    if turn.goes_on:
        what.append(words("goes on next time", ASKS))
    begin, end = _clock(turn.start), _clock(turn.start + turn.hours)
    return [Tick(), words(begin, STRONG_BODY), words(end), what, words(str(turn.people), RIGHT)]


def _clock(hours: float) -> str:
    """Hours from the beginning as ``0:45``, to five minutes."""
    minutes = round(hours * 12) * 5
    return f"{minutes // 60}:{minutes % 60:02d}"
