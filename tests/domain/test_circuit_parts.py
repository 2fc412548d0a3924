"""Terminals and fuses of a run are the same with the list of circuits and on the order."""

import random

import pytest

from shedtally.domain.aboard.run_ends import RunEnds
from shedtally.domain.renewals.circuits import CircuitReader, runs_of_cable

CHOICES = {
    "kind": ("cable-dc", "cable-ac"),
    "size": ("2 x 2.5 mm2", "AWG 12", "some wire", None),
    "new_size": (None, None, "6 mm2", "AWG 8", "thick"),
    "load_a": (None, 0.0, 4.0, 40.0, 400.0),
    "load_w": (None, 60.0),
    "voltage_v": (None, 12.0, 24.0, 230.0),
    "length_mm": (None, 900.0, 12_000.0),
    "count": (None, 3),
    "sheathed": (None, True),
    "insulation_c": (None, 60, 105),
    "bundled": (None, 7),
    "trunking": (None, "40 x 25 mm", "port"),
    "fate": ("renew",),
}
ENDS = (
    {"to_item": "panel", "stud": "M8"},
    {"to_item": "lamp"},
    {"to_point": "mast foot", "stud": "5/16 in"},
    {"to_item": "gone", "stud": "M6"},
)


def boats(items, seed):
    rng = random.Random(seed)
    runs = {f"r{n}": {name: rng.choice(of) for name, of in CHOICES.items()} for n in range(40)}
    ends = [
        ("end", f"e{key}{n}", {"item": key, **rng.choice(ENDS)})
        for key in runs
        for n in range(rng.randrange(4))
    ]
    back = [("end", f"b{n}", {"item": "panel", "to_item": f"r{n}", "stud": "M10"}) for n in (1, 2)]
    return items(
        *ends, *back, panel={"kind": "switch-panel-dc"}, lamp={"kind": "light-cabin"}, **runs
    )


@pytest.mark.parametrize("seed", range(12))
def test_what_a_run_takes_is_the_same_with_and_without_the_words(items, rules, seed):
    boat = boats(items, seed)
    reader = CircuitReader(RunEnds(boat, rules), rules)
    runs = list(runs_of_cable(boat.items.values(), rules))
    assert len(runs) == 40
    for run in runs:
        assert reader.takes(*run) == reader.takes_of(reader.line(*run), *run)
