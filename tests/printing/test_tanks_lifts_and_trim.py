"""Tanks, lifts, trim and scrap on paper, read back: figures, reasons, the trade's words."""

import datetime as dt

import pytest

from shedtally.domain.boat import BoatRecords
from shedtally.domain.floating.trim import trim_list
from shedtally.domain.lifting.lifts import lift_list
from shedtally.domain.records import Boat, Eye, Item, Lift, Price, Sounding, Tank
from shedtally.domain.tally.masses import mass_list
from shedtally.domain.tally.scrap import scrap_list
from shedtally.domain.tanks.held import tank_list
from shedtally.printing.figures import number
from shedtally.printing.lifts import lifts_pdf
from shedtally.printing.masses import masses_pdf
from shedtally.printing.paper import Heading
from shedtally.printing.scrap import scrap_csv, scrap_pdf
from shedtally.printing.tanks import tanks_pdf
from shedtally.printing.trim import trim_pdf
from shedtally.rules.load import load

RULES = load()
HEADING = Heading("Corncrake", dt.date(2026, 11, 25), 7)
EYES = {
    "1": Eye(key="1", lift="l", name="Fore", aft_m=5.6, off_m=0, up_m=1.2, rated_kg=10),
    "2": Eye(key="2", lift="l", name="After", aft_m=6.4, off_m=0, up_m=1.2, rated_kg=900),
}
ENGINE = Item(
    key="e", name="Engine", mass_kg=250, mass_how="plate", aft_m=6, off_m=0.4, up_m=0.8,
    whereabouts="ashore",
)  # fmt: skip
BOAT = BoatRecords(
    boat=Boat(key="b", length_m=11.2, beam_m=3.5, draught_m=1.55, displacement_kg=9000, gm_m=1.0),
    items={
        "e": ENGINE,
        "i": Item(key="i", name="Diesel tank"),
        "c": Item(key="c", name="Blue can", drawn_from="i", volume_l=20, out_at="2026-01-05"),
    },
    lifts={"l": Lift(key="l", of="e", name="Engine out", hook_up_m=2.2, centre_aft_m=6,
                     centre_off_m=0, centre_up_m=0.8)},
    eyes=EYES,
    tanks={"t": Tank(key="t", of="i", shape="box", length_mm=1000, width_mm=600, height_mm=500,
                     liquid="diesel")},
    soundings={
        "1": Sounding(key="1", tank="t", how="dip", level_mm=300, on="2026-01-02"),
        "2": Sounding(key="2", tank="t", how="dip", level_mm=200, on="2026-01-04"),
    },
)  # fmt: skip


def text_of(printed, pdf):
    return " ".join(" ".join(printed(pdf).text()).split())


def test_tanks_say_what_is_still_in_and_what_was_lost(printed):
    text = text_of(printed, tanks_pdf(tank_list(BOAT, RULES), HEADING))
    assert "60 L less, and no can was filled" in text
    assert "Blue can 20" in text
    assert "100 L are still in the tanks" in text
    assert RULES.reading.standing in text
    assert "A competent person tests the air" in text


def test_masses_hold_the_rest_of_a_tank(printed):
    text = text_of(printed, masses_pdf(mass_list(BOAT, RULES), HEADING))
    assert "Diesel still in Diesel tank" in text
    assert "100.0 L by the sounding of 4 January 2026 less what was drawn since" in text


def test_a_lift_is_drawn_with_its_angles_and_what_is_over(printed):
    lifts = lift_list(BOAT, RULES)
    text = text_of(printed, lifts_pdf(lifts, HEADING))
    (line,) = lifts.lifts
    assert line.refused == ""
    for at, leg in enumerate(line.legs, start=1):
        assert f"{at}: {leg.angle_deg:.0f}°" in text
        assert f"{leg.tension_kg:.0f} kg" in text
    assert "kg, over" in text
    assert text.count("nobody under it") == 2
    assert "From the side, bow left" in text


def test_trim_is_in_words(printed):
    trim = trim_list(BOAT, RULES)
    text = text_of(printed, trim_pdf(trim, HEADING))
    assert "kg off" in text
    assert "cm less" in text
    assert "to port" in text
    assert "deeper amidships" not in text
    assert trim.states[0].list_deg is not None
    assert trim.states[0].list_deg.likely == pytest.approx(-0.65, abs=0.2)


def test_the_trim_of_a_whole_boat_fits_on_few_pages_and_loses_no_kilogram(printed):
    lockers = {
        str(n): Item(key=str(n), name=f"Locker {n}", mass_kg=n / 2, mass_how="weighed",
                     whereabouts="ashore", aft_m=n / 30 if n == 239 else None)
        for n in range(1, 241)
    }  # fmt: skip
    trim = trim_list(BoatRecords(boat=BOAT.boat, items=lockers), RULES)
    pages = printed(trim_pdf(trim, HEADING)).text()
    text = " ".join(" ".join(pages).split())
    assert len(pages) <= 8
    # 1 to 204 halves, each up to 102 kg, are 10 455 kg.
    assert "204 more, each of 102.0 kg or less" in text
    assert "-10 455.0 kg" in text.replace("\N{NO-BREAK SPACE}", " ")
    # What nearly all have in common is said once, over the table, and only what differs by a line.
    usual = trim.states[0].moved[0].how
    assert text.count(usual[1:]) == sum(bool(state.moved) for state in trim.states)
    (other,) = {row.how for row in trim.states[0].moved} - {usual}
    assert other in text


SCRAP = BoatRecords(
    boat=Boat(key="b"),
    items={
        "w": Item(key="w", name="Winch", fate="scrap", material="bronze", mass_kg=21,
                  mass_how="weighed"),
        "k": Item(key="k", name="Keel bolt bar", fate="scrap", material="mild-steel", mass_kg=40,
                  mass_how="plate"),
        "g": Item(key="g", name="Gone chain", fate="scrap", material="mild-steel", mass_kg=99,
                  whereabouts="gone"),
    },
    prices={"p": Price(key="p", spec="scrap/bronze", amount=4, currency="EUR", per="kilogram")},
)  # fmt: skip


def test_scrap_is_by_metal_with_what_it_weighs_and_may_fetch(printed):
    scrap = scrap_list(SCRAP, RULES)
    text = text_of(printed, scrap_pdf(scrap, HEADING))
    assert "By metal" in text
    assert "4.00 EUR" in text
    # 21 kg at 4 EUR is 84 EUR, and 21 of 61 kg were weighed.
    assert "84 EUR" in text
    assert "34 % of it was weighed" in text
    assert f"Without a price: {', '.join(scrap.unpriced)}" in text
    assert "Gone chain" not in text
    assert "Nothing closed goes to a dealer" in text
    assert "Local rules and licensed trades come first" in text
    assert "Gone chain" not in scrap_csv(scrap)


def test_no_scrap_says_what_to_do(printed):
    nothing = BoatRecords(boat=Boat(key="b"), items={"e": ENGINE})
    text = text_of(printed, scrap_pdf(scrap_list(nothing, RULES), HEADING))
    assert "An item is listed here once its fate is scrap" in text


def test_what_rounds_to_nothing_has_no_sign():
    assert [number(value, 1) for value in (-0.04, 0.04, -0.06)] == ["0.0", "0.0", "-0.1"]
