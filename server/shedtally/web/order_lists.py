"""Routes: the order list and the cutting sheet, as JSON for phones, as paper and tables."""

from __future__ import annotations

from flask import Response

from shedtally.domain.buying.order import order_list
from shedtally.printing.cutting import cutting_pdf
from shedtally.printing.order import order_csv, order_pdf, order_pdf_by_supplier, order_xlsx
from shedtally.web import list_schemas, schemas
from shedtally.web.answers import answers, blueprint
from shedtally.web.guard import shed
from shedtally.web.list_answers import CSV, PDF, XLSX, Wanted, csv_of, json_of, pdf_of, xlsx_of

api = blueprint("orders", "The order of what is renewed, and how it is cut")


def _order(boat: str) -> Wanted:
    return Wanted(boat, "order", (), lambda records: order_list(records, shed().rules))


@api.get(
    "/boats/<string:boat>/lists/order",
    responses=answers({200: list_schemas.OrderReply}, "no-such-boat"),
)
def order(path: schemas.BoatPath) -> Response:
    """Send the order: lines with their state, offers, cuts and sums by currency."""
    return json_of(list_schemas.OrderReply, _order(path.boat))


@api.get("/boats/<string:boat>/lists/order.pdf", responses=PDF)
def order_paper(path: schemas.BoatPath) -> Response:
    """Print the order by system."""
    return pdf_of(order_pdf, _order(path.boat))


@api.get("/boats/<string:boat>/lists/order-by-supplier.pdf", responses=PDF)
def order_paper_by_supplier(path: schemas.BoatPath) -> Response:
    """Print the order by supplier."""
    return pdf_of(order_pdf_by_supplier, _order(path.boat))


@api.get("/boats/<string:boat>/lists/cutting.pdf", responses=PDF)
def cutting_paper(path: schemas.BoatPath) -> Response:
    """Print how the reels are cut."""
    return pdf_of(cutting_pdf, _order(path.boat))


@api.get("/boats/<string:boat>/lists/order.csv", responses=CSV)
def order_table(path: schemas.BoatPath) -> Response:
    """Send the order as a table."""
    return csv_of(order_csv, _order(path.boat))


@api.get("/boats/<string:boat>/lists/order.xlsx", responses=XLSX)
def order_workbook(path: schemas.BoatPath) -> Response:
    """Send the order and the cuts as a workbook."""
    return xlsx_of(order_xlsx, _order(path.boat))
