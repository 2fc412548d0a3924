"""What the wiring schedule says of a run beside its ends: current, load, fuse, studs, wire."""

from __future__ import annotations

from collections.abc import Callable

from shedtally.domain.aboard.run_ends import RunEnds
from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Item
from shedtally.domain.renewals.circuits import CircuitReader, is_circuit
from shedtally.domain.rulebook import Rules
from shedtally.domain.wiring.lists import AC, CircuitLine
from shedtally.domain.wiring.load import shown

HEADS = ("current", "fed from", "load", "old fuse", "studs", "trunking", "new wire")


def columns(boat: BoatRecords, rules: Rules) -> Callable[[Item], tuple[str, ...]]:
    """The further columns of a run; all empty for a cable that feeds nothing."""
    reader = CircuitReader(RunEnds(boat, rules), rules)

    def of(item: Item) -> tuple[str, ...]:
        kind = rules.kinds.get(item.kind or "")
        if kind is None or not is_circuit(item, kind):
            return ("",) * len(HEADS)
        line = reader.line(item, kind)
        return (
            _current(item, line),
            next((end.to for end in line.ends if end.feeds), ""),
            _load(item),
            "" if item.fuse_a is None else f"{shown(item.fuse_a, 1)} A",
            "; ".join(f"{end.stud} at {end.to}" for end in line.ends if end.stud),
            line.trunking,
            _new(line),
        )

    return of


def _current(item: Item, line: CircuitLine) -> str:
    volts = "" if item.voltage_v is None else f" {shown(item.voltage_v, 1)} V"
    phase = ", one phase" if line.current == AC and volts else ""
    return f"{line.current}{volts}{phase}"


def _load(item: Item) -> str:
    found = [
        f"{shown(value, 1)} {unit}"
        for value, unit in ((item.load_a, "A"), (item.load_w, "W"))
        if value is not None
    ]
    return ", ".join(found)


def _new(line: CircuitLine) -> str:
    """What it takes and what is on the order, as far as it is known."""
    sizing = line.sizing
    takes = " or ".join(fit.name for fit in (sizing.metric, sizing.gauge) if fit)
    judged = f"{line.verdict}; takes {takes}" if takes else line.verdict
    return f"{judged}; {line.order_size}, {line.order_how}" if line.order_size else judged
