"""Routes: quantities of waste over time, as JSON for phones, as PDF and CSV for people."""

from __future__ import annotations

from flask import Response

from shedtally.domain.boat import BoatRecords
from shedtally.domain.waste.box_lists import Quantities
from shedtally.domain.waste.by_stream import waste_rows
from shedtally.domain.waste.quantities import quantities
from shedtally.printing.quantities import quantities_csv, quantities_pdf
from shedtally.web import list_schemas, schemas
from shedtally.web.answers import answers, blueprint, file_answer, today
from shedtally.web.guard import shed
from shedtally.web.list_answers import Wanted, csv_of, json_of, pdf_of
from shedtally.web.list_schemas import ListReply

api = blueprint("quantities", "Quantities of waste over time")

_SLUGS = ("no-such-boat", "no-such-rule-set")


class QuantitiesReply(ListReply):
    """What came up in each month, stands here and went, and how near the limits are."""

    list: Quantities


def _wanted(boat: str, query: list_schemas.WasteQuery) -> Wanted:
    on = query.on or today(shed().now_ms())

    def make(records: BoatRecords) -> Quantities:
        rules = shed().rules
        rule_set = query.rule_set or records.boat.rule_set or next(iter(rules.rule_sets))
        holder = query.holder or records.boat.holder or ""
        case, rows, _ = waste_rows(records, rules, rule_set, holder, on)
        return quantities(case, rows)

    return Wanted(boat, "quantities", (query.rule_set, query.holder, on), make)


@api.get(
    "/boats/<string:boat>/lists/quantities",
    responses=answers({200: QuantitiesReply}, *_SLUGS),
)
def quantities_list(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Send amounts by month, on site and gone, with the limits of the rule set."""
    return json_of(QuantitiesReply, _wanted(path.boat, query))


@api.get(
    "/boats/<string:boat>/lists/quantities.pdf",
    responses=answers({200: file_answer("application/pdf")}, *_SLUGS),
)
def quantities_paper(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Print the amounts by month with the limits."""
    return pdf_of(quantities_pdf, _wanted(path.boat, query))


@api.get(
    "/boats/<string:boat>/lists/quantities.csv",
    responses=answers({200: file_answer("text/csv")}, *_SLUGS),
)
def quantities_table(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Send the amounts by month as a table."""
    return csv_of(quantities_csv, _wanted(path.boat, query))
