"""Rows of effort.toml and orders.toml into the dataclasses of the rulebook."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from shedtally.domain.rulebook import Effort, Efforts, OrderRule, Survey, SurveyOrder, SurveyPlace
from shedtally.rules.read import three

Row = dict[str, Any]


def efforts(doc: Row) -> Efforts:
    """The file effort.toml."""
    tasks: defaultdict[str, list[Effort]] = defaultdict(list)
    for row in doc["task"]:
        tasks[row["id"]].append(_effort(row))
    return Efforts(
        kinds={kind: _effort(row) for row in doc["kind"] for kind in row["ids"]},
        systems={row["id"]: _effort(row) for row in doc["system"]},
        tasks={task: tuple(rows) for task, rows in tasks.items()},
        make_safe={row["id"]: _effort(row) for row in doc["make_safe"]},
        unknown=_effort(doc["unknown"]),
        pace=three(doc["pace"]["share"]),
        week=three(doc["week"]["person_hours"]),
        lift_alone_kg=doc["lift_alone"]["kg"],
        cautions=tuple(row["text"] for row in doc["caution"]),
    )


def order(row: Row) -> OrderRule:
    """A row of orders.toml."""
    lists = {"first": tuple(row["first"]), "then": tuple(row["then"])}
    return OrderRule(**{**row, **lists})


def survey(row: Row) -> Survey:
    """A row of surveys.toml."""
    places = tuple(_place(place) for place in row["compartments"])
    orders = tuple(SurveyOrder(first, then, why) for first, then, why in row["orders"])
    return Survey(**{**row, "compartments": places, "orders": orders})


def _place(row: Row) -> SurveyPlace:
    start, end = map(float, row["along"])
    likely = tuple((kind, count) for kind, count in row["likely"])
    return SurveyPlace(**{**row, "along": (start, end), "likely": likely})


def _effort(row: Row) -> Effort:
    rest = {key: value for key, value in row.items() if key not in {"id", "ids", "hours"}}
    return Effort(hours=three(row["hours"]), **rest)
