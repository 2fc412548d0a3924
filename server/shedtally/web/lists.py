"""Routes: the three lists, as JSON for phones, as PDF and CSV for people."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from flask import Response, request

from shedtally.domain.boat import BoatRecords
from shedtally.domain.errors import NoSuchRuleSet
from shedtally.domain.left import left_to_take_out
from shedtally.domain.renewals import renewals
from shedtally.domain.waste import waste_list
from shedtally.printing import lists as printed
from shedtally.printing.lists import Heading
from shedtally.usecases.read_lists import AsOf, make_list, read_boat
from shedtally.web import list_schemas, schemas
from shedtally.web.answers import answers, blueprint, file_answer, iso, today
from shedtally.web.guard import shed

api = blueprint("lists", "Left to take out, waste, renewals")

PDF = answers({200: file_answer("application/pdf")}, "no-such-boat", "no-such-rule-set")
CSV = answers({200: file_answer("text/csv")}, "no-such-boat", "no-such-rule-set")
# As of a cursor: a phone asks again with the tag of what it has, and is sent nothing new.
ASK_ALWAYS = "private, no-cache"


@dataclass(frozen=True, slots=True)
class Wanted:
    """One list of one boat: its name, what it depends on besides the records, how it is made."""

    boat: str
    name: str
    asked: tuple[object, ...]
    make: Callable[[BoatRecords], Any]

    def read(self) -> AsOf[Any]:
        """The list as it is now."""
        with shed().reading() as uow:
            boat = read_boat(uow, shed().lists, self.boat)
        asked = (shed().rules.version, *self.asked)
        return make_list(shed().lists, boat, self.name, asked, self.make)


def _left(boat: str) -> Wanted:
    return Wanted(boat, "left", (), lambda records: left_to_take_out(records, shed().rules))


def _renewals(boat: str) -> Wanted:
    return Wanted(boat, "renewals", (), lambda records: renewals(records, shed().rules))


def _waste(boat: str, query: list_schemas.WasteQuery) -> Wanted:
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
    return _json(list_schemas.LeftReply, _left(path.boat).read())


@api.get("/boats/<string:boat>/lists/left.pdf", responses=PDF)
def left_pdf(path: schemas.BoatPath) -> Response:
    """Print what is left to take out."""
    return _pdf(printed.left_pdf, _left(path.boat))


@api.get("/boats/<string:boat>/lists/left.csv", responses=CSV)
def left_csv(path: schemas.BoatPath) -> Response:
    """Send what is left to take out as a table."""
    return _csv(printed.left_csv, _left(path.boat))


@api.get(
    "/boats/<string:boat>/lists/waste",
    responses=answers({200: list_schemas.WasteReply}, "no-such-boat", "no-such-rule-set"),
)
def waste(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Send the waste by stream, under the boat's rule set or the one asked for."""
    return _json(list_schemas.WasteReply, _waste(path.boat, query).read())


@api.get("/boats/<string:boat>/lists/waste.pdf", responses=PDF)
def waste_pdf(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Print the waste list."""
    return _pdf(printed.waste_pdf, _waste(path.boat, query))


@api.get("/boats/<string:boat>/lists/waste.csv", responses=CSV)
def waste_csv(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Send the waste list as a table."""
    return _csv(printed.waste_csv, _waste(path.boat, query))


@api.get(
    "/boats/<string:boat>/lists/renewals",
    responses=answers({200: list_schemas.RenewalReply}, "no-such-boat"),
)
def renewal_list(path: schemas.BoatPath) -> Response:
    """Send what is to be renewed, equal specs merged."""
    return _json(list_schemas.RenewalReply, _renewals(path.boat).read())


@api.get("/boats/<string:boat>/lists/renewals.pdf", responses=PDF)
def renewals_pdf(path: schemas.BoatPath) -> Response:
    """Print the renewals."""
    return _pdf(printed.renewals_pdf, _renewals(path.boat))


@api.get("/boats/<string:boat>/lists/renewals.csv", responses=CSV)
def renewals_csv(path: schemas.BoatPath) -> Response:
    """Send the renewals as a table."""
    return _csv(printed.renewals_csv, _renewals(path.boat))


def _json(reply: type[list_schemas.ListReply], found: AsOf[Any]) -> Response:
    def encode() -> bytes:
        made = reply(cursor=found.cursor, made_at=iso(shed().now_ms()), list=found.list)
        return made.model_dump_json().encode()

    # Made once a state of the boat, like the list itself: thousands of items take a while.
    body = shed().lists.list((*found.key, "JSON"), encode)
    response = Response(body, mimetype="application/json")
    response.headers["Cache-Control"] = ASK_ALWAYS
    response.add_etag()
    response.make_conditional(request)
    return response


def _pdf(print_list: Callable[[Any, Heading], bytes], wanted: Wanted) -> Response:
    found = wanted.read()
    heading = Heading(found.boat_name, today(shed().now_ms()), found.cursor)
    return _file(print_list(found.list, heading), "application/pdf", f"{wanted.name}.pdf")


def _csv(write_list: Callable[[Any], str], wanted: Wanted) -> Response:
    text = write_list(wanted.read().list)
    return _file(text.encode(), "text/csv", f"{wanted.name}.csv")


def _file(body: bytes, kind: str, name: str) -> Response:
    response = Response(body, mimetype=kind)
    response.headers["Content-Disposition"] = f'inline; filename="{name}"'
    response.headers["Cache-Control"] = ASK_ALWAYS
    return response
