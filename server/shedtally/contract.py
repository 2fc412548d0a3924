"""Write what the client shares with the server: ``python -m shedtally.contract``.

One declaration for both languages: a field that is added in ``domain/records/`` appears in
``pwa/src/domain/contract.ts``, its limits in ``fields.ts`` beside it, a kind of problem in
``problems.ts``; a test fails while they do not.
"""

from __future__ import annotations

import dataclasses
import json
import types
import typing
from collections.abc import Mapping
from pathlib import Path

from shedtally.domain import lists, records
from shedtally.domain.buying import lists as order_list
from shedtally.domain.floating import lists as float_lists
from shedtally.domain.lifting import lists as lift_lists
from shedtally.domain.records.shape import Field, Moment, Range, Ref, Target, Text, fields_of
from shedtally.domain.schedules import lists as schedule_lists
from shedtally.domain.tally import lists as mass_lists
from shedtally.domain.tanks import lists as tank_lists
from shedtally.domain.waste import box_lists, container_lists
from shedtally.domain.wiring import lists as wire_lists
from shedtally.domain.work import ahead as work_ahead
from shedtally.domain.work import forecast, progress, proposals, put_back, sitting
from shedtally.web.problem_kinds import KINDS, PhoneDoes

CLIENT_DOMAIN = Path(__file__).parents[2] / "pwa" / "src" / "domain"

_GENERATED = """\
// Generated from the server's declarations by `python -m shedtally.contract`.
// Edit domain/records/, a lists.py or problem_kinds.py and run it again; a test compares.
"""

_VALUES = """\
export type JsonValue = string | number | boolean | null;
export type Values = Readonly<Record<string, JsonValue>>;
"""

_FIELDS = """\
import type { TableName } from "./contract.ts";

/** What a field may hold. Numbers lie from `low` to `high` in `unit`, both ends allowed. */
export type FieldShape =
\t| {
\t\t\treadonly is: "number" | "whole";
\t\t\treadonly low?: number;
\t\t\treadonly high?: number;
\t\t\treadonly unit?: string;
\t  }
\t| { readonly is: "text"; readonly longest: number; readonly pattern?: string }
\t| { readonly is: "choice"; readonly of: readonly string[] }
\t| { readonly is: "yes or no" }
\t| { readonly is: "moment" }
\t| { readonly is: "ref"; readonly table: string }
\t| { readonly is: "target"; readonly tables: readonly string[] };
"""

_LISTS = (
    lists.Spread,
    lists.LeftItem,
    lists.LeftGroup,
    lists.LeftList,
    lists.Question,
    lists.WasteItem,
    lists.WasteContainer,
    lists.WasteStream,
    lists.Ban,
    lists.WasteList,
    lists.RunLength,
    lists.RenewalLine,
    lists.RenewalList,
    schedule_lists.ScheduleRow,
    schedule_lists.DrawnNode,
    schedule_lists.DrawnRun,
    schedule_lists.DrawnColumn,
    schedule_lists.DrawnBlock,
    schedule_lists.ScheduleSystem,
    schedule_lists.Schedule,
    forecast.WeekAhead,
    forecast.Forecast,
    progress.WeekDone,
    proposals.Proposal,
    work_ahead.WorkStep,
    work_ahead.HoldUp,
    work_ahead.HoursLeft,
    work_ahead.CrewTime,
    work_ahead.PaceSaid,
    work_ahead.WorkAhead,
    sitting.Turn,
    sitting.Sitting,
    put_back.BackJoin,
    put_back.BackItem,
    put_back.BackGroup,
    put_back.PutBackList,
    mass_lists.MassLine,
    mass_lists.MassGroup,
    mass_lists.WeighNext,
    mass_lists.Uncounted,
    mass_lists.MassList,
    mass_lists.ScrapItem,
    mass_lists.Value,
    mass_lists.ScrapMetal,
    mass_lists.ScrapList,
    tank_lists.Can,
    tank_lists.Sounded,
    tank_lists.Balance,
    tank_lists.DipLine,
    tank_lists.DipTable,
    tank_lists.TankLine,
    tank_lists.TankList,
    lift_lists.Reach,
    lift_lists.OnHook,
    lift_lists.LiftLeg,
    lift_lists.LiftLine,
    lift_lists.LiftList,
    float_lists.FloatFact,
    float_lists.Moved,
    float_lists.Floats,
    float_lists.BoatShape,
    float_lists.TrimList,
    order_list.OrderOffer,
    order_list.SheetPiece,
    order_list.SheetStock,
    order_list.CutSheet,
    order_list.OrderLine,
    order_list.OrderTotal,
    order_list.OrderList,
    wire_lists.WireFit,
    wire_lists.WireSizing,
    wire_lists.CircuitEnd,
    wire_lists.CircuitLine,
    wire_lists.WirePart,
    wire_lists.CircuitList,
    box_lists.MonthLine,
    box_lists.Limit,
    box_lists.Standing,
    box_lists.StreamAmount,
    box_lists.Quantities,
    container_lists.Fault,
    container_lists.BoxLine,
    container_lists.BoxView,
    container_lists.BoxList,
    container_lists.Papers,
    container_lists.FrozenList,
    container_lists.CorrectionLine,
    container_lists.HandoverView,
    container_lists.HandoverList,
)


def client_files() -> dict[str, str]:
    """Text by file name; the same for the same classes, each ending in a newline."""
    types_of_records = [_record(record) for record in records.TABLES.values()]
    types_of_lists = [_list(part) for part in _LISTS]
    contract = [_GENERATED, _VALUES, *types_of_records, _tables(), *types_of_lists]
    fields = [_GENERATED, _FIELDS, _shapes()]
    problems = [_GENERATED, _problems()]
    files = {"contract.ts": contract, "fields.ts": fields, "problems.ts": problems}
    return {name: "\n".join(parts) for name, parts in files.items()}


def _problems() -> str:
    does = "".join(f"\n\t| {json.dumps(choice)}" for choice in typing.get_args(PhoneDoes))
    lines = [
        "/** What the phone does about a problem. */",
        f"export type PhoneDoes ={does};",
        "",
        "/** Every kind of problem of the server: its status, and what the phone does. */",
        "export const PROBLEMS = {",
    ]
    for kind in KINDS.values():
        inner = f"status: {kind.status}, does: {json.dumps(kind.phone_does)}"
        name = json.dumps(kind.slug) if "-" in kind.slug else kind.slug
        lines.append(f"\t{name}: {{ {inner} }},")
    closing = "} as const satisfies Record<string, { status: number; does: PhoneDoes }>;\n"
    return "\n".join([*lines, closing])


def _record(record: type[records.Record]) -> str:
    lines = [f"export interface {record.__name__} {{", "\treadonly key: string;"]
    lines += [
        f"\treadonly {name}: {_field_type(field)} | null;"
        for name, field in _fields(record).items()
    ]
    return _doc(record) + "\n".join([*lines, "}\n"])


def _fields(record: type[records.Record]) -> Mapping[str, Field]:
    return fields_of(record)  # type: ignore[arg-type]  # a class is hashable


def _field_type(field: Field) -> str:
    if field.choices:
        return " | ".join(json.dumps(choice) for choice in field.choices)
    return {bool: "boolean", int: "number", float: "number"}.get(field.type, "string")


def _tables() -> str:
    rows = [f"\t{name}: {record.__name__};" for name, record in records.TABLES.items()]
    lines = ["export interface Tables {", *rows, "}"]
    lines += ["export type TableName = keyof Tables;"]
    lines += ["export type RecordOf<T extends TableName> = Tables[T];\n"]
    return "\n".join(lines)


def _shapes() -> str:
    lines = [
        "export const SHAPES: Readonly<Record<TableName, Readonly<Record<string, FieldShape>>>> = {"
    ]
    for table, record in records.TABLES.items():
        lines.append(f"\t{table}: {{")
        lines += [f"\t\t{name}: {_shape(field)}," for name, field in _fields(record).items()]
        lines.append("\t},")
    return "\n".join([*lines, "};\n"])


def _shape(field: Field) -> str:
    parts = _parts(field)
    inner = ", ".join(f"{name}: {json.dumps(value, ensure_ascii=False)}" for name, value in parts)
    return f"{{ {inner} }}"


def _parts(field: Field) -> list[tuple[str, object]]:
    if field.choices:
        return [("is", "choice"), ("of", list(field.choices))]
    if field.type is bool:
        return [("is", "yes or no")]
    match field.constraint:
        case Range(low=low, high=high, unit=unit):
            sort = "whole" if field.type is int else "number"
            return [("is", sort), ("low", low), ("high", high), ("unit", unit)]
        case Text(longest=longest, pattern=pattern):
            return [
                ("is", "text"),
                ("longest", longest),
                *([("pattern", pattern)] if pattern else []),
            ]
        case Moment():
            return [("is", "moment")]
        case Ref(table=table):
            return [("is", "ref"), ("table", table)]
        case Target(tables=tables):
            return [("is", "target"), ("tables", list(tables))]
    message = f"{field.name} has no limits; give it some in domain/records/"
    raise TypeError(message)


def _list(part: type) -> str:
    hints = typing.get_type_hints(part)
    lines = [f"export interface {part.__name__} {{"]
    lines += [
        f"\treadonly {field.name}: {_list_type(hints[field.name])};"
        for field in dataclasses.fields(part)
    ]
    return _doc(part) + "\n".join([*lines, "}\n"])


def _list_type(hint: object) -> str:
    origin, inner = typing.get_origin(hint), typing.get_args(hint)
    if origin is tuple and inner[-1] is not Ellipsis:
        return f"readonly [{', '.join(_list_type(part) for part in inner)}]"
    if origin is tuple:
        row = _list_type(inner[0])
        return f"readonly ({row})[]" if row.startswith("readonly") else f"readonly {row}[]"
    if origin is typing.Literal:
        return " | ".join(json.dumps(choice) for choice in inner)
    if origin in (types.UnionType, typing.Union):
        return " | ".join(_list_type(part) for part in inner)
    plain = {str: "string", bool: "boolean", int: "number", float: "number", type(None): "null"}
    if isinstance(hint, type):
        return plain.get(hint, hint.__name__)
    message = f"no type of the client stands for {hint!r}"
    raise TypeError(message)


def _doc(part: type) -> str:
    return f"/** {' '.join((part.__doc__ or '').replace('``', '`').split())} */\n"


if __name__ == "__main__":
    for name, text in client_files().items():
        (CLIENT_DOMAIN / name).write_text(text, encoding="utf-8")
