"""100,000 items classified and summed, beside a plain pass over the same rows.

The plain pass does what any list must do with the rows: it makes records of the stored values and
adds up their stored mass. Aim: the list of waste, its reading of the rows included, takes at most
3 times as long, and ten times the items take about ten times as long; that with everything in
containers, where most lines may not lie with what is beside them and somebody put half of those
in all the same, and with everything handed over, as well as with everything loose.

A round runs each work once; printed are medians over rounds and the median of the rounds' ratios,
so that a busy moment tells no tale: `.venv/bin/python tests/bench/classify.py`.
"""

from __future__ import annotations

import datetime
import itertools
import math
import statistics
from collections.abc import Callable, Mapping, Sequence

from turns import in_turns

from shedtally.domain.boat import BoatRecords, from_values
from shedtally.domain.waste.boxes import box_list
from shedtally.domain.waste.by_stream import waste_list, waste_rows
from shedtally.domain.waste.classify import Classifier
from shedtally.domain.waste.container_lists import FrozenList, Papers
from shedtally.domain.waste.handovers import handover_list
from shedtally.rules.load import load

RULES = load()
LAW = RULES.rule_sets["eu"]
DAY = datetime.date(2026, 11, 25)
RUNS = 5
IN_ONE_BOX = 20
IN_ONE_HANDOVER = 500
TENTH = 10

MANY = 100_000

Row = tuple[str, str, Mapping[str, object]]
Work = Callable[[Sequence[Row]], float]


def rows_of(items: int) -> list[Row]:
    """Items of every kind in turn, with answers on some of them, all of them waste."""
    kinds = itertools.cycle(RULES.kinds)
    answers = itertools.cycle(
        [{}, {"leaking": False}, {"soaked_in": "mineral oil"}, {"lead": "found"}, {}, {"count": 3}]
    )
    return [
        (
            "item",
            f"i{n}",
            {
                "name": f"Thing {n}",
                "kind": next(kinds),
                "fate": "waste",
                "whereabouts": "ashore",
                "condition": "worn",
                "mass_kg": 1.0 + n % 7,
                "mass_how": "weighed",
                "out_at": "2026-05-04T10:00:00+00:00",
                **next(answers),
            },
        )
        for n in range(items)
    ]


def boxed(rows: Sequence[Row]) -> list[Row]:
    """The same items, twenty to a container, with a reason on record for every second one."""
    streams = itertools.cycle([stream for stream in RULES.streams if stream != "unsorted"])
    found = []
    for n, (table, key, values) in enumerate(rows):
        box = f"c{n // IN_ONE_BOX}"
        if n % IN_ONE_BOX == 0:
            holds = {"name": f"Drum {box}", "stream": next(streams), "capacity_l": 200.0}
            found.append(("container", box, {**holds, "tare_kg": 9.0, "gross_kg": 95.0}))
        found.append((table, key, {**values, "container": box}))
        if n % 2:
            said = {"container": box, "item": key, "who": "T", "why": "No other drum."}
            found.append(("mixing", f"m{n}", said))
    return found


def handed(rows: Sequence[Row]) -> list[Row]:
    """The same items in containers, five hundred items to a sealed handover."""
    found, per = boxed(rows), IN_ONE_HANDOVER // IN_ONE_BOX
    for n, (table, key, values) in enumerate(found):
        if table == "container":
            found[n] = (table, key, {**values, "handover": f"h{int(key[1:]) // per}"})
    for n in range(len(rows) // IN_ONE_HANDOVER):
        said = {"to": "Site", "on": "2026-11-20", "sealed_at": "2026-11-20T10:00:00+00:00"}
        found.append(("handover", f"h{n}", said))
    return found


def plain(rows: Sequence[Row]) -> float:
    """Records of the rows, and the sum of their masses."""
    boat = from_values("b", rows)
    return math.fsum(item.mass_kg or 0.0 for item in boat.items.values())


def listed(rows: Sequence[Row]) -> float:
    """The same rows as a list of waste, with its streams and their sums."""
    found = waste_list(from_values("b", rows), RULES, "eu", "business", DAY)
    return found.on_site.likely


def classified(rows: Sequence[Row]) -> float:
    """The same rows classified and summed by stream, without the words of a list."""
    boat = from_values("b", rows)
    sums: dict[str, float] = {}
    sorts = Classifier(RULES, LAW)
    for item in boat.items.values():
        stream = sorts.classify(item).stream
        sums[stream] = sums.get(stream, 0.0) + (item.mass_kg or 0.0)
    return math.fsum(sums.values())


def by_container(rows: Sequence[Row]) -> float:
    """The same rows as containers, with what may not lie there and what is odd about each."""
    case, lines, _ = waste_rows(from_values("b", rows), RULES, "eu", "business", DAY)
    return math.fsum(box.inside.likely for box in box_list(case, lines).boxes)


def by_handover(rows: Sequence[Row]) -> float:
    """Handovers with what is odd about each, beside lists that were frozen with nothing on them."""
    boat = from_values("b", rows)
    case, lines, _ = waste_rows(boat, RULES, "eu", "business", DAY)
    nothing = waste_list(BoatRecords(boat=boat.boat), RULES, "eu", "business", DAY)
    papers = Papers("2026-11-20", "Site", "", "", "")
    frozen = FrozenList("", papers, "2026-11-20", LAW.name, "", "", nothing)
    kept = dict.fromkeys(boat.handovers, frozen)
    return float(len(handover_list(case, lines, nothing, kept).handovers))


def measured(title: str, made: Callable[[Sequence[Row]], Sequence[Row]], *works: Work) -> None:
    """Print what each work takes of a tenth of the items and of all, beside the plain pass."""
    few = in_turns((plain, *works), made(rows_of(MANY // TENTH)), RUNS)
    many = in_turns((plain, *works), made(rows_of(MANY)), RUNS)
    for name in many:
        seconds = statistics.median(many[name])
        growth = seconds / statistics.median(few[name])
        ratio = statistics.median(
            one / bare for one, bare in zip(many[name], many["plain"], strict=True)
        )
        print(
            f"{MANY} items {title:<14} {name:<12} {seconds:7.3f} s, {ratio:.2f} times the plain "
            f"pass (aim: 3); {TENTH} times the items take {growth:.1f} times as long",
            flush=True,
        )


def main() -> None:
    measured("loose", lambda rows: rows, classified, listed)
    boat = from_values("b", boxed(rows_of(MANY // 10)))
    mixed = waste_list(boat, RULES, "eu", "business", DAY).mixed
    told = sum(bool(ban.who) for ban in mixed)
    said = f"{len(mixed)} lie against the rules, {told} of them with who and why"
    print(f"of {MANY // 10} items in containers {said}", flush=True)
    measured("in containers", boxed, classified, listed, by_container)
    measured("handed over", handed, listed, by_handover)


if __name__ == "__main__":
    main()
