"""Routes: the three lists, as JSON for phones, as PDF and CSV for people.

Waste on paper is in `waste_papers.py`.
"""

from __future__ import annotations

from typing import Any

from flask import Response

from shedtally.domain.aboard.drawn import DrawnBoat, drawn_boat
from shedtally.domain.boat import BoatRecords
from shedtally.domain.errors import NoSuchRuleSet
from shedtally.domain.lists import LeftList
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.waste.by_stream import waste_list
from shedtally.domain.work.left import left_to_take_out
from shedtally.printing import lists as printed
from shedtally.web import list_schemas, schemas
from shedtally.web.answers import answers, blueprint, today
from shedtally.web.guard import shed
from shedtally.web.list_answers import CSV, PDF, XLSX, Wanted, csv_of, json_of, pdf_of, xlsx_of

api = blueprint("lists", "Left to take out, waste, renewals")


def _left(boat: str) -> Wanted:
    return Wanted(boat, "left", (), lambda records: left_to_take_out(records, shed().rules))


def _renewals(boat: str) -> Wanted:
    return Wanted(boat, "renewals", (), lambda records: renewals(records, shed().rules))


def waste_wanted(boat: str, query: list_schemas.WasteQuery) -> Wanted:
    """The waste list that a query asks for."""
    on = query.on or today(shed().now_ms())

    def make(records: BoatRecords) -> Any:  # noqa: ANN401  # one of three list types
        rules = shed().rules
        rule_set = query.rule_set or records.boat.rule_set or next(iter(rules.rule_sets))
        if rule_set not in rules.rule_sets:
            raise NoSuchRuleSet(rule_set)
        holder = query.holder or records.boat.holder or ""
        return waste_list(records, rules, rule_set, holder, on)

    return Wanted(boat, "waste", (query.rule_set, query.holder, on), make)


@api.get(
    "/boats/<string:boat>/lists/left",
    responses=answers({200: list_schemas.LeftReply}, "no-such-boat"),
)
def left(path: schemas.BoatPath) -> Response:
    """Send what is left to take out, by compartment and by system."""
    return json_of(list_schemas.LeftReply, _left(path.boat))


@api.get("/boats/<string:boat>/lists/left.pdf", responses=PDF)
def left_pdf(path: schemas.BoatPath) -> Response:
    """Print what is left to take out."""

    def make(records: BoatRecords) -> tuple[LeftList, DrawnBoat]:
        left = left_to_take_out(records, shed().rules)
        return left, drawn_boat(records, left)

    wanted = Wanted(path.boat, "left", ("drawn",), make)
    return pdf_of(lambda found, heading: printed.left_pdf(found[0], heading, found[1]), wanted)


@api.get("/boats/<string:boat>/lists/left.csv", responses=CSV)
def left_csv(path: schemas.BoatPath) -> Response:
    """Send what is left to take out as a table."""
    return csv_of(printed.left_csv, _left(path.boat))


@api.get(
    "/boats/<string:boat>/lists/waste",
    responses=answers({200: list_schemas.WasteReply}, "no-such-boat", "no-such-rule-set"),
)
def waste(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Send the waste by stream, under the boat's rule set or the one asked for."""
    return json_of(list_schemas.WasteReply, waste_wanted(path.boat, query))


@api.get(
    "/boats/<string:boat>/lists/renewals",
    responses=answers({200: list_schemas.RenewalReply}, "no-such-boat"),
)
def renewal_list(path: schemas.BoatPath) -> Response:
    """Send what is to be renewed, equal specs merged."""
    return json_of(list_schemas.RenewalReply, _renewals(path.boat))


@api.get("/boats/<string:boat>/lists/renewals.pdf", responses=PDF)
def renewals_pdf(path: schemas.BoatPath) -> Response:
    """Print the renewals."""
    return pdf_of(printed.renewals_pdf, _renewals(path.boat))


@api.get("/boats/<string:boat>/lists/renewals.csv", responses=CSV)
def renewals_csv(path: schemas.BoatPath) -> Response:
    """Send the renewals as a table."""
    return csv_of(printed.renewals_csv, _renewals(path.boat))


@api.get("/boats/<string:boat>/lists/left.xlsx", responses=XLSX)
def left_xlsx(path: schemas.BoatPath) -> Response:
    """Send what is left to take out as a workbook."""
    return xlsx_of(printed.left_xlsx, _left(path.boat))


@api.get("/boats/<string:boat>/lists/renewals.xlsx", responses=XLSX)
def renewals_xlsx(path: schemas.BoatPath) -> Response:
    """Send the renewals as a workbook."""
    return xlsx_of(printed.renewals_xlsx, _renewals(path.boat))
