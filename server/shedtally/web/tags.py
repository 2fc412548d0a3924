"""Routes: tag codes, and the sheets they are printed on."""

from __future__ import annotations

from typing import Any

from flask import Response, request

from shedtally.domain.errors import NoSuchBoat, NoSuchSheet
from shedtally.domain.records import tag
from shedtally.printing.tags import SHEETS, AddressNotPrintable, TagFace, tag_sheet
from shedtally.usecases.read_lists import read_boat
from shedtally.usecases.reserve_tags import MAX_BLOCK, codes_of_block, reserve_tags
from shedtally.web import guard, schemas
from shedtally.web.answers import answers, blueprint, file_answer
from shedtally.web.guard import shed
from shedtally.web.problems import Problem
from shedtally.web.tag_faces import blank_faces, filled_faces

api = blueprint("tags", "Tags")


@api.post(
    "/boats/<string:boat>/tag-blocks",
    responses=answers({201: schemas.TagBlock}, "no-such-boat", "tags-used-up", "wrong-type"),
)
def reserve(path: schemas.BoatPath, body: schemas.TagBlockRequest) -> tuple[dict[str, Any], int]:
    """Give out codes that nobody else will get, for tags to be used while offline."""
    device, now_ms = guard.device().key, shed().now_ms()
    with shed().writing() as uow:
        block, codes = reserve_tags(uow, path.boat, body.count, device, now_ms)
    return {"block": block, "codes": codes}, 201


@api.get("/sheets", responses=answers({200: schemas.SheetList}))
def sheets() -> list[dict[str, Any]]:
    """List the sheets and rolls that tags can be printed on."""
    return [
        {
            "id": sheet.id,
            "name": sheet.name,
            "about": sheet.about,
            "roll": sheet.roll,
            "per_page": sheet.per_page,
        }
        for sheet in SHEETS.values()
    ]


@api.get(
    "/boats/<string:boat>/tags.pdf",
    responses=answers(
        {200: file_answer("application/pdf")},
        "no-such-boat",
        "no-such-sheet",
        "no-such-tag-block",
        "not-printable",
    ),
)
def tags_pdf(path: schemas.BoatPath, query: schemas.TagSheetQuery) -> Response:
    """Print tags: those of ``codes``, or of a block; blank, or filled from the records."""
    if query.sheet not in SHEETS:
        raise NoSuchSheet(query.sheet)
    address = shed().address or request.host_url.rstrip("/")
    try:
        pdf = tag_sheet(_faces(path.boat, query), SHEETS[query.sheet], address)
    except AddressNotPrintable as unfit:
        raise Problem("not-printable", str(unfit)) from unfit
    response = Response(pdf, mimetype="application/pdf")
    response.headers["Content-Disposition"] = 'inline; filename="tags.pdf"'
    return response


def _faces(boat: str, query: schemas.TagSheetQuery) -> list[TagFace]:
    with shed().reading() as uow:
        if not uow.log(boat).exists():
            raise NoSuchBoat(boat)
        codes = codes_of_block(uow, boat, query.block) if query.block else _codes(query.codes)
        if query.look == "blank":
            return blank_faces(codes)
        records = read_boat(uow, shed().lists, boat).records
    return filled_faces(codes, records, shed().rules)


def _codes(text: str) -> list[str]:
    """The codes in the query, each as it is printed. Raises: Problem, naming the wrong one."""
    parts = [part for part in text.split(",") if part.strip()]
    if not parts:
        raise _invalid("Name the codes to print, or the block that they are from.")
    if len(parts) > MAX_BLOCK:
        raise _invalid(f"Print at most {MAX_BLOCK} tags at once.")
    codes = []
    for part in parts:
        try:
            codes.append(tag.parse(part))
        except tag.BadCode as bad:
            raise _invalid(f"{part.strip()}: {bad.detail}") from bad
    return codes


def _invalid(detail: str) -> Problem:
    return Problem("invalid", detail, {"errors": [{"pointer": "/codes", "detail": detail}]})
