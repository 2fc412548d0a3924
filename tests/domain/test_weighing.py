"""What scales showed: which weighing counts, how a crate is shared out, what is refused and why."""

import json
from pathlib import Path

import pytest

from shedtally.domain.aboard.position import position_of
from shedtally.domain.boat import from_values
from shedtally.domain.lists import Spread
from shedtally.domain.masses.estimate import spread_of, sum_of
from shedtally.domain.masses.item_mass import estimate_of, why_not
from shedtally.domain.masses.weighing import masses_of, net_kg, refusal
from shedtally.domain.records import Item, Weighing
from shedtally.domain.tally.masses import mass_list
from shedtally.domain.tally.scrap import scrap_list

VECTORS = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "contract" / "weighing.json").read_text("utf-8")
)


@pytest.fixture
def masses(rules):
    return lambda *rows: masses_of(from_values("b", rows), rules)


def item(key, **values):
    return ("item", key, values)


def weighing(key, of, gross, tare=None, *, on="2026-05-01T10:00:00+02:00", items=(), division=None):
    values = {"of": of, "gross_kg": gross, "tare_kg": tare, "division_kg": division, "on": on}
    members = [("weighed", f"{key}{one}", {"weighing": key, "item": one}) for one in items]
    return [("weighing", key, values), *members]


CRATE = ("place", "p", {"name": "Crate", "sort": "crate"})


@pytest.mark.parametrize("row", VECTORS)
def test_a_reading_is_weighed_or_refused_as_on_the_phone(row):
    wanted = dict(row)
    net, error = wanted.pop("net_kg", None), wanted.pop("error", "")
    found = Weighing(key="w", **wanted)
    assert refusal(found) == error
    assert net_kg(found) == (net and pytest.approx(net))


def test_gross_less_tare_wins_over_what_was_written_and_the_division_widens_it(masses):
    found = masses(
        item("a", kind="winch", mass_kg=9.0, mass_how="plate"),
        *weighing("w", "item/a", 8.0, 1.0, division=0.5),
    )
    mass = spread_of(found.estimates["a"])
    assert (mass.likely, mass.basis) == (7.0, "weighed")
    assert mass.high - 7 == pytest.approx((0.14**2 + 2 * 0.25**2) ** 0.5)
    assert "8 kg gross less 1 kg empty, read to 0.5 kg" in found.estimates["a"][1].why


def test_the_latest_weighing_counts_by_its_moment(masses):
    found = masses(
        item("a"),
        *weighing("z", "item/a", 5.0, on="2026-05-01T12:00:00+02:00"),
        *weighing("b", "item/a", 6.0, on="2026-05-01T11:00:00+00:00"),
        *weighing("y", "item/a", 7.0, on="2026-04-01"),
    )
    assert found.estimates["a"][0] == 6.0


def test_a_weighing_that_makes_no_sense_does_not_hide_the_one_before(masses):
    found = masses(
        item("a"),
        *weighing("1", "item/a", 5.0),
        *weighing("2", "item/a", 1.0, 2.0, on="2026-06-01"),
    )
    assert found.estimates["a"][0] == 5.0
    assert [row.weighing for row in found.not_counted] == ["2"]


def test_a_crate_is_shared_out_by_estimate_and_its_sum_is_the_scales(masses):
    found = masses(
        item("a", kind="winch"), item("b", kind="winch", count=3), item("c", kind="seacock"), CRATE,
        *weighing("w", "place/p", 30.0, 2.0, items="abc", division=0.2),
    )  # fmt: skip
    kg = {key: mass[0] for key, mass in found.estimates.items()}
    assert kg["b"] == pytest.approx(3 * kg["a"])
    whole = sum_of(found.estimates.values())
    assert (whole.likely, whole.basis) == (28.0, "weighed")
    assert whole.high - 28 == pytest.approx((0.56**2 + 2 * 0.1**2) ** 0.5)
    assert spread_of(found.estimates["a"]).high > 1.5 * kg["a"]


def test_what_was_weighed_alone_keeps_it_and_the_rest_goes_to_the_others(masses):
    found = masses(
        item("a", mass_kg=4.0, mass_how="weighed"), item("b"), item("c", kind="winch"), CRATE,
        *weighing("w", "place/p", 12.0, items="abc"), *weighing("v", "item/b", 3.0),
    )  # fmt: skip
    assert [found.estimates[key][0] for key in "abc"] == [4.0, 3.0, 5.0]


def test_more_alone_than_together_is_said_and_shared_out_anew(masses):
    found = masses(
        item("a", mass_kg=14.0, mass_how="weighed"), item("b", mass_kg=6.0), CRATE,
        *weighing("w", "place/p", 10.0, items="ab"),
    )  # fmt: skip
    assert [found.estimates[key][0] for key in "ab"] == [pytest.approx(7), pytest.approx(3)]
    assert "more than the 10 kg together" in found.not_counted[0].reason


@pytest.mark.parametrize(
    ("of", "reason"),
    [
        ("item/gone", "pick the item, crate or container"),
        ("place/p", "tick what lay in it"),
        ("", "pick the item, crate or container"),
    ],
)
def test_a_weighing_of_nothing_says_what_to_do(masses, of, reason):
    found = masses(item("a"), CRATE, *weighing("w", of, 5.0))
    assert reason in found.not_counted[0].reason


def test_a_container_may_be_weighed_with_nothing_recorded_inside(masses):
    can = ("container", "c", {"name": "Can"})
    assert masses(can, *weighing("w", "container/c", 5.0)).not_counted == ()


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"form": "pipe", "diameter_mm": 20.0, "thickness_mm": 12.0, "length_mm": 900.0},
         "A wall of 12 mm is more than half of 20 mm: it can be up to 10 mm."),
        ({"form": "tank shell", "length_mm": 900.0, "width_mm": 300.0, "height_mm": 5.0,
          "thickness_mm": 3.0}, "up to 2.5 mm"),
        ({"form": "cylinder", "diameter_mm": 20.0, "thickness_mm": 12.0, "length_mm": 900.0},
         "up to 10 mm"),
        ({"form": "plate", "length_mm": 0.0, "width_mm": 300.0, "thickness_mm": 3.0},
         "A length of 0 can't be: it must be more than 0 mm."),
        ({"form": "plate", "length_mm": 900.0}, "once its width and thickness is known"),
        ({"form": "cored panel", "length_mm": 900.0, "width_mm": 300.0, "thickness_mm": 20.0,
          "core_mm": 25.0, "core_material": "balsa"}, "0 to 20 mm"),
        ({"form": "plate", "material": "whalebone", "length_mm": 900.0}, "No material is called"),
        ({"form": "plate", "material": "mixed", "length_mm": 900.0}, "has no density here"),
    ],
)  # fmt: skip
def test_sizes_that_can_not_be_are_refused_with_reason_and_range(rules, values, said):
    odd = Item(key="k", kind="hull-plate", **values)
    assert said in why_not(odd, rules, estimate_of(odd, rules)[1].basis)
    good = Item(key="k", kind="hull-plate", length_mm=900.0, width_mm=300.0, thickness_mm=3.0)
    assert why_not(good, rules, estimate_of(good, rules)[1].basis) == ""


def test_the_list_has_every_item_the_reason_and_what_to_weigh_next(rules):
    boat = from_values(
        "b",
        [
            ("compartment", "c", {"name": "Bilge"}),
            item("a", kind="ballast-iron", compartment="c"),
            item("b", kind="winch", mass_kg=6.0, mass_how="weighed"),
            item("g", kind="engine", whereabouts="gone"),
            *weighing("w", "item/a", 1.0, 2.0),
        ],
    )
    found = mass_list(boat, rules)
    assert {line.key for line in found.items} == {"a", "b", "g"}
    assert [step.key for step in found.weigh_next] == ["a"], "nobody weighs what has gone"
    assert found.uncounted[0].name == "Iron ballast"
    assert {group.key: group.count for group in found.by_whereabouts} == {"aboard": 2, "gone": 1}
    assert found.weighed_share == pytest.approx(6 / found.total.likely)
    assert [group.name for group in found.by_compartment] == ["Bilge", "Not placed"]


def test_scrap_goes_by_metal_with_its_worth_and_says_what_is_dirty(rules):
    price = {"spec": "scrap/bronze", "amount": 4.0, "currency": "EUR", "per": "kilogram"}
    boat = from_values(
        "b",
        [
            item("a", kind="propeller", fate="scrap", mass_kg=10.0, mass_how="weighed"),
            item("b", kind="cable-dc", fate="scrap", size="2.5 mm2", length_mm=9000.0),
            item("c", kind="alternator", fate="scrap", soaked_in="mineral oil", lead="found"),
            item("d", kind="propeller", fate="scrap", whereabouts="gone"),
            item("e", kind="propeller", fate="refit"),
            ("price", "p", price),
            ("price", "q", {**price, "spec": "scrap/steel", "per": "each"}),
        ],
    )
    found = scrap_list(boat, rules)
    by_metal = {metal.metal: metal for metal in found.metals}
    assert list(by_metal) == ["bronze", "mixed", "copper in cable"]
    worth = by_metal["bronze"].value
    assert (worth.low, worth.likely, worth.high) == (
        pytest.approx(39.2), pytest.approx(40), pytest.approx(40.8),
    )  # fmt: skip
    assert found.unpriced == ("copper in cable", "mixed")
    assert by_metal["mixed"].items[0].dirty == ("lead in its paint", "soaked in mineral oil")
    assert "antifouling" in by_metal["bronze"].items[0].dirty[0]


def test_a_position_is_as_written_else_by_the_compartment_and_those_around_it():
    boat = from_values(
        "b",
        [
            ("boat", "b", {"length_m": 10.0, "beam_m": 3.0, "draught_m": 1.5}),
            ("compartment", "c", {"from_m": 4.0, "to_m": 6.0, "level": "under sole"}),
            ("compartment", "d", {"within": "c", "side": "port"}),
        ],
    )
    found = position_of(Item(key="k", compartment="d", up_m=0.4), boat)
    assert found.aft_m == (4.0, 5.0, 6.0)
    assert found.off_m.likely == pytest.approx(-0.84)
    assert found.up_m.likely == 0.4
    assert found.how == "Up as written on the item, the rest by its compartment."
    nowhere = position_of(Item(key="k"), boat)
    assert (nowhere.aft_m, nowhere.placed) == ((0.0, 5.0, 10.0), False)


def test_a_compartment_in_a_ring_is_no_end_of_looking():
    boat = from_values(
        "b", [("compartment", "c", {"within": "d"}), ("compartment", "d", {"within": "c"})]
    )
    assert position_of(Item(key="k", compartment="c"), boat).placed


def test_the_reason_names_its_sources(rules):
    boat = from_values(
        "b", [item("a", kind="hull-plate", length_mm=1.0, width_mm=1.0, thickness_mm=1.0)]
    )
    (line,) = mass_list(boat, rules).items
    why = mass_list(boat, rules).whys[line.why]
    assert "density of mild steel, 7850 kg/m3" in why
    assert "EN 12524" in why
    assert isinstance(line.mass, Spread)
