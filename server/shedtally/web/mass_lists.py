"""Routes: masses and scrap, as JSON for phones, as PDF and CSV for people."""

from __future__ import annotations

from flask import Response

from shedtally.domain.tally.lists import MassList, ScrapList
from shedtally.domain.tally.masses import mass_list
from shedtally.domain.tally.scrap import scrap_list
from shedtally.printing.masses import masses_csv, masses_pdf
from shedtally.printing.scrap import scrap_csv, scrap_pdf
from shedtally.web import schemas
from shedtally.web.answers import answers, blueprint
from shedtally.web.guard import shed
from shedtally.web.list_answers import CSV, PDF, Wanted, csv_of, json_of, pdf_of
from shedtally.web.list_schemas import ListReply

api = blueprint("masses", "Masses of everything, and scrap by metal")


class MassReply(ListReply):
    """Every item with its mass, sums, and what to weigh next."""

    list: MassList


class ScrapReply(ListReply):
    """What is to be scrapped, by metal."""

    list: ScrapList


def _masses(boat: str) -> Wanted:
    return Wanted(boat, "masses", (), lambda records: mass_list(records, shed().rules))


def _scrap(boat: str) -> Wanted:
    return Wanted(boat, "scrap", (), lambda records: scrap_list(records, shed().rules))


@api.get(
    "/boats/<string:boat>/lists/masses",
    responses=answers({200: MassReply}, "no-such-boat"),
)
def masses(path: schemas.BoatPath) -> Response:
    """Send every item with its mass and reason, sums, and which weighings would help most."""
    return json_of(MassReply, _masses(path.boat))


@api.get("/boats/<string:boat>/lists/masses.pdf", responses=PDF)
def masses_as_pdf(path: schemas.BoatPath) -> Response:
    """Print the masses."""
    return pdf_of(masses_pdf, _masses(path.boat))


@api.get("/boats/<string:boat>/lists/masses.csv", responses=CSV)
def masses_as_csv(path: schemas.BoatPath) -> Response:
    """Send the masses as a table."""
    return csv_of(masses_csv, _masses(path.boat))


@api.get(
    "/boats/<string:boat>/lists/scrap",
    responses=answers({200: ScrapReply}, "no-such-boat"),
)
def scrap(path: schemas.BoatPath) -> Response:
    """Send what is to be scrapped, by metal, with its value where a price is known."""
    return json_of(ScrapReply, _scrap(path.boat))


@api.get("/boats/<string:boat>/lists/scrap.pdf", responses=PDF)
def scrap_as_pdf(path: schemas.BoatPath) -> Response:
    """Print the scrap list."""
    return pdf_of(scrap_pdf, _scrap(path.boat))


@api.get("/boats/<string:boat>/lists/scrap.csv", responses=CSV)
def scrap_as_csv(path: schemas.BoatPath) -> Response:
    """Send the scrap list as a table."""
    return csv_of(scrap_csv, _scrap(path.boat))
