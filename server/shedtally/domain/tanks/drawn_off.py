"""What was drawn from a tank into cans, and whether soundings and cans agree."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence

from shedtally.domain.aboard.named import name_of
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import Spread
from shedtally.domain.masses.estimate import Estimate
from shedtally.domain.records import Item
from shedtally.domain.records.moments import seconds_of
from shedtally.domain.rulebook import Liquid, Rules
from shedtally.domain.tanks.claims import Claims
from shedtally.domain.tanks.lists import Balance, Can, Sounded
from shedtally.domain.tanks.sounding import less


def density_of(liquid: Liquid | None, read: Sequence[Sounded]) -> float | None:
    """kg/m3 of what is in a tank: as last read, else as is usual; None: the liquid isn't known."""
    known = next((row.density_kg_m3 for row in reversed(read) if row.density_kg_m3), None)
    return known if known is not None else (liquid.density.likely if liquid else None)


def cans_of(
    claims: Claims, density: float | None, boat: BoatRecords, rules: Rules,
    masses: Mapping[str, Estimate],
) -> tuple[Can, ...]:  # fmt: skip
    """Every can of a tank, in the order in which they were filled."""
    cans = sorted(
        (*claims.cans, *claims.assumed), key=lambda can: (seconds_of(can.out_at), can.key)
    )
    return tuple(
        Can(
            key=can.key,
            name=name_of(can, rules.kinds.get(can.kind or "")),
            tags=boat.codes.get(f"item/{can.key}", ()),
            litres=_litres(can, density, masses),
            kg=masses[can.key][0],
        )
        for can in cans
    )


def _litres(can: Item, density: float | None, masses: Mapping[str, Estimate]) -> float | None:
    """By the litres written down, else by the mass, so that what a can has is off the tank."""
    if can.volume_l is not None:
        return can.volume_l * (can.count or 1)
    return masses[can.key][0] / density * 1000 if density else None


def balance_of(
    boat: BoatRecords, claims: Claims, read: Sequence[Sounded], cans: Sequence[Can]
) -> Balance:
    """What a tank holds by its last sounding less what was drawn since; what doesn't add up.

    A can without a day counts as filled after the last sounding.
    """
    told = [row for row in read if row.full]
    if not told or told[-1].full is None:
        return Balance(None, _sum(cans), None, None, "")
    filled = {can.key: boat.items[can.key].out_at for can in cans}
    held, last = told[-1].full, told[-1]
    since = [can for can in cans if not filled[can.key] or _after(filled[can.key], last)]
    known = [can for can in cans if can not in since]
    pairs = [
        (early, late, [can for can in known if _between(filled[can.key], early, late)])
        for early, late in itertools.pairwise(told)
    ]
    sayings = [
        *(_pair(*pair, last=pair[1] is last) for pair in pairs),
        *_over(since, held),
        *_doubts(claims, [can for can in since if not filled[can.key]]),
    ]
    said = " ".join(text for text in sayings if text)
    missing = _missing(*pairs[-1]) if pairs else None
    if since:
        return Balance(held, _sum(since), less(held, _sum(since)), missing, said)
    if pairs:
        return Balance(pairs[-1][0].full, _sum(pairs[-1][2]), held, missing, said)
    # Sounded once, and only when all cans were full: what it held before was never read.
    return Balance(None if cans else held, _sum(cans), held, None, said)


def _after(moment: str | None, sounding: Sounded) -> bool:
    return seconds_of(moment) > seconds_of(sounding.on or None)


def _between(moment: str | None, early: Sounded, late: Sounded) -> bool:
    return _after(moment, early) and not _after(moment, late)


def _sum(cans: Sequence[Can]) -> float:
    return math.fsum(can.litres for can in cans if can.litres is not None)


def _missing(early: Sounded, late: Sounded, between: Sequence[Can]) -> float | None:
    """Litres of the earlier sounding that are neither in cans nor in the later one."""
    if early.full is None or late.full is None:
        return None
    return early.full.likely - _sum(between) - late.full.likely


def _pair(early: Sounded, late: Sounded, between: Sequence[Can], *, last: bool) -> str:
    """What two soundings say beside the cans filled between; of earlier ones only what is amiss."""
    missing = _missing(early, late, between)
    if missing is None or early.full is None or late.full is None:
        return ""
    doubt = math.hypot(early.full.high - early.full.low, late.full.high - late.full.low) / 2
    if abs(missing) <= doubt:
        said = f"Adds up within what the soundings can tell ({doubt:.0f} L)."
        return said if last and between else ""
    when = f"From {_day(early)} to {_day(late)}: "
    if missing < 0:
        return (
            f"{when}{-missing:.0f} L more than it held. Was it filled again, did water come in, "
            "or was a can counted twice?"
        )
    if between:
        return (
            f"{when}{missing:.0f} L are in no can. Look for a can not entered, a leak or a spill."
        )
    return (
        f"{when}{missing:.0f} L less, and no can was filled. Was it used, is a can not entered, "
        "or is there a leak?"
    )


def _day(sounding: Sounded) -> str:
    return sounding.on[:10] or "the first sounding"


def _over(since: Sequence[Can], held: Spread) -> Iterator[str]:
    drawn = _sum(since)
    if drawn > held.high:
        yield (
            f"The cans hold {drawn:.0f} L, more than the {held.high:.0f} L at most that the tank "
            "held: look at the cans and the sounding again."
        )


def _doubts(claims: Claims, undated: Sequence[Can]) -> Iterator[str]:
    for can in undated:
        yield f"Nobody wrote when {can.name} was filled: it counts as after the last sounding."
    for item in claims.assumed:
        yield (
            f"{item.name or 'A can'} came out of the same space and is taken as drawn from this "
            "tank. Say on it what it was filled from."
        )
