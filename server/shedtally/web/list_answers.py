"""How a list is read, cached and answered: as JSON for phones, as PDF and CSV for people."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Protocol

from flask import Response, request

from shedtally.domain.boat import BoatRecords
from shedtally.printing.paper import Heading
from shedtally.usecases.read_lists import AsOf, make_list, read_boat
from shedtally.web.answers import answers, file_answer, iso, today
from shedtally.web.guard import shed
from shedtally.web.list_schemas import ListReply

PDF = answers({200: file_answer("application/pdf")}, "no-such-boat")
CSV = answers({200: file_answer("text/csv")}, "no-such-boat")
XLSX_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
XLSX = answers({200: file_answer(XLSX_TYPE)}, "no-such-boat")
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


class Readable(Protocol):
    """Whatever reads a list as it is now."""

    def read(self) -> AsOf[Any]:
        """The list, and the cursor that it is as of."""


def json_of(reply: type[ListReply], wanted: Readable) -> Response:
    """The list as JSON, made once a state of the boat."""
    found = wanted.read()

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


def pdf_of(print_list: Callable[[Any, Heading], bytes], wanted: Wanted) -> Response:
    """The list on paper."""
    found = wanted.read()
    return file_of(
        print_list(found.list, heading_of(found)), "application/pdf", f"{wanted.name}.pdf"
    )


def csv_of(write_list: Callable[[Any], str], wanted: Wanted) -> Response:
    """The list as a table."""
    text = write_list(wanted.read().list)
    return file_of(text.encode(), "text/csv", f"{wanted.name}.csv")


def xlsx_of(write_list: Callable[[Any, Heading], bytes], wanted: Wanted) -> Response:
    """The list as a workbook."""
    found = wanted.read()
    return file_of(write_list(found.list, heading_of(found)), XLSX_TYPE, f"{wanted.name}.xlsx")


def heading_of(found: AsOf[Any]) -> Heading:
    """What stands on every page of a list."""
    return Heading(found.boat_name, today(shed().now_ms()), found.cursor)


def file_of(body: bytes, kind: str, name: str) -> Response:
    """A file to show or to save."""
    response = Response(body, mimetype=kind)
    response.headers["Content-Disposition"] = f'inline; filename="{name}"'
    response.headers["Cache-Control"] = ASK_ALWAYS
    return response
