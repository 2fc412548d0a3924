"""What a wire carries, how far and how warm: read from what was written, or asked for.

The phone reads the same with the same words (`pwa/src/domain/wireLoad.ts`); both are held to
`fixtures/contract/wiring.json`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Protocol

from shedtally.domain.records.words import Duty
from shedtally.domain.rulebook.wiring import WireRules


class Wired(Protocol):
    """What is written of a run; an `Item` has all of it."""

    @property
    def load_a(self) -> float | None:
        """Amperes of the load."""

    @property
    def load_w(self) -> float | None:
        """Watts of the load."""

    @property
    def voltage_v(self) -> float | None:
        """Nominal volts."""

    @property
    def length_mm(self) -> float | None:
        """The way there."""

    @property
    def return_mm(self) -> float | None:
        """The way back, where it is another."""

    @property
    def duty(self) -> Duty | None:
        """How long it runs at a time."""

    @property
    def critical(self) -> bool | None:
        """Whether its voltage must not sag."""

    @property
    def hot_space(self) -> bool | None:
        """Whether it passes the engine space."""

    @property
    def ambient_c(self) -> float | None:
        """The warmest air around it, where somebody knows."""

    @property
    def bundled(self) -> int | None:
        """Loaded conductors together, its own too."""

    @property
    def insulation_c(self) -> int | None:
        """What its insulation stands."""

    @property
    def sheathed(self) -> bool | None:
        """Whether both conductors are in one sheath."""

    @property
    def size(self) -> str | None:
        """The old conductor, as it was written."""

    @property
    def new_size(self) -> str | None:
        """The conductor that somebody took."""


@dataclass(frozen=True, slots=True)
class Load:
    """What the sizing reckons with. Amperes, volts, metres, °C; shares of 1."""

    amps: float
    fuse_from_a: float
    volts: float
    ac: bool
    metres: float
    allowed_share: float
    ambient_c: float
    ambient_share: float
    bundle_share: float
    insulation_at: int
    sheathed: bool
    notes: tuple[str, ...]


class Asks(ValueError):
    """Something has to be written first; ``args`` are the sentences."""


class Refused(ValueError):
    """The method doesn't reach: the reason and the range."""


def shown(value: float, places: int) -> str:
    """A figure rounded half up, without idle zeros: the same text as on the phone.

    >>> shown(2.50, 2), shown(100.0, 0)
    ('2.5', '100')
    """
    times = 10**places
    text = f"{math.floor(value * times + 0.5) / times:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def load_of(run: Wired, ac: bool, rules: WireRules) -> Load:
    """What a run carries, with everything that nobody said counted at its worst.

    Raises: Asks: load, voltage or length are missing. Refused: one is outside what the method
        covers; says the range and the way out.
    """
    _ask(run)
    volts = _volts(run.voltage_v or 0.0, ac, rules)
    amps, notes = _amps(run, volts, rules)
    metres = _metres(run, rules)
    at, insulation_note = _insulation(run.insulation_c, rules)
    ambient = _ambient(run, rules.insulation_c[at], rules)
    return Load(
        amps=amps,
        fuse_from_a=amps * rules.duties[run.duty or "hours"],
        volts=volts,
        ac=ac,
        metres=metres,
        allowed_share=rules.other if run.critical is False else rules.critical,
        ambient_c=ambient,
        ambient_share=ambient_share(ambient, at, rules),
        bundle_share=_bundle_share(run.bundled or 2, rules),
        insulation_at=at,
        sheathed=run.sheathed is True,
        notes=(*notes, *insulation_note),
    )


def ambient_share(ambient_c: float, insulation_at: int, rules: WireRules) -> float:
    """What is left of the amperes in warmer air, 1 up to the table's own 30 °C.

    Source: NEC 310.15(B), sqrt((Tc - Ta) / (Tc - 30)); from 50 °C at most the published share.
    """
    if ambient_c <= rules.at_c:
        return 1.0
    limit = rules.insulation_c[insulation_at]
    root = math.sqrt((limit - ambient_c) / (limit - rules.at_c))
    return min(root, rules.at_hot[insulation_at]) if ambient_c >= rules.hot_c else root


def _ask(run: Wired) -> None:
    asks = []
    if run.load_a is None and run.load_w is None:
        asks.append("Write the load first: amperes or watts, off the plate of what it feeds.")
    if run.voltage_v is None:
        asks.append("Write the voltage first: 12 or 24 on most boats.")
    if run.length_mm is None:
        asks.append("Write the length first: measured along the run, one way.")
    if asks:
        raise Asks(*asks)


def _volts(volts: float, ac: bool, rules: WireRules) -> float:
    low, high = rules.limits.ac_v if ac else rules.limits.dc_v
    if low <= volts <= high:
        return volts
    name = "AC of one phase" if ac else "DC"
    raise Refused(
        f"{shown(volts, 1)} V is outside what this covers: {shown(low, 0)} to {shown(high, 0)} V "
        f"{name}. Check the voltage, or have an electrician size it."
    )


def _amps(run: Wired, volts: float, rules: WireRules) -> tuple[float, tuple[str, ...]]:
    limits = rules.limits
    by_watts = None if run.load_w is None else run.load_w / volts
    found = [value for value in (run.load_a, by_watts) if value is not None]
    amps = max(found)
    if min(found) <= 0:
        raise Refused(
            "A load of 0 needs no wire: it takes more than 0 A. Write what the plate says, or "
            "clear the field."
        )
    if amps > limits.most_a:
        raise Refused(
            f"{shown(amps, 0)} A is more than this covers: up to {shown(limits.most_a, 0)} A. "
            "Check amperes against watts, or have an electrician size it."
        )
    if run.load_a is None or by_watts is None or amps - min(found) <= limits.loads_differ * amps:
        return amps, ()
    note = (
        f"{shown(run.load_a, 1)} A and {shown(run.load_w or 0.0, 0)} W at {shown(volts, 0)} V "
        f"({shown(by_watts, 1)} A) don't agree: the larger counts. Clear the wrong one."
    )
    return amps, (note,)


def _metres(run: Wired, rules: WireRules) -> float:
    there = run.length_mm or 0.0
    back = there if run.return_mm is None else run.return_mm
    metres = (there + back) / 1000
    if there <= 0 or metres > rules.limits.most_m:
        raise Refused(
            f"{shown(metres, 2)} m there and back is outside what this covers: more than 0, up to "
            f"{shown(rules.limits.most_m, 0)} m. Measure along the run, one way."
        )
    return metres


def _insulation(celsius: int | None, rules: WireRules) -> tuple[int, tuple[str, ...]]:
    """Place of the class in the table: the next one down where the table has none such."""
    classes = rules.insulation_c
    wanted = classes[0] if celsius is None else celsius
    if not classes[0] <= wanted <= classes[-1]:
        raise Refused(
            f"Insulation for {wanted} °C is outside the table: {classes[0]} to {classes[-1]} °C. "
            "Read what is printed on the wire."
        )
    at = max(n for n, limit in enumerate(classes) if limit <= wanted)
    if classes[at] == wanted:
        return at, ()
    return at, (f"Insulation for {wanted} °C counts as {classes[at]} °C, the class below it.",)


def _ambient(run: Wired, insulation_c: int, rules: WireRules) -> float:
    usual = rules.at_c if run.hot_space is False else rules.hot_c
    celsius = usual if run.ambient_c is None else run.ambient_c
    most = min(rules.most_c, insulation_c - rules.below_insulation_k)
    if -20 <= celsius <= most:
        return celsius
    raise Refused(
        f"Air of {shown(celsius, 0)} °C is outside what this covers: -20 to {shown(most, 0)} °C "
        f"with insulation for {insulation_c} °C. Lead it elsewhere, or take better insulation."
    )


def _bundle_share(together: int, rules: WireRules) -> float:
    if together > rules.limits.most_bundled:
        raise Refused(
            f"{together} conductors together are more than this covers: 1 to "
            f"{rules.limits.most_bundled}. Divide the bundle."
        )
    return next(row.share for row in reversed(rules.bundles) if row.from_n <= together)


def assumed(run: Wired) -> list[str]:
    """What nobody said of a run, and what it counts as: at its worst."""
    found = []
    if run.critical is None:
        found.append("3 % of drop, as for what must not sag")
    if run.duty is None:
        found.append("runs for hours")
    if run.hot_space is None and run.ambient_c is None:
        found.append("passes the engine space, 50 °C")
    if run.insulation_c is None:
        found.append("insulation for 60 °C, the lowest")
    if run.bundled is None:
        found.append("lies alone with its return")
    if run.sheathed is None:
        found.append("single conductors, no sheath")
    if run.return_mm is None:
        found.append("as long back as there")
    return found
