"""The records of renewing: what a person decides about the lines of the renewals list.

They are tables like those of `__init__.py`, which lists them all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from shedtally.domain.records.shape import Moment, Range, Ref
from shedtally.domain.records.words import Long, Millimetres, Record, Short, ThreadFamily


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec(Record):
    """What is to be bought for one line of the renewals list, fixed once and not for each item.

    Its key is the line's id (`spec_id.line_id`), so that two phones that fix the same line meet in
    one record, or in a clash to settle. The id is made of what lines are merged by before anything
    is fixed (kind, size, material, service, thread), so fixing a detail doesn't change it.

    ``line`` is how the line read when it was fixed. ``service`` is an id of the rules (what flows
    in a hose), ``standard`` the one that was chosen, ``conductor`` a section or gauge as people
    write it, ``size`` that of a plain part. ``bought_as`` is the id of the line that this one is
    bought under, which is the way out of mixed units; ``substitute`` says in words what may be
    taken instead. ``allowance`` and ``each_end_mm`` stand in place of the usual share and length
    that are added to each run.
    """

    line: Short | None = None
    service: Short | None = None
    standard: Short | None = None
    size: Short | None = None
    bore_mm: Millimetres | None = None
    outside_mm: Millimetres | None = None
    material: Short | None = None
    thread_family: ThreadFamily | None = None
    thread_size: Short | None = None
    clamps_each_end: Annotated[int, Range(0, 4, "clamps")] | None = None
    conductor: Short | None = None
    cores: Annotated[int, Range(1, 50, "cores")] | None = None
    tinned: bool | None = None
    sheathed: bool | None = None
    insulation_c: Annotated[int, Range(60, 200, "°C")] | None = None
    colour: Short | None = None
    bought_as: Short | None = None
    allowance: Annotated[float, Range(0, 1, "share")] | None = None
    each_end_mm: Annotated[float, Range(0, 2_000, "mm")] | None = None
    substitute: Short | None = None
    note: Long | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase(Record):
    """How far the buying of one line has got. Its key is the line's id, as that of its `Spec`.

    A day that is there says that the step was taken; the furthest one counts. ``count`` is how
    many pieces the line had when they were bought, so that what came to it later is noticed.
    ``from_price`` is the offer that was taken.
    """

    line: Short | None = None
    bought_at: Annotated[str, Moment()] | None = None
    arrived_at: Annotated[str, Moment()] | None = None
    fitted_at: Annotated[str, Moment()] | None = None
    count: Annotated[int, Range(1, 100_000, "pieces")] | None = None
    from_price: Annotated[str, Ref("price")] | None = None
    supplier: Short | None = None
    note: Long | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover(Record):
    """A length that lies in the shed and can be cut for a line; ``spec`` is the line's id.

    ``from_cut``: it is what was left when the line itself was cut, so it is for what comes to the
    line later, and for no piece of what is bought already.
    """

    spec: Short | None = None
    length_mm: Millimetres | None = None
    count: Annotated[int, Range(1, 1_000, "pieces")] | None = None
    place: Annotated[str, Ref("place")] | None = None
    from_cut: bool | None = None
