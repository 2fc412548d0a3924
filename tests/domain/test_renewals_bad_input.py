"""What can't be ordered as it was written: said plainly, with the way out, and nothing is lost."""

import pytest

from shedtally.domain.buying.order import order_list
from shedtally.domain.renewals.circuits import circuits
from shedtally.domain.renewals.gaps import so_many
from shedtally.domain.renewals.lines import renewals

WIRE = {
    "kind": "cable-dc", "size": "2.5 mm2", "length_mm": 4500, "voltage_v": 12, "bundled": 2,
    "insulation_c": 105, "duty": "hours", "critical": False, "hot_space": False, "fate": "renew",
}  # fmt: skip


def test_a_load_of_nothing_is_refused_with_the_reason_and_what_to_write(items, rules):
    (line,) = circuits(items(a={**WIRE, "load_a": 0}), rules).circuits
    assert line.verdict == "outside the method"
    assert line.sizing.refused.startswith("A load of 0 needs no wire: it takes more than 0 A.")
    assert "Write what the plate says" in line.sizing.refused
    found = renewals(items(a={**WIRE, "load_a": 0}), rules).lines
    assert not [one for one in found if one.kind == "fuse"], "no fuse is ordered for it"
    assert [one.length_mm for one in found if one.kind == "cable-dc"] == [4500]


def test_a_load_that_nobody_wrote_is_asked_for_and_the_old_size_stands_as_copied(items, rules):
    (line,) = circuits(items(a=WIRE), rules).circuits
    assert line.sizing.asks[0].startswith("Write the load first: amperes or watts, off the plate")
    (cable,) = [one for one in renewals(items(a=WIRE), rules).lines if one.kind == "cable-dc"]
    assert cable.open_questions == (
        "Copied, not sized: size the wire on the run before you order.",
    )


@pytest.mark.parametrize(
    ("thread", "said"),
    [
        ("?", "Thread: the thread is not known; write family and size, like G 3/4"),
        ("as the old one", "Thread: as the old one is no thread that I know; write family and"),
        ("G 7/16", "Thread: g 7/16 is no size of pipe thread; they go from 1/8 to 4"),
        ("26.4 mm, 9 tpi", "Thread: no pipe thread has 26.4 mm outside and 9 to the inch"),
        ("21 mm, 14 tpi", "Thread: 21 mm and 14 to the inch may be "),
        ("BSP 3/4", "BSP 3/4 may be parallel (G, Rp) or taper (R, Rc), and one is not tight in"),
        (None, "The thread is not known, and BSP and NPT don't go together: measure outside"),
    ],
)
def test_a_thread_that_is_not_known_is_asked_for_with_how_to_find_it(items, rules, thread, said):
    cock = {"kind": "seacock", "size": "19 mm", "thread": thread}
    (line,) = renewals(items(a=cock), rules).lines
    (question,) = line.open_questions
    assert question.startswith(said)
    assert line.count == 1
    (fixed,) = renewals(items(("spec", line.id, {"thread_family": "G"}), a=cock), rules).lines
    assert fixed.open_questions == ()


def test_a_bore_that_nobody_makes_names_the_two_next_to_it(items, rules):
    (line,) = renewals(
        items(a={"kind": "hose-bilge", "size": "29 mm", "length_mm": 900}), rules
    ).lines
    assert line.open_questions[0].startswith(
        "29 mm is no bore of ISO 1307; next to it are 25 and 31.5 mm: measure the tail"
    )


def test_a_waste_hose_that_is_too_narrow_is_told(items, rules):
    hose = {"kind": "hose-sanitation", "size": "25 mm", "length_mm": 900}
    (line,) = renewals(items(a=hose), rules).lines
    assert line.open_questions[0].startswith("25 mm is narrow: waste pipes are at least 38 mm")


def test_a_hose_on_a_tail_of_another_size_is_told_on_both_lines(items, rules):
    boat = items(
        ("end", "e", {"item": "hose", "to_item": "tail"}),
        hose={"kind": "hose-raw-water", "size": "25 mm", "length_mm": 900},
        tail={"kind": "hose-tail", "size": "19 mm", "fate": "renew", "thread": "G 3/4"},
    )
    told = [line for line in renewals(boat, rules).lines if line.mismatches]
    assert {line.kind for line in told} == {"hose-raw-water", "hose-tail"}
    for line in told:
        assert "hose 25 mm (1 in) on a tail for 19 mm (3/4 in): measure both" in line.mismatches[0]
    (order,) = [ln for ln in order_list(boat, rules).lines if ln.spec.startswith("Hose tail")]
    assert any("on a tail for" in ask for ask in order.asks)


def test_a_length_from_the_compartments_gives_its_range_and_says_to_measure(items, rules):
    boat = items(
        ("compartment", "fore", {"from_m": 1.0, "to_m": 3.0, "side": "port", "level": "cabin"}),
        ("compartment", "aft", {"from_m": 7.0, "to_m": 9.0, "side": "starboard", "level": "cabin"}),
        ("boat", "boat", {"length_m": 11.0, "beam_m": 3.4}),
        ("end", "e1", {"item": "run", "to_item": "tank"}),
        ("end", "e2", {"item": "run", "to_item": "pump"}),
        run={"kind": "hose-fresh-water", "size": "13 mm", "compartment": "fore"},
        tank={"kind": "water-tank", "compartment": "fore"},
        pump={"kind": "water-pump", "compartment": "aft"},
    )  # fmt: skip
    (line,) = [one for one in renewals(boat, rules).lines if one.kind == "hose-fresh-water"]
    (run,) = line.runs
    assert run.how == "worked out from the compartments"
    assert run.low_mm < run.length_mm < run.high_mm
    # Middles lie 6 m apart along the boat; nothing between them is nearer than 4 m.
    assert run.low_mm >= 4000
    assert run.length_mm >= 6000
    assert "Measure before you cut." in line.open_questions[-1]


@pytest.mark.parametrize(
    ("some", "count", "said"),
    [(1, 1, "Copied"), (1, 2, "1 of 2 copied"), (2, 2, "Both copied"), (6, 6, "All 6 copied")],
)
def test_what_is_asked_of_some_of_a_line_reads_as_a_person_would_say_it(some, count, said):
    assert so_many(some, count, "copied") == said
