"""Invented lists to print: a boat that never was, with the awkward cases of a real one."""

import datetime as dt
import random

from shedtally.domain.lists import (
    LeftGroup,
    LeftItem,
    LeftList,
    Question,
    RenewalLine,
    RenewalList,
    Spread,
    WasteItem,
    WasteList,
    WasteStream,
)
from shedtally.domain.records import tag
from shedtally.printing.paper import Heading

HEADING = Heading("Corncrake", dt.date(2026, 5, 4), 1412)
NOTHING = Spread(0, 0, 0, "weighed")
STANDING = (
    "This list is a worksheet, not a legal classification. The holder decides; the site that "
    "receives the waste and the authority overrule it, and local rules may be stricter."
)
VAPOUR = "Fuel vapour: open doors, no spark, no heater; vapour creeps along the floor."
ACID = "Goggles and gloves; cover the terminals; charge nowhere near."


def codes(count, seed=7):
    draw = random.Random(seed)
    numbers = (draw.randrange(32**4, tag.NUMBERS) for _ in range(3 * count + 20))
    return [tag.encode(number) for number in numbers if tag.is_issuable(number)][:count]


def left_item(name, kind, system, code=None, waits=(), cautions=()):  # noqa: PLR0917
    tags = (code,) if code else ()
    return LeftItem(name, name, kind, system, tags, not waits, tuple(waits), tuple(cautions))


def left_list():
    code = codes(20)
    engine = (
        left_item("Primary fuel filter", "filter-fuel", "fuel", code[0],
                  ("Make safe: drain and vent the fuel",), (VAPOUR,)),
        left_item("Seacock, engine raw water", "seacock", "raw-water", code[1]),
        left_item("Raw water hose, seacock to strainer", "hose-raw-water", "raw-water", None,
                  ("Seacock, engine raw water", "Strainer")),
        left_item("Start battery", "battery-lead-acid", "dc", code[2],
                  ("Make safe: isolate batteries and shore power",), (ACID,)),
        left_item("Day tank behind the port bulkhead, stainless, with sight glass, drain and two "
                  "inspection hatches", "tank-fuel", "fuel", code[3],
                  ("Make safe: drain and vent the fuel", "Primary fuel filter", "Sole boards",
                   "Exhaust elbow", "Engine bearers", "Heater"), (VAPOUR, ACID)),
    )  # fmt: skip
    galley = (
        left_item("Two-burner cooker", "cooker-gas", "gas", code[4],
                  ("Make safe: close and cap the gas",)),
        left_item("Sink pump", "pump-fresh-water", "fresh-water", code[5]),
    )  # fmt: skip
    nowhere = (left_item("Ωμέγα & <strut>", "", "", code[6]),)
    groups = (
        LeftGroup("a", "engine room", ("hull", "engine room"), 14, 9, 5, engine),
        LeftGroup("b", "galley", ("hull", "saloon", "galley"), 11, 9, 2, galley),
        LeftGroup("c", "no compartment", (), 1, 0, 1, nowhere),
        LeftGroup("d", "forepeak", ("hull", "forepeak"), 8, 8, 0, ()),
        LeftGroup("e", "wet locker", ("hull", "saloon", "wet locker"), 3, 3, 0, ()),
    )
    systems = tuple(
        LeftGroup(name, name, (name,), total, out, total - out, ())
        for name, total, out in (("fuel", 9, 7), ("raw water", 8, 6), ("DC", 7, 6), ("gas", 4, 3),
                                 ("fresh water", 6, 5), ("joinery", 3, 2))
    )  # fmt: skip
    return LeftList(37, 29, 8, 3, groups, systems)


def waste_item(name, code, mass, reason, container=None, count=1, *, assumed=False, gone=False):  # noqa: PLR0917
    return WasteItem(
        name, name, (code,) if code else (), count, mass, reason, assumed, container, gone
    )


def waste_list():
    code = codes(20, seed=8)
    battery = WasteStream(
        "lead-acid", "Lead-acid batteries", "16 06 01*", "lead batteries", True,
        "Lead and acid; the star makes it hazardous whatever is measured.",
        "UN2794 Batteries, wet, filled with acid, class 8", "Upright in an acid-proof tray",
        ("Alkaline cells", "Anything that burns"), (ACID,), (),
        ("Commission Decision 2000/532/EC",),
        False, Spread(37, 38, 39, "plate"), Spread(24, 24, 24, "weighed"),
        (
            waste_item("Start battery", code[0], Spread(37, 38, 39, "plate"),
                       "Its kind is a lead-acid battery.", "Battery tray"),
            waste_item("House batteries", code[1], Spread(24, 24, 24, "weighed"),
                       "Its kind is a lead-acid battery.", "Battery tray", 2, gone=True),
        ),
    )  # fmt: skip
    rags = WasteStream(
        "rag-drying", "Rags with drying oil", "15 02 02*",
        "absorbents, filter materials, wiping cloths contaminated by dangerous substances", True,
        "Soaked in linseed oil, or not known.", "UN1856 Rags, oily, class 4.2",
        "Metal can with a tight lid, filled with water, out of doors", ("Everything else",),
        ("It can catch fire by itself within hours; water, lid, metal, outside.",),
        ("Fire service, if they are warm or smell hot",), ("OSHA oily rags note", "from memory"),
        True, Spread(0.4, 1.6, 4, "guessed"), NOTHING,
        (
            waste_item("Rags from the coach roof", code[2], Spread(0.4, 1.6, 4, "guessed"),
                       "Nobody said what they are soaked in, so the worse is assumed.",
                       None, 12, assumed=True),
        ),
    )  # fmt: skip
    timber = WasteStream(
        "timber", "Clean timber", "17 02 01", "wood", False, "Neither painted nor treated.", "None",
        "Stacked dry", ("Treated timber",), (), (), ("Commission Decision 2000/532/EC",), False,
        Spread(80, 140, 210, "calculated"), NOTHING,
        (
            waste_item("Sole boards, rotten", None, Spread(80, 140, 210, "calculated"),
                       "Fate is waste; teak, 21 pieces.", "Skip", 21),
        ),
    )  # fmt: skip
    asked = (
        Question("i1", "Rags from the coach roof", "soaked_in", "What are they soaked in?",
                 "drying oil, which can catch fire by itself"),
        Question("i2", "Primer under the saloon sole", "lead", "Was the paint tested for lead?",
                 "it holds lead"),
    )  # fmt: skip
    return WasteList(
        "eu", "European list of waste", "2014-12-18", "household", STANDING,
        (battery, rags, timber), asked, Spread(136, 180, 246, "mixed"),
        Spread(24, 24, 24, "weighed"), 0.12,
    )  # fmt: skip


def renewal_list():
    code = codes(20, seed=9)
    lines = (
        RenewalLine("Fuel hose, fire resistant, 10 mm, ISO 7840, type A1", "hose-fuel", "fuel",
                    "10 mm", "ISO 7840, type A1", 3, 4350, 0.1, 4785, (), tuple(code[:3]), ()),
        RenewalLine("Hose clip, 316, 16 to 27 mm", "clip", "fuel", "16–27 mm", "", 12, None, 0,
                    None, (), (), ()),
        RenewalLine("Raw water hose, wire wound, 1 1/2 in", "hose-raw-water", "raw-water",
                    "1 1/2 in", "", 4, 6120, 0.1, 6732, (), tuple(code[3:16]),
                    ("Is the size inside or outside?",)),
        RenewalLine("Seacock, DZR or bronze", "seacock", "raw-water", "", "EN ISO 9093", 5, None, 0,
                    None, (), tuple(code[16:18]), ("Which thread?", "Which length of stem?")),
        RenewalLine("Cable, tinned, 16 mm2", "cable-dc", "dc", "16 mm2", "ISO 13297", 9, 28400,
                    0.15, 34460, (), (), ()),
    )  # fmt: skip
    asked = (Question("x", "Seacock, heads outlet", "size", "Which size is it?", "to be measured"),)
    return RenewalList(lines, asked, ("Fuel hose: only a hose marked for fuel on boats.", VAPOUR))
