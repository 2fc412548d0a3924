"""Routes: tanks and what is in them, as JSON for phones, as PDF and CSV for people."""

from __future__ import annotations

from flask import Response

from shedtally.domain.tanks.held import tank_list
from shedtally.domain.tanks.lists import TankList
from shedtally.printing.tanks import dip_tables_pdf, tanks_csv, tanks_pdf
from shedtally.web import schemas
from shedtally.web.answers import answers, blueprint
from shedtally.web.guard import shed
from shedtally.web.list_answers import CSV, PDF, Wanted, csv_of, json_of, pdf_of
from shedtally.web.list_schemas import ListReply

api = blueprint("tanks", "Tanks, soundings, and what is still in them")


class TankReply(ListReply):
    """Every tank with its last sounding, its cans and its balance."""

    list: TankList


def _tanks(boat: str) -> Wanted:
    return Wanted(boat, "tanks", (), lambda records: tank_list(records, shed().rules))


@api.get("/boats/<string:boat>/lists/tanks", responses=answers({200: TankReply}, "no-such-boat"))
def tanks(path: schemas.BoatPath) -> Response:
    """Send every tank with litres and kilograms, and what was drawn off."""
    return json_of(TankReply, _tanks(path.boat))


@api.get("/boats/<string:boat>/lists/tanks.pdf", responses=PDF)
def tanks_as_pdf(path: schemas.BoatPath) -> Response:
    """Print the tanks."""
    return pdf_of(tanks_pdf, _tanks(path.boat))


@api.get("/boats/<string:boat>/lists/tanks.csv", responses=CSV)
def tanks_as_csv(path: schemas.BoatPath) -> Response:
    """Send the tanks as a table."""
    return csv_of(tanks_csv, _tanks(path.boat))


@api.get("/boats/<string:boat>/lists/dip-tables.pdf", responses=PDF)
def dip_tables_as_pdf(path: schemas.BoatPath) -> Response:
    """Print a dip table of each tank, to hang beside it."""
    return pdf_of(dip_tables_pdf, _tanks(path.boat))
