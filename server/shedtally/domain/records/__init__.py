"""The records of a boat: one dataclass a table, and nothing else says which fields exist.

From these classes come the validation of incoming changes (`shape.py`), the objects that the
calculations read (`boat.py`) and the client's types (`shedtally contract`). Every field is
optional, because a phone sends one field at a time and a person answers when they can; what a
missing value means is the business of the calculation that reads it. The words and units are in
`words.py`, the records that masses rest on in `mass.py`, those of waste on its way in `waste.py`,
those of what is decided about renewals in `renewal.py`.

A *target* is text of the form ``table/key``: it lets a photo, a note or a tag belong to any table.
Lengths are millimetres on items (hand tools) and metres on the boat (drawings). A position in the
boat is ``aft_m`` from the stem, ``off_m`` from the centreline (starboard counts up, port down) and
``up_m`` from the underside of the keel.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from shedtally.domain.records.mass import DipMark, Eye, Lift, Sounding, Tank, Weighed, Weighing
from shedtally.domain.records.renewal import Leftover, Purchase, Spec
from shedtally.domain.records.shape import Moment, Range, Ref, Target, Text
from shedtally.domain.records.waste import Container, Correction, Handover, Mixing
from shedtally.domain.records.words import (
    Celsius,
    Condition,
    Duty,
    Fate,
    Filling,
    Finding,
    Form,
    Holder,
    Hours,
    HoursOfADay,
    Kilograms,
    Level,
    Liquid,
    Litres,
    Long,
    MassHow,
    Metres,
    Millimetres,
    Pcb,
    Record,
    Refrigerant,
    Share,
    Short,
    Side,
    SignedMetres,
    Soak,
    Task,
    Toil,
    Water,
    Whereabouts,
)

__all__ = [
    "TABLES",
    "Before",
    "Boat",
    "Compartment",
    "Container",
    "Correction",
    "Device",
    "DipMark",
    "End",
    "Eye",
    "Handover",
    "Item",
    "Job",
    "Leftover",
    "Lift",
    "Mixing",
    "Note",
    "Photo",
    "Pin",
    "Place",
    "Price",
    "Purchase",
    "Record",
    "Sounding",
    "Spec",
    "Tag",
    "Tank",
    "Weighed",
    "Weighing",
    "Work",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Boat(Record):
    """The vessel; its rule set and holder decide which waste list applies.

    ``survey`` is the id of the one that the walk-round began with.
    From ``waterline_m`` on: how she floats, as far as known. ``float_centre_m`` and
    ``bow_overhang_m`` are measured aft from the stem, ``trim_moment`` is kg m for one centimetre.
    """

    name: Short | None = None
    built: Annotated[int, Range(1800, 2100, "year")] | None = None
    hull: Short | None = None
    length_m: Metres | None = None
    beam_m: Metres | None = None
    draught_m: Metres | None = None
    rule_set: Short | None = None
    holder: Holder | None = None
    rule_area: Short | None = None
    owner: Short | None = None
    lies_at: Short | None = None
    note: Long | None = None
    waterline_m: Metres | None = None
    waterline_beam_m: Metres | None = None
    bow_overhang_m: Metres | None = None
    displacement_kg: Kilograms | None = None
    waterplane_m2: Annotated[float, Range(0, 10_000, "m2")] | None = None
    float_centre_m: Metres | None = None
    trim_moment: Annotated[float, Range(0, 1_000_000, "kg m/cm")] | None = None
    gm_m: Annotated[float, Range(-5, 20, "m")] | None = None
    draught_fore_m: Metres | None = None
    draught_aft_m: Metres | None = None
    afloat_in: Water | None = None
    survey: Short | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Compartment(Record):
    """A place in the boat; ``from_m`` and ``to_m`` are measured aft from the stem."""

    name: Short | None = None
    within: Annotated[str, Ref("compartment")] | None = None
    side: Side | None = None
    level: Level | None = None
    from_m: Metres | None = None
    to_m: Metres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Item(Record):
    """Anything that comes out, from a seacock to a bag of rags.

    ``part_of`` is what it is bolted to and lifted with, ``mass_apart`` whether that one's mass
    leaves it out; ``never_aboard`` is new and goes in, in the place of the item that it
    ``replaces``; ``drawn_from`` the tank that a can of
    liquid was filled from. ``thickness_mm`` is the wall of what is hollow, all of a cored panel.
    ``hours`` are those that it ran, ``work_hours`` what it takes to get it out. ``handover`` is
    that of a loose item; one in a container goes with it. ``boxed_at`` is when it was put in.

    From ``load_a`` on: what a wire feeds and how it lies. ``return_mm`` is the way back where it
    is not as long as the way there; ``bundled`` counts the loaded conductors that lie together,
    its own too; ``fuse_a`` is the fuse that was there, ``new_size`` the size that somebody took.

    ``service`` is an id of the rules, what flows in a hose; ``thread`` what is cut on a fitting,
    as people write it (`renewals/thread.py` reads it).
    """

    name: Short | None = None
    kind: Short | None = None
    system: Short | None = None
    compartment: Annotated[str, Ref("compartment")] | None = None
    sat: Short | None = None
    condition: Condition | None = None
    whereabouts: Whereabouts | None = None
    fate: Fate | None = None
    place: Annotated[str, Ref("place")] | None = None
    container: Annotated[str, Ref("container")] | None = None
    out_at: Annotated[str, Moment()] | None = None
    fastened: Short | None = None
    note: Long | None = None
    count: Annotated[int, Range(1, 100_000, "pieces")] | None = None
    material: Short | None = None
    size: Short | None = None
    length_mm: Millimetres | None = None
    width_mm: Millimetres | None = None
    height_mm: Millimetres | None = None
    thickness_mm: Millimetres | None = None
    volume_l: Litres | None = None
    capacity_ah: Annotated[float, Range(0, 5_000, "Ah")] | None = None
    voltage_v: Annotated[float, Range(0, 1_000, "V")] | None = None
    mass_kg: Kilograms | None = None
    mass_how: MassHow | None = None
    hours: Hours | None = None
    work_hours: Hours | None = None
    back_at: Annotated[str, Moment()] | None = None
    leaking: bool | None = None
    drained: bool | None = None
    soaked_in: Soak | None = None
    flash_point_c: Annotated[float, Range(-60, 400, "°C")] | None = None
    lead: Finding | None = None
    asbestos: Finding | None = None
    liquid: Liquid | None = None
    damaged: bool | None = None
    emptied: bool | None = None
    cured: bool | None = None
    halogens_ppm: Annotated[float, Range(0, 1_000_000, "ppm")] | None = None
    pcb: Pcb | None = None
    refrigerant: Refrigerant | None = None
    filling: Filling | None = None
    fluorinated: bool | None = None
    battery_out: bool | None = None
    deregistered: bool | None = None
    ionising: bool | None = None
    form: Form | None = None
    diameter_mm: Millimetres | None = None
    core_mm: Millimetres | None = None
    core_material: Short | None = None
    part_of: Annotated[str, Ref("item")] | None = None
    mass_apart: bool | None = None
    never_aboard: bool | None = None
    replaces: Annotated[str, Ref("item")] | None = None
    drawn_from: Annotated[str, Ref("item")] | None = None
    handover: Annotated[str, Ref("handover")] | None = None
    boxed_at: Annotated[str, Moment()] | None = None
    aft_m: SignedMetres | None = None
    off_m: SignedMetres | None = None
    up_m: SignedMetres | None = None
    load_a: Annotated[float, Range(0, 2_000, "A")] | None = None
    load_w: Annotated[float, Range(0, 100_000, "W")] | None = None
    duty: Duty | None = None
    critical: bool | None = None
    return_mm: Millimetres | None = None
    hot_space: bool | None = None
    ambient_c: Celsius | None = None
    bundled: Annotated[int, Range(1, 500, "pieces")] | None = None
    insulation_c: Annotated[int, Range(60, 200, "°C")] | None = None
    sheathed: bool | None = None
    fuse_a: Annotated[float, Range(0, 2_000, "A")] | None = None
    trunking: Short | None = None
    new_size: Short | None = None
    service: Short | None = None
    thread: Short | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class End(Record):
    """Where a run, or a port of an item, is joined: to another item or to a named point.

    ``stud`` is the screw or bolt that a terminal goes over, like M8; ``thread`` what is cut on this
    end where it is not that of the whole item.
    """

    item: Annotated[str, Ref("item")] | None = None
    label: Short | None = None
    to_item: Annotated[str, Ref("item")] | None = None
    to_point: Short | None = None
    joined: Short | None = None
    stud: Short | None = None
    thread: Short | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo(Record):
    """A photograph of something; the bytes live in the photo store under their SHA-256."""

    of: Annotated[str, Target()] | None = None
    sha256: Annotated[str, Text(64, pattern="^[0-9a-f]{64}$")] | None = None
    type: Literal["image/jpeg", "image/png", "image/webp"] | None = None
    bytes: Annotated[int, Range(1, 50_000_000, "bytes")] | None = None
    width: Annotated[int, Range(1, 50_000, "px")] | None = None
    height: Annotated[int, Range(1, 50_000, "px")] | None = None
    taken_at: Annotated[str, Moment()] | None = None
    caption: Short | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin(Record):
    """Where an item is on a photograph, as shares of its width from the left and height down."""

    photo: Annotated[str, Ref("photo")] | None = None
    item: Annotated[str, Ref("item")] | None = None
    x: Share | None = None
    y: Share | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tag(Record):
    """A printed label. Its key is its code, so that two phones that use one tag twice meet here."""

    on: Annotated[str, Target()] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Place(Record):
    """A shelf, crate or rack in the shed."""

    name: Short | None = None
    sort: Literal["shelf", "crate", "rack", "floor", "outside"] | None = None
    within: Annotated[str, Ref("place")] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Job(Record):
    """Work that is no item. A make-safe job names the system that waits for it.

    ``sparks``: it makes heat or sparks. ``vapour``: fuel or gas is open while it is done.
    """

    name: Short | None = None
    task: Task | None = None
    system: Short | None = None
    compartment: Annotated[str, Ref("compartment")] | None = None
    area_m2: Annotated[float, Range(0, 10_000, "m2")] | None = None
    length_m: Metres | None = None
    hours: Hours | None = None
    people: Annotated[int, Range(1, 50, "people")] | None = None
    toil: Toil | None = None
    dirty: bool | None = None
    sparks: bool | None = None
    vapour: bool | None = None
    done_at: Annotated[str, Moment()] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Before(Record):
    """``first`` before ``then``: ``then`` can't come out, or start, until ``first`` is done.

    A compartment stands for all that is in it: first it must be empty, then nothing in it may
    come out before.
    """

    first: Annotated[str, Target("item", "job", "compartment")] | None = None
    then: Annotated[str, Target("item", "job", "compartment")] | None = None
    why: Short | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Note(Record):
    """A remark that belongs to something."""

    of: Annotated[str, Target()] | None = None
    text: Long | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Work(Record):
    """Hours that so many people each put in on one day."""

    on: Annotated[str, Moment()] | None = None
    hours: HoursOfADay | None = None
    people: Annotated[int, Range(1, 50, "people")] | None = None
    job: Annotated[str, Ref("job")] | None = None
    compartment: Annotated[str, Ref("compartment")] | None = None
    note: Long | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Price(Record):
    """What a renewal costs, as the user was quoted it; ``spec`` is the id of a line.

    ``length_mm`` is that of the reel or length that the price is for (``per`` reel), ``pieces`` how
    many are in a pack (``per`` pack).
    """

    spec: Short | None = None
    amount: Annotated[float, Range(0, 1_000_000, "currency units")] | None = None
    currency: Annotated[str, Text(3, pattern="^[A-Z]{3}$")] | None = None
    per: Literal["each", "pack", "metre", "reel", "kilogram"] | None = None
    supplier: Short | None = None
    length_mm: Annotated[float, Range(0, 2_000_000, "mm")] | None = None
    pieces: Annotated[int, Range(1, 100_000, "pieces")] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Device(Record):
    """What people call a phone; who may write is the server's own table, not this record."""

    name: Short | None = None


TABLES: dict[str, type[Record]] = {
    "boat": Boat,
    "compartment": Compartment,
    "item": Item,
    "end": End,
    "photo": Photo,
    "pin": Pin,
    "tag": Tag,
    "place": Place,
    "container": Container,
    "job": Job,
    "before": Before,
    "handover": Handover,
    "correction": Correction,
    "mixing": Mixing,
    "note": Note,
    "work": Work,
    "price": Price,
    "spec": Spec,
    "purchase": Purchase,
    "leftover": Leftover,
    "weighing": Weighing,
    "weighed": Weighed,
    "tank": Tank,
    "dipmark": DipMark,
    "sounding": Sounding,
    "lift": Lift,
    "eye": Eye,
    "device": Device,
}
