"""The shapes of `rules/wiring.toml`: what a wire bears and drops, and what ends and fuses it."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from shedtally.domain.measures.reading import Size


@dataclass(frozen=True, slots=True)
class GaugeRow:
    """A gauge: its name, copper in mm2, and the A that it bears by class of insulation."""

    name: str
    mm2: float
    amperes: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class MetricRow:
    """A metric conductor and its largest resistance at 20 °C, in ohm/km."""

    mm2: float
    ohm_per_km: float


@dataclass(frozen=True, slots=True)
class Bundle:
    """What is left of the amperes, from this many loaded conductors together."""

    from_n: int
    share: float


@dataclass(frozen=True, slots=True)
class Ring:
    """A ring terminal: conductors up to ``up_to_mm2``, and the studs in mm that it is made for."""

    up_to_mm2: float
    barrel: str
    studs: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class WireLimits:
    """What the method covers: volts, amperes, metres there and back, and how thick with AC."""

    dc_v: tuple[float, float]
    ac_v: tuple[float, float]
    most_a: float
    most_m: float
    most_bundled: int
    ac_mm2: float
    ac_gauge_mm2: float
    loads_differ: float


@dataclass(frozen=True, slots=True)
class FillRules:
    """How full trunking and conduit may be, and the space that cables take in them.

    Shares of the inside; ``cores`` are section and space of one insulated core in mm2, from thin
    to thick; ``lay_up`` is the circle around so many cores, in diameters of one.
    """

    trunking: float
    conduit: float
    cores: tuple[tuple[float, float], ...]
    lay_up: tuple[float, ...]
    sheath_mm: float


@dataclass(frozen=True)
class WireRules:
    """Everything that wires are sized by.

    ``at_hot`` are shares by class of insulation at ``hot_c``, the engine space; amperes are at
    ``at_c``. ``ohm_mm2_per_m`` is of a gauge at ``at_c``, ``unnamed_ohm_mm2_per_km`` of a metric
    size without a row, at 20 °C. ``feeds`` are kinds that a run is fed from. Sections in mm2.
    """

    insulation_c: tuple[int, ...]
    at_c: float
    gauges: tuple[GaugeRow, ...]
    metric: tuple[MetricRow, ...]
    hot_c: float
    most_c: float
    below_insulation_k: float
    at_hot: tuple[float, ...]
    bundles: tuple[Bundle, ...]
    ohm_mm2_per_m: float
    unnamed_ohm_mm2_per_km: float
    per_k: float
    critical: float
    other: float
    duties: Mapping[str, float]
    alone_gauge_mm2: float
    sheathed_gauge_mm2: float
    alone_mm2: float
    sheathed_mm2: float
    limits: WireLimits
    fuses: tuple[float, ...]
    feeds: tuple[str, ...]
    rings: tuple[Ring, ...]
    ring_over_mm: float
    fill: FillRules
    cautions: tuple[str, ...]
    sources: tuple[str, ...]

    @functools.cached_property
    def conductors(self) -> Mapping[bool, tuple[tuple[Size, ...], tuple[Size, ...]]]:
        """Gauges and metric conductors from thin to thick, as far as the method reaches with AC."""
        gauges = [Size("awg", None, row.mm2, f"AWG {row.name}") for row in self.gauges]
        metric = [Size("area", None, row.mm2, f"{row.mm2:g} mm2") for row in self.metric]
        most = self.limits.ac_gauge_mm2, self.limits.ac_mm2
        return {
            False: (tuple(gauges), tuple(metric)),
            True: (_up_to(most[0], gauges), _up_to(most[1], metric)),
        }

    @functools.cached_property
    def gauge_mm2(self) -> tuple[float, ...]:
        """Sections of the gauges, from thin to thick."""
        return tuple(row.mm2 for row in self.gauges)

    @functools.cached_property
    def amperes(self) -> tuple[tuple[float, ...], ...]:
        """What the gauges bear from thin to thick, by class of insulation."""
        return tuple(zip(*(row.amperes for row in self.gauges), strict=True))

    @functools.cached_property
    def ohm_per_km(self) -> Mapping[float, float]:
        """Resistance of each metric conductor at 20 °C, by its section."""
        return {row.mm2: row.ohm_per_km for row in self.metric}

    @functools.cached_property
    def feed_order(self) -> Mapping[str | None, int]:
        """How near each kind of ``feeds`` is to where the current comes from."""
        return {kind: n for n, kind in enumerate(self.feeds)}

    @functools.cached_property
    def studs(self) -> tuple[float, ...]:
        """All studs that rings are made for, in mm, from thin to thick."""
        return tuple(sorted({name for row in self.rings for name in row.studs}))


def _up_to(mm2: float, sizes: Iterable[Size]) -> tuple[Size, ...]:
    return tuple(size for size in sizes if (size.mm2 or 0.0) <= mm2)
