"""Masses beside figures from memory: a guard against slips. It proves nothing about the world.

What others published is in `tests/outside`.
"""

from __future__ import annotations

import pytest

from shedtally.domain.masses.item_mass import mass_of
from shedtally.domain.masses.section import cable
from shedtally.domain.measures.reading import parse_size
from shedtally.domain.records import Item
from shedtally.rules.load import load

RULES = load()


@pytest.mark.parametrize(
    ("glass_share", "material", "kg_per_m3"),
    [
        (0.30, "grp", 1427.5),
        (0.34, "grp-roving", 1464.5),
        (0.45, "grp-roving", 1577.0),
        (0.50, "grp-roving", 1634.0),
    ],
)
def test_grp_follows_the_rule_of_mixtures(glass_share, material, kg_per_m3):
    """Glass 2560, polyester 1200 kg/m3: values of ISO 12215-5, from memory."""
    mixed = 1 / (glass_share / 2560 + (1 - glass_share) / 1200)
    assert mixed == pytest.approx(kg_per_m3, abs=0.5)
    density = RULES.materials[material].density
    assert density.low <= mixed <= density.high


@pytest.mark.parametrize(
    ("amp_hours", "low", "high", "source"),
    [
        (100, 22, 34, "from memory: 0.22 to 0.34 kg/Ah at 12 V"),
        (85, 18, 26, "BCI group 24, from memory"),
        (105, 22, 30, "BCI group 27, from memory"),
        (240, 62, 78, "BCI group 8D, from memory"),
    ],
)
def test_a_lead_battery_weighs_what_its_amp_hours_say(amp_hours, low, high, source):
    item = Item(key="k", kind="battery-agm", capacity_ah=amp_hours, voltage_v=12)
    assert low <= mass_of(item, RULES).likely <= high, source


@pytest.mark.parametrize(
    ("size", "kg_per_km"),
    [("1.5 mm2", 20), ("2.5 mm2", 32), ("4 mm2", 47), ("6 mm2", 67), ("16 mm2", 178)],
)
def test_a_single_core_weighs_what_makers_list(size, kg_per_km):
    """Net weight of a PVC single core of class 5, as makers list it: from memory."""
    found = cable(parse_size(size), RULES.sizes)
    assert found.likely * 1000 == pytest.approx(kg_per_km, rel=0.12)
    assert found.low * 1000 < kg_per_km < found.high * 1000
