"""Routes: the schedules of pipes and of wires as they were, as JSON, on paper and as a table."""

from __future__ import annotations

from flask import Response

from shedtally.domain.boat import BoatRecords
from shedtally.domain.schedules import wire_columns
from shedtally.domain.schedules.lists import Schedule
from shedtally.domain.schedules.schedule import schedule
from shedtally.printing.schedule import schedule_csv, schedule_pdf
from shedtally.web import schemas
from shedtally.web.answers import answers, blueprint
from shedtally.web.guard import shed
from shedtally.web.list_answers import CSV, PDF, Wanted, csv_of, json_of, pdf_of
from shedtally.web.list_schemas import ListReply

api = blueprint("schedules", "Pipes and wires as they were")


class ScheduleReply(ListReply):
    """The runs of a boat as she was, by system, with a drawing of each."""

    list: Schedule


_JSON = answers({200: ScheduleReply}, "no-such-boat")


def _piping(boat: str) -> Wanted:
    return Wanted(boat, "piping", (), lambda records: schedule(records, shed().rules, "piping"))


def _wiring(boat: str) -> Wanted:
    def make(records: BoatRecords) -> Schedule:
        rules = shed().rules
        more = wire_columns.columns(records, rules)
        return schedule(records, rules, "wiring", wire_columns.HEADS, more)

    return Wanted(boat, "wiring", (), make)


@api.get("/boats/<string:boat>/lists/piping", responses=_JSON)
def piping(path: schemas.BoatPath) -> Response:
    """Send hoses and pipes as they were, with a drawing of each system."""
    return json_of(ScheduleReply, _piping(path.boat))


@api.get("/boats/<string:boat>/lists/piping.pdf", responses=PDF)
def piping_as_pdf(path: schemas.BoatPath) -> Response:
    """Print hoses and pipes as they were."""
    return pdf_of(schedule_pdf, _piping(path.boat))


@api.get("/boats/<string:boat>/lists/piping.csv", responses=CSV)
def piping_as_csv(path: schemas.BoatPath) -> Response:
    """Send hoses and pipes as they were as a table."""
    return csv_of(schedule_csv, _piping(path.boat))


@api.get("/boats/<string:boat>/lists/wiring", responses=_JSON)
def wiring(path: schemas.BoatPath) -> Response:
    """Send cables as they were, with a drawing of each system."""
    return json_of(ScheduleReply, _wiring(path.boat))


@api.get("/boats/<string:boat>/lists/wiring.pdf", responses=PDF)
def wiring_as_pdf(path: schemas.BoatPath) -> Response:
    """Print cables as they were."""
    return pdf_of(schedule_pdf, _wiring(path.boat))


@api.get("/boats/<string:boat>/lists/wiring.csv", responses=CSV)
def wiring_as_csv(path: schemas.BoatPath) -> Response:
    """Send cables as they were as a table."""
    return csv_of(schedule_csv, _wiring(path.boat))
