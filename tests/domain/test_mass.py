"""The mass of an item: the best knowledge first, and what a spread means."""

import pytest

from shedtally.domain.lists import Spread
from shedtally.domain.masses.item_mass import mass_of, why_not
from shedtally.domain.masses.section import OutOfRange, kg_per_m
from shedtally.domain.masses.spread import product, total
from shedtally.domain.measures.reading import parse_size
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Three


def near(guess):
    """A guess as a sum gives it back: shares of the likely value, so not the same to a bit."""
    return Spread(*map(pytest.approx, (guess.low, guess.likely, guess.high)), guess.basis)


@pytest.fixture
def mass(rules):
    return lambda **values: mass_of(Item(key="k", **values), rules)


def test_a_weighed_mass_wins_over_everything_else(mass):
    found = mass(kind="hose-fuel", size="10 mm", length_mm=2000.0, mass_kg=0.61, mass_how="weighed")
    assert found == Spread(pytest.approx(0.5978), 0.61, pytest.approx(0.6222), "weighed")


def test_a_weighed_lot_is_not_multiplied_by_its_pieces(mass):
    assert mass(kind="cells-alkaline", count=10, mass_kg=0.24, mass_how="weighed").likely == 0.24


def test_a_plate_speaks_of_one_piece(mass):
    found = mass(kind="winch", count=2, mass_kg=6.5, mass_how="plate")
    assert (found.likely, found.basis) == (13.0, "plate")
    assert found.low == pytest.approx(11.7)


def test_a_mass_without_a_way_counts_as_guessed(mass):
    assert mass(kind="winch", mass_kg=6.0) == Spread(3.0, 6.0, 9.0, "guessed")


def test_a_mass_of_zero_is_none_and_says_so(mass, rules):
    nothing = {"kind": "winch", "mass_kg": 0.0, "mass_how": "weighed"}
    assert mass(**nothing) == mass(kind="winch")
    said = why_not(Item(key="k", **nothing), rules, "guessed")
    assert "it must be more than 0 kg" in said


def test_a_board_weighs_its_volume_times_its_density(mass):
    found = mass(kind="panel-ply", length_mm=1200.0, width_mm=600.0, thickness_mm=12.0)
    assert found.likely == pytest.approx(1.2 * 0.6 * 0.012 * 640)
    assert found.basis == "calculated"
    assert found.low < found.likely < found.high


def test_the_material_on_the_item_wins_over_that_of_its_kind(mass):
    board = {"kind": "panel-ply", "length_mm": 1000.0, "width_mm": 1000.0, "thickness_mm": 10.0}
    assert mass(**board, material="oak").likely == pytest.approx(7.2)
    assert mass(**board, material="Acrylic").likely == pytest.approx(11.8)


def test_a_material_that_is_not_known_is_not_calculated_with_another(mass, rules):
    board = {"kind": "panel-ply", "length_mm": 9000.0, "width_mm": 1000.0, "thickness_mm": 10.0}
    assert mass(**board, material="whalebone") == near(rules.kinds["panel-ply"].mass)


def test_litres_are_a_mass_only_where_the_content_is_meant(mass, rules):
    assert mass(kind="old-diesel", volume_l=100.0).likely == pytest.approx(83.8)
    assert mass(kind="fuel-tank", volume_l=100.0) == near(rules.kinds["fuel-tank"].mass)
    assert mass(kind="old-diesel", volume_l=0.0).likely == 0


def test_a_hose_is_calculated_from_bore_and_length(mass, rules):
    one = mass(kind="hose-raw-water", size="3/4 in", length_mm=1000.0)
    assert one.likely == pytest.approx(0.4318, abs=1e-4)
    assert mass(kind="hose-raw-water", size="19 mm", length_mm=3000.0).likely == pytest.approx(
        3 * one.likely, rel=0.01
    )
    assert mass(kind="hose-raw-water", size="3/4 in") == near(rules.kinds["hose-raw-water"].mass)


@pytest.mark.parametrize("size", ["nonsense", "2.5 mm2", "3 mm", "150 mm", ""])
def test_a_hose_of_no_usable_size_falls_back_on_its_kind(mass, rules, size):
    found = mass(kind="hose-raw-water", size=size, length_mm=1000.0)
    assert found == near(rules.kinds["hose-raw-water"].mass)


def test_a_hose_between_two_sizes_weighs_between_the_two(mass):
    small, between, large, beyond = (
        mass(kind="hose-bilge", size=size, length_mm=1000.0).likely
        for size in ("25.4 mm", "28 mm", "31.8 mm", "80 mm")
    )
    assert small < between < large < beyond


def test_a_cable_of_two_cores_weighs_twice_one_and_its_sheath(mass):
    one = mass(kind="cable-dc", size="2.5 mm2", length_mm=1000.0).likely
    two = mass(kind="cable-dc", size="2 x 2.5 mm2", length_mm=1000.0).likely
    assert two == pytest.approx(2 * 1.35 * one)


def test_a_cable_by_its_diameter_falls_back_on_its_kind(mass, rules):
    found = mass(kind="cable-dc", size="6 mm", length_mm=1000.0)
    assert found == near(rules.kinds["cable-dc"].mass)


def test_a_pipe_uses_its_own_wall_where_it_was_measured(mass):
    usual = mass(kind="pipe-fuel", size="10 mm", length_mm=1000.0)
    thick = mass(kind="pipe-fuel", size="10 mm", length_mm=1000.0, thickness_mm=2.0)
    assert thick.likely > usual.likely
    assert thick.high - thick.low < usual.high - usual.low


def test_a_wall_thicker_than_the_pipe_falls_back_on_the_kind(mass, rules):
    found = mass(kind="pipe-fuel", size="10 mm", length_mm=1000.0, thickness_mm=6.0)
    assert found == near(rules.kinds["pipe-fuel"].mass)


def test_chain_wire_rope_and_shaft_are_calculated(mass):
    assert mass(kind="anchor-chain", size="10 mm", length_mm=1000.0).likely == pytest.approx(2.22)
    assert 0.13 < mass(kind="shroud", size="6 mm", length_mm=1000.0).likely < 0.19
    assert 0.07 < mass(kind="rope", size="12 mm", length_mm=1000.0).likely < 0.13
    assert mass(kind="propeller-shaft", size="30 mm", length_mm=2000.0).likely == pytest.approx(
        11.28, abs=0.01
    )


def test_a_run_without_a_section_goes_by_its_kind(mass, rules):
    found = mass(kind="heating-duct", size="80 mm", length_mm=4000.0)
    assert found == near(rules.kinds["heating-duct"].mass)


def test_a_run_of_a_material_without_density_goes_by_its_kind(mass, rules):
    found = mass(kind="rope", size="12 mm", length_mm=4000.0, material="mixed")
    assert found == near(rules.kinds["rope"].mass)


def test_a_battery_is_calculated_from_its_energy(mass):
    known = mass(kind="battery-agm", capacity_ah=100.0, voltage_v=12.0)
    assert (known.likely, known.basis) == (pytest.approx(27.0), "calculated")
    taken = mass(kind="battery-agm", capacity_ah=100.0)
    assert (taken.likely, taken.basis) == (pytest.approx(27.0), "guessed")


def test_pieces_of_one_kind_are_off_together(mass, rules):
    one, ten = rules.kinds["cells-alkaline"].mass, mass(kind="cells-alkaline", count=10)
    assert (ten.low, ten.high) == (pytest.approx(10 * one.low), pytest.approx(10 * one.high))


def test_what_nobody_knows_anything_of_still_weighs_something(mass, rules):
    assert mass() == near(rules.nothing_known)
    assert mass(kind="a-newer-kind").likely > 0


def test_a_total_adds_the_likely_and_the_errors_in_squares():
    found = total([Spread(8, 10, 13, "weighed"), Spread(16, 20, 24, "weighed")])
    assert found.likely == 30
    assert found.low == pytest.approx(30 - 20**0.5)
    assert found.high == pytest.approx(35)
    assert found.basis == "weighed"


def test_a_total_of_several_ways_is_mixed_and_of_nothing_is_unknown():
    assert total([Spread(1, 1, 1, "weighed"), Spread(1, 1, 1, "guessed")]).basis == "mixed"
    assert total([]) == Spread(0, 0, 0, "unknown")


def test_a_product_never_falls_below_zero():
    wide = Three(0.1, 1.0, 2.0)
    assert product(wide, wide).low == 0
    assert product(Three(0, 0, 0), wide) == (0, 0, 0)


def test_a_section_without_a_formula_is_out_of_range(rules):
    with pytest.raises(OutOfRange):
        kg_per_m("", parse_size("10 mm"), rules.materials["copper"], 0, rules.sizes)
