"""The thinnest wire that bears a load and drops no more than it may, by gauge and in mm2.

It supports a qualified electrician and the local code, and replaces neither. The phone sizes with
the same answers (`pwa/src/domain/wireSize.ts`); both are held to `fixtures/contract/wiring.json`.
"""

from __future__ import annotations

import functools
import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from typing import TypeVar

from shedtally.domain.measures.reading import Size, parse_size
from shedtally.domain.measures.unreadable import Unreadable
from shedtally.domain.rulebook.wiring import WireRules
from shedtally.domain.wiring.lists import WireFit, WireSizing
from shedtally.domain.wiring.load import Asks, Load, Refused, Wired, assumed, load_of, shown

T = TypeVar("T")

# What lies within a rounding of the limit passes; areas of gauges are rounded in the table.
CLOSE = 1e-9
SAME_MM2 = 1e-5


def size_wire(run: Wired, ac: bool, rules: WireRules) -> WireSizing:
    """The thinnest conductors for a run, and the old and the taken one judged by the same load.

    Args: run: load in A or W, volts, length one way in mm, and how it lies; what nobody said
        counts at its worst and is named. ac: one phase; sized as far as resistance alone decides.
    Returns: never raises for what is missing or out of range: ``asks`` and ``refused`` say it.
    Source: amperes 33 CFR 183.425 table 5; metric sizes as the next thinner gauge; drop by
        10.75 ohm and circular mil a foot, or by IEC 60228, at the temperature of the air.
    """
    try:
        load = load_of(run, ac, rules)
    except Asks as missing:
        return _nothing("", tuple(missing.args))
    except Refused as why:
        return _nothing(str(why), ())
    gauge, metric = (_least(sizes, load, rules) for sizes in rules.conductors[load.ac])
    old, old_words = _old(run.size, load, gauge, metric, rules)
    taken, taken_words = _taken(run.new_size, load, rules)
    return WireSizing(
        refused="" if gauge or metric else _too_much(load, rules),
        asks=(),
        assumed=tuple(assumed(run)),
        notes=load.notes,
        amps=load.amps,
        fuse_from_a=load.fuse_from_a,
        there_and_back_m=load.metres,
        allowed_share=load.allowed_share,
        allowed_v=load.allowed_share * load.volts,
        ambient_c=load.ambient_c,
        ambient_share=load.ambient_share,
        bundle_share=load.bundle_share,
        insulation_c=rules.insulation_c[load.insulation_at],
        gauge=gauge,
        metric=metric,
        old=old,
        old_words=old_words,
        taken=taken,
        taken_words=taken_words,
    )


def wire_for_fuse(run: Wired, ac: bool, rules: WireRules) -> WireFit | None:
    """What `for_fuse` finds in the sizing of a run, without the rest of that sizing."""
    try:
        load = load_of(run, ac, rules)
    except (Asks, Refused):
        return None
    if run.new_size and not isinstance(taken := conductor(run.new_size), str):
        return fit(taken, load, rules)
    found = (_least(sizes, load, rules) for sizes in _old_first(run.size, rules.conductors[ac]))
    return next(filter(None, found), None)


def for_fuse(sizing: WireSizing, old_size: str | None) -> WireFit | None:
    """The conductor that a fuse is for: the taken one, else the thinnest of the old series."""
    found = (sizing.taken, *_old_first(old_size, (sizing.gauge, sizing.metric)))
    return next(filter(None, found), None)


def _old_first(old_size: str | None, series: tuple[T, T]) -> tuple[T, T]:
    """Gauge and metric, the one that the old wire was of first."""
    gauge, metric = series
    return (gauge, metric) if "awg" in (old_size or "").lower() else (metric, gauge)


def fit(size: Size, load: Load, rules: WireRules) -> WireFit:
    """One conductor against the load, with every reason why it won't do."""
    mm2 = size.mm2 or 0.0
    bears = bears_a(mm2, load, rules)
    drop = load.amps * load.metres * ohm_per_m(size, load.ambient_c, rules)
    share = drop / load.volts
    from_, to = load.fuse_from_a - CLOSE, bears + CLOSE
    fuses = rules.fuses[bisect_left(rules.fuses, from_) : bisect_right(rules.fuses, to)]
    fails = []
    if mm2 < _least_mm2(size, load, rules) - SAME_MM2:
        fails.append("thinner than may be fitted")
    if bears < load.fuse_from_a - CLOSE:
        fails.append(f"bears {shown(bears, 1)} A of {shown(load.fuse_from_a, 1)} A")
    elif not fuses:
        fails.append(
            f"no fuse is sold between {shown(load.fuse_from_a, 1)} and {shown(bears, 1)} A"
        )
    if share > load.allowed_share + CLOSE:
        fails.append(
            f"drops {shown(100 * share, 1)} % where {shown(100 * load.allowed_share, 0)} % is "
            "allowed"
        )
    return WireFit(size.shown, mm2, bears, drop, share, fuses, tuple(fails))


def bears_a(mm2: float, load: Load, rules: WireRules) -> float:
    """Amperes that a section bears: those of the gauge that is not thicker, after the shares.

    0 where it is thinner than the table begins.
    """
    at = bisect_right(rules.gauge_mm2, mm2 + SAME_MM2)
    if not at:
        return 0.0
    amperes = rules.gauges[at - 1].amperes[load.insulation_at]
    return amperes * load.ambient_share * load.bundle_share


def ohm_per_m(size: Size, ambient_c: float, rules: WireRules) -> float:
    """Resistance of a conductor in ohm/m at the temperature of the air, at least the table's 30 °C.

    Source: [E11] for gauges, [IEC60228] for metric ones, copper by 0.00393 a kelvin from 20 °C.
    """
    warm = 1 + rules.per_k * (max(ambient_c, rules.at_c) - 20)
    mm2 = size.mm2 or 0.0
    if size.kind == "awg":
        return rules.ohm_mm2_per_m / mm2 * warm / (1 + rules.per_k * (rules.at_c - 20))
    ohm_per_km = rules.ohm_per_km.get(mm2) or rules.unnamed_ohm_mm2_per_km / mm2
    return ohm_per_km / 1000 * warm


def _least_mm2(size: Size, load: Load, rules: WireRules) -> float:
    if size.kind == "awg":
        return rules.sheathed_gauge_mm2 if load.sheathed else rules.alone_gauge_mm2
    return rules.sheathed_mm2 if load.sheathed else rules.alone_mm2


def _least(sizes: Iterable[Size], load: Load, rules: WireRules) -> WireFit | None:
    bearing = _bearing_mm2(load, rules) - SAME_MM2
    # Next to nothing over next to no length multiplies to zero, and drops nothing in any wire.
    amp_metres = load.amps * load.metres
    volts = (load.allowed_share + CLOSE) * load.volts
    most_ohm_per_m = volts / amp_metres if amp_metres else math.inf
    for size in sizes:
        # Why a size won't do is only told of the old and the taken one: most need no words.
        if (size.mm2 or 0.0) < bearing or ohm_per_m(size, load.ambient_c, rules) > most_ohm_per_m:
            continue
        found = fit(size, load, rules)
        if not found.fails:
            return found
    return None


def _bearing_mm2(load: Load, rules: WireRules) -> float:
    """The section of the thinnest gauge that bears a load; infinite where none does."""
    amperes = (load.fuse_from_a - CLOSE) / (load.ambient_share * load.bundle_share)
    at = bisect_left(rules.amperes[load.insulation_at], amperes)
    return rules.gauge_mm2[at] if at < len(rules.gauge_mm2) else math.inf


def _too_much(load: Load, rules: WireRules) -> str:
    thickest = fit(rules.conductors[load.ac][0][-1], load, rules)
    if load.ac:
        return (
            f"With AC this reaches to {thickest.name}, which {', '.join(thickest.fails)}: beyond "
            "it more than resistance counts. Have an electrician size it."
        )
    return (
        f"No wire of the table will do: {thickest.name}, the thickest, "
        f"{', '.join(thickest.fails)}. Shorten the run, raise the voltage, or ask an electrician "
        "for two side by side."
    )


@functools.lru_cache(maxsize=1024)
def conductor(text: str) -> Size | str:
    """A conductor as it was written, or why it is none."""
    try:
        size = parse_size(text)
    except Unreadable as why:
        return str(why)
    if size.mm2 is None:
        return f"{text} is no conductor: write mm2 or AWG"
    return Size(size.kind, None, size.mm2, _bare(size), size.cores)


def _bare(size: Size) -> str:
    """The name of one conductor: ``2 x 2.5 mm2`` is 2.5 mm2."""
    return size.shown.split(" x ")[-1]


def _old(
    text: str | None,
    load: Load,
    gauge: WireFit | None,
    metric: WireFit | None,
    rules: WireRules,
) -> tuple[WireFit | None, str]:
    if not text:
        return None, "What was there is not written, so there is nothing to compare with."
    size = conductor(text)
    if isinstance(size, str):
        return None, f"What was there can't be compared: {size}."
    old = fit(size, load, rules)
    wanted = gauge if size.kind == "awg" else metric
    if wanted is None:
        return old, f"The old {old.name} won't do: {', '.join(old.fails)}." if old.fails else ""
    if old.fails:
        word = "thinner than" if old.mm2 < wanted.mm2 - SAME_MM2 else "not"
        return old, (
            f"The old {old.name} is {word} the {wanted.name} that it takes, and fails: "
            f"{', '.join(old.fails)}."
        )
    drops = f"drops {shown(old.drop_v, 2)} V, {shown(100 * old.drop_share, 1)} %"
    word = "thicker than it needs" if old.mm2 > wanted.mm2 + SAME_MM2 else "what it takes"
    return old, (
        f"The old {old.name} is {word}: it {drops}, bears {shown(old.bears_a, 1)} A, and passes."
    )


def _taken(text: str | None, load: Load, rules: WireRules) -> tuple[WireFit | None, str]:
    if not text:
        return None, ""
    size = conductor(text)
    if isinstance(size, str):
        return None, f"The size that was taken can't be read: {size}."
    taken = fit(size, load, rules)
    if taken.fails:
        return taken, f"Taken: {taken.name}. It fails: {', '.join(taken.fails)}."
    return taken, f"Taken: {taken.name}. It passes."


def _nothing(refused: str, asks: tuple[str, ...]) -> WireSizing:
    return WireSizing(
        refused=refused,
        asks=asks,
        assumed=(),
        notes=(),
        amps=0.0,
        fuse_from_a=0.0,
        there_and_back_m=0.0,
        allowed_share=0.0,
        allowed_v=0.0,
        ambient_c=0.0,
        ambient_share=0.0,
        bundle_share=0.0,
        insulation_c=0,
        gauge=None,
        metric=None,
        old=None,
        old_words="",
        taken=None,
        taken_words="",
    )
