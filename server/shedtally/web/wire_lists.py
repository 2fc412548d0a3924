"""Routes: the circuits and what they take, as JSON for phones, as PDF and CSV for people."""

from __future__ import annotations

from flask import Response

from shedtally.domain.renewals.circuits import circuits
from shedtally.domain.wiring.lists import CircuitList
from shedtally.printing.circuits import circuits_csv, circuits_pdf
from shedtally.web import schemas
from shedtally.web.answers import answers, blueprint
from shedtally.web.guard import shed
from shedtally.web.list_answers import CSV, PDF, Wanted, csv_of, json_of, pdf_of
from shedtally.web.list_schemas import ListReply

api = blueprint("wires", "Circuits, and the wire that each takes")


class CircuitReply(ListReply):
    """Every run of cable, sized as far as it is written down."""

    list: CircuitList


def _circuits(boat: str) -> Wanted:
    return Wanted(boat, "circuits", (), lambda records: circuits(records, shed().rules))


@api.get(
    "/boats/<string:boat>/lists/circuits", responses=answers({200: CircuitReply}, "no-such-boat")
)
def circuit_list(path: schemas.BoatPath) -> Response:
    """Send every run of cable: as it was, what it takes, and the parts at its ends."""
    return json_of(CircuitReply, _circuits(path.boat))


@api.get("/boats/<string:boat>/lists/circuits.pdf", responses=PDF)
def circuits_as_pdf(path: schemas.BoatPath) -> Response:
    """Print the circuits."""
    return pdf_of(circuits_pdf, _circuits(path.boat))


@api.get("/boats/<string:boat>/lists/circuits.csv", responses=CSV)
def circuits_as_csv(path: schemas.BoatPath) -> Response:
    """Send the circuits as a table."""
    return csv_of(circuits_csv, _circuits(path.boat))
