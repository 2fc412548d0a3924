"""Routes: the work that is left, what to do in one sitting, and how it goes back."""

from __future__ import annotations

from flask import Response

from shedtally.domain.aboard.drawn import DrawnBoat, drawn_boat
from shedtally.domain.boat import BoatRecords
from shedtally.domain.work.ahead import WorkAhead, work_ahead
from shedtally.domain.work.left import left_to_take_out
from shedtally.domain.work.pace import pace_of
from shedtally.domain.work.put_back import put_back
from shedtally.domain.work.sitting import Sitting, plan_sitting
from shedtally.domain.work.steps import steps_of
from shedtally.printing.pinned import Picture
from shedtally.printing.put_back import put_back_csv, put_back_pdf
from shedtally.printing.sitting import sitting_pdf
from shedtally.printing.work import work_csv, work_pdf
from shedtally.web import list_schemas, schemas
from shedtally.web.answers import answers, blueprint, today
from shedtally.web.guard import shed
from shedtally.web.list_answers import CSV, PDF, Wanted, csv_of, json_of, pdf_of

api = blueprint("work", "Work ahead, a plan for one sitting, putting back")


def _work(boat: str) -> Wanted:
    day = today(shed().now_ms())

    def make(records: BoatRecords) -> WorkAhead:
        return work_ahead(records, shed().rules, day)

    return Wanted(boat, "work", (day,), make)


def _sitting(boat: str, query: list_schemas.SittingQuery) -> Wanted:
    day = today(shed().now_ms())

    def make(records: BoatRecords) -> Sitting:
        rules = shed().rules
        pace = pace_of(records, rules, day).share.likely
        steps = steps_of(records, rules)
        return plan_sitting(steps, query.hours, query.people, pace, query.mix)

    return Wanted(boat, "sitting", (day, query.hours, query.people, query.mix), make)


@api.get(
    "/boats/<string:boat>/lists/work",
    responses=answers({200: list_schemas.WorkReply}, "no-such-boat"),
)
def work(path: schemas.BoatPath) -> Response:
    """Send the work that is left: hours, what is ready, what holds the rest up, when it ends."""
    return json_of(list_schemas.WorkReply, _work(path.boat))


@api.get("/boats/<string:boat>/lists/work.pdf", responses=PDF)
def work_paper(path: schemas.BoatPath) -> Response:
    """Print the work that is left."""
    day = today(shed().now_ms())

    def make(records: BoatRecords) -> tuple[WorkAhead, DrawnBoat]:
        rules = shed().rules
        drawn = drawn_boat(records, left_to_take_out(records, rules))
        return work_ahead(records, rules, day), drawn

    wanted = Wanted(path.boat, "work", (day, "drawn"), make)
    return pdf_of(lambda found, heading: work_pdf(found[0], heading, found[1]), wanted)


@api.get("/boats/<string:boat>/lists/work.csv", responses=CSV)
def work_table(path: schemas.BoatPath) -> Response:
    """Send what can be begun now as a table."""
    return csv_of(work_csv, _work(path.boat))


@api.get(
    "/boats/<string:boat>/lists/sitting",
    responses=answers({200: list_schemas.SittingReply}, "no-such-boat"),
)
def sitting(path: schemas.BoatPath, query: list_schemas.SittingQuery) -> Response:
    """Send a plan for one sitting."""
    return json_of(list_schemas.SittingReply, _sitting(path.boat, query))


@api.get("/boats/<string:boat>/lists/sitting.pdf", responses=PDF)
def sitting_paper(path: schemas.BoatPath, query: list_schemas.SittingQuery) -> Response:
    """Print a plan for one sitting."""
    plan = _sitting(path.boat, query)

    def make(records: BoatRecords) -> tuple[Sitting, dict[str, str]]:
        return plan.make(records), {
            key: " › ".join(records.path(key)) for key in records.compartments
        }

    wanted = Wanted(path.boat, "sitting", (*plan.asked, "paper"), make)
    return pdf_of(lambda found, heading: sitting_pdf(found[0], heading, found[1]), wanted)


def _back(boat: str) -> Wanted:
    return Wanted(boat, "back", (), lambda records: put_back(records, shed().rules))


@api.get(
    "/boats/<string:boat>/lists/back",
    responses=answers({200: list_schemas.PutBackReply}, "no-such-boat"),
)
def back(path: schemas.BoatPath) -> Response:
    """Send what goes back, and in which order."""
    return json_of(list_schemas.PutBackReply, _back(path.boat))


@api.get("/boats/<string:boat>/lists/back.pdf", responses=PDF)
def back_pdf(path: schemas.BoatPath) -> Response:
    """Print the sheets for putting back, with the photographs that show where things sat."""
    with shed().reading() as uow:
        pinned = uow.records(path.boat).pinned()
    pictures = [
        Picture(file.read_bytes(), photo.pins)
        for photo in pinned
        # What has not arrived yet can't be printed; the words are there all the same.
        if (file := shed().photos.original(photo.sha256)).is_file()
    ]
    return pdf_of(lambda back, heading: put_back_pdf(back, heading, pictures), _back(path.boat))


@api.get("/boats/<string:boat>/lists/back.csv", responses=CSV)
def back_csv(path: schemas.BoatPath) -> Response:
    """Send what goes back as a table."""
    return csv_of(put_back_csv, _back(path.boat))
