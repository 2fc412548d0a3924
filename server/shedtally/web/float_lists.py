"""Routes: lifts and trim, as JSON for phones, as PDF and CSV for people."""

from __future__ import annotations

from flask import Response

from shedtally.domain.floating.lists import TrimList
from shedtally.domain.floating.trim import trim_list
from shedtally.domain.lifting.lifts import lift_list
from shedtally.domain.lifting.lists import LiftList
from shedtally.printing.lifts import lifts_csv, lifts_pdf
from shedtally.printing.trim import trim_csv, trim_pdf
from shedtally.web import schemas
from shedtally.web.answers import answers, blueprint
from shedtally.web.guard import shed
from shedtally.web.list_answers import CSV, PDF, Wanted, csv_of, json_of, pdf_of
from shedtally.web.list_schemas import ListReply

api = blueprint("floats", "Lifts, and how the boat floats")


class LiftReply(ListReply):
    """Every lift, its legs and what they pull."""

    list: LiftList


class TrimReply(ListReply):
    """How the boat floats now and after the work."""

    list: TrimList


def _lifts(boat: str) -> Wanted:
    return Wanted(boat, "lifts", (), lambda records: lift_list(records, shed().rules))


def _trim(boat: str) -> Wanted:
    return Wanted(boat, "trim", (), lambda records: trim_list(records, shed().rules))


@api.get("/boats/<string:boat>/lists/lifts", responses=answers({200: LiftReply}, "no-such-boat"))
def lifts(path: schemas.BoatPath) -> Response:
    """Send every lift: what hangs on the hook, and what each leg pulls."""
    return json_of(LiftReply, _lifts(path.boat))


@api.get("/boats/<string:boat>/lists/lifts.pdf", responses=PDF)
def lifts_as_pdf(path: schemas.BoatPath) -> Response:
    """Print the lifts."""
    return pdf_of(lifts_pdf, _lifts(path.boat))


@api.get("/boats/<string:boat>/lists/lifts.csv", responses=CSV)
def lifts_as_csv(path: schemas.BoatPath) -> Response:
    """Send the legs of all lifts as a table."""
    return csv_of(lifts_csv, _lifts(path.boat))


@api.get("/boats/<string:boat>/lists/trim", responses=answers({200: TrimReply}, "no-such-boat"))
def trim(path: schemas.BoatPath) -> Response:
    """Send how the boat floats now and after the work, and what makes it so."""
    return json_of(TrimReply, _trim(path.boat))


@api.get("/boats/<string:boat>/lists/trim.pdf", responses=PDF)
def trim_as_pdf(path: schemas.BoatPath) -> Response:
    """Print the trim with its picture."""
    return pdf_of(trim_pdf, _trim(path.boat))


@api.get("/boats/<string:boat>/lists/trim.csv", responses=CSV)
def trim_as_csv(path: schemas.BoatPath) -> Response:
    """Send what came off and goes in as a table."""
    return csv_of(trim_csv, _trim(path.boat))
