"""Lifts on paper: cautions, then each lift with its load, its legs and what they pull."""

from __future__ import annotations

from collections.abc import Iterator

from reportlab.platypus import Flowable

from shedtally.domain.lifting.lifts import WITHIN
from shedtally.domain.lifting.lists import LiftLeg, LiftLine, LiftList
from shedtally.domain.records import tag
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import codes, kilograms, mass, number, range_words, words
from shedtally.printing.lift_picture import LiftPicture
from shedtally.printing.paper import ASKS, RIGHT, SMALL, STRONG_BODY, Heading, document
from shedtally.printing.tables import Cell, facts, numbered_cautions, opening, part, table

_TITLE = "Lifts"
_STANDING = "This is arithmetic and no lifting plan: a competent person and local rules come first."
_SIGNS = {1: "+", -1: "–", 0: ""}


def lifts_pdf(lifts: LiftList, heading: Heading) -> bytes:
    """The list as PDF on A4."""
    story = opening(_TITLE, heading, _lead(lifts))
    if lifts.lifts:
        story += numbered_cautions(
            [(text, "") for text in lifts.cautions if text != _STANDING], _STANDING
        )
    for lift in lifts.lifts:
        story += _lift(lift, lifts.dynamic)
    if lifts.sources:
        story += [*part("Sources"), *(words(source, SMALL) for source in lifts.sources)]
    return document(story, _TITLE, heading)


def lifts_csv(lifts: LiftList) -> str:
    """The list as CSV, one row a leg; a refused lift has one row with the reason."""
    heads = [
        "lift", "item", "tag codes", "mass low (kg)", "mass likely (kg)", "mass high (kg)",
        "mass got by", "hook with allowance (kg)", "hook rated (kg)", "tilt (degrees)", "eye",
        "eye aft (m)", "eye off (m)", "eye up (m)", "leg (m)", "angle from vertical (degrees)",
        "tension (kg)", "tension at most (kg)", "rated (kg)", "verdict", "refused",
    ]  # fmt: skip
    return csv_text(heads, _csv_rows(lifts))


def _csv_rows(lifts: LiftList) -> Iterator[list[Value]]:
    for lift in lifts.lifts:
        start: list[Value] = [
            lift.name, lift.item_name, several(tag.shown(code) for code in lift.tags),
            lift.mass.low, lift.mass.likely, lift.mass.high, lift.mass.basis, lift.hook_kg,
            lift.hook_rated_kg, round(lift.tilt_deg, 1),
        ]  # fmt: skip
        for leg in lift.legs:
            yield [
                *start, leg.name, leg.aft_m, leg.off_m, leg.up_m, round(leg.length_m, 3),
                round(leg.angle_deg, 1), round(leg.tension_kg, 1), round(leg.most_kg, 1),
                leg.rated_kg, leg.verdict, "",
            ]  # fmt: skip
        if not lift.legs:
            yield [*start, *[""] * 10, lift.refused]


def _lead(lifts: LiftList) -> str:
    if not lifts.lifts:
        return "No lift is written down yet: enter one on the phone, then print again."
    return (
        f"Angles are from the vertical. “At most” is with the high mass, {lifts.dynamic:g} times "
        "for jerks, and the middle of mass where it is worst for that leg."
    )


def _lift(lift: LiftLine, dynamic: float) -> list[Flowable]:
    story = part(lift.name, f"measured from {lift.measured_from}" if lift.measured_from else "")
    load = (
        f"{kilograms(lift.mass.likely)} kg, {range_words(lift.mass)} kg" if lift.mass.high else ""
    )
    story.append(
        facts(
            [
                ("what", [*codes(lift.tags), words(lift.item_name, STRONG_BODY)]),
                ("on the hook", load),
                ("its mass", lift.why),
                ("hook", _hook(lift, dynamic)),
                ("middle of mass", _centre(lift)),
                ("hangs", f"{number(lift.tilt_deg, 1)}° out of level" if lift.legs else ""),
                ("the standard", lift.outside),
            ]
        )
    )
    if lift.refused:
        story.append(words(f"Not reckoned. {lift.refused}", ASKS))
    story += [words(text, ASKS) for text in (*lift.warnings, *lift.asks)]
    if lift.legs:
        under = (
            "Pulls without jerks. The dashed box stands for the load, whose shape is not known; "
            "the bar through the middle of mass is how far it may be off."
        )
        # The figures first: they must be on the sheet that is held beside the hoist.
        story += [_legs(lift.legs), LiftPicture(lift), words(under, SMALL)]
    if lift.parts:
        rows: list[list[Cell]] = [
            [
                words(_SIGNS[part.sign]),
                words(part.name, STRONG_BODY),
                words(part.why, SMALL),
                mass(part.mass),
            ]
            for part in lift.parts
        ]
        story.append(table(["", "part", "", "mass"], [6, 70, 68, 34], rows, right=1))
    return story


def _hook(lift: LiftLine, dynamic: float) -> str:
    if not lift.hook_kg:
        return ""
    rated = (
        "; no rating written"
        if lift.hook_rated_kg is None
        else f"; rated {number(lift.hook_rated_kg)} kg, {lift.hook_verdict}"
    )
    return f"{number(lift.hook_kg)} kg with the high mass and {dynamic:g} times for jerks{rated}"


def _centre(lift: LiftLine) -> str:
    if not lift.centre:
        return ""
    ways = (("aft", "forward"), ("to starboard", "to port"), ("up", "down"))
    where = ", ".join(_metres(at.likely, *way) for at, way in zip(lift.centre, ways, strict=True))
    return f"{where}. {lift.centre_how}"


def _metres(along: float, to: str, back: str) -> str:
    """A distance by its direction: nobody measures a negative length with a tape."""
    shown = number(abs(along), 2)
    nothing = not any(digit in shown for digit in "123456789")
    return f"{shown} m {to if along > 0 or nothing else back}"


def _legs(legs: tuple[LiftLeg, ...]) -> Flowable:
    rows: list[list[Cell]] = [
        [
            [
                words(f"{at}: {leg.name}", STRONG_BODY),
                words(leg.verdict, SMALL if leg.verdict == WITHIN else ASKS),
            ],
            words(f"{number(leg.length_m, 2)} m", RIGHT),
            words(f"{number(leg.angle_deg)}°", RIGHT),
            words(f"{number(leg.tension_kg)} kg", RIGHT),
            words(f"{number(leg.most_kg)} kg", RIGHT),
            words("–" if leg.rated_kg is None else f"{number(leg.rated_kg)} kg", RIGHT),
        ]
        for at, leg in enumerate(legs, start=1)
    ]
    heads = ["leg to", "length", "angle", "pulls", "at most", "rated"]
    return table(heads, [63, 22, 18, 25, 25, 25], rows, right=5)
