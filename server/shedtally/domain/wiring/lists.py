"""What sizing a wire answers, and the list of all circuits: what the server sends and prints."""

from __future__ import annotations

from dataclasses import dataclass

AC = "AC"


@dataclass(frozen=True, slots=True)
class WireFit:
    """One conductor against one load: what it bears and drops, and every reason why it won't do.

    ``bears_a`` is after temperature and bundle; 0 where the table has none so thin. ``fuses`` are
    ratings in A that the load lets be and the wire bears.
    """

    name: str
    mm2: float
    bears_a: float
    drop_v: float
    drop_share: float
    fuses: tuple[float, ...]
    fails: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WireSizing:
    """The thinnest wire for a load, by gauge and in mm2, and the old and the taken one beside it.

    ``asks`` is what has to be written first, ``refused`` why the method doesn't reach; then the
    rest says nothing. ``assumed`` is what nobody said and was counted at its worst.
    """

    refused: str
    asks: tuple[str, ...]
    assumed: tuple[str, ...]
    notes: tuple[str, ...]
    amps: float
    fuse_from_a: float
    there_and_back_m: float
    allowed_share: float
    allowed_v: float
    ambient_c: float
    ambient_share: float
    bundle_share: float
    insulation_c: int
    gauge: WireFit | None
    metric: WireFit | None
    old: WireFit | None
    old_words: str
    taken: WireFit | None
    taken_words: str


@dataclass(frozen=True, slots=True)
class CircuitEnd:
    """One end of a run: what it goes to, whether that feeds it, and the ring that it wants."""

    to: str
    feeds: bool
    stud: str
    ring: str


@dataclass(frozen=True, slots=True)
class CircuitLine:
    """One run of cable as it was, what it takes, and how it stands on the order.

    ``order_size`` with ``order_how``: taken, or copied from the old one and not sized.
    """

    key: str
    name: str
    tags: tuple[str, ...]
    system: str
    current: str
    old_size: str
    fuse_a: float | None
    length_mm: float | None
    ends: tuple[CircuitEnd, ...]
    conductors: int
    trunking: str
    sizing: WireSizing
    verdict: str
    order_size: str
    order_how: str


@dataclass(frozen=True, slots=True)
class WirePart:
    """Terminals, fuses or trunking to buy: how many, or how long, and for which runs.

    ``fill`` says how full a trunking gets, empty where that is not known; ``too_full``: more than
    is practice.
    """

    sort: str
    name: str
    count: int
    length_mm: float | None
    runs: tuple[str, ...]
    items: tuple[str, ...]
    fill: str = ""
    too_full: bool = False


@dataclass(frozen=True, slots=True)
class CircuitList:
    """All runs of cable, the parts at their ends, cautions, what the method covers, sources."""

    circuits: tuple[CircuitLine, ...]
    parts: tuple[WirePart, ...]
    cautions: tuple[str, ...]
    ranges: tuple[str, ...]
    sources: tuple[str, ...]
