"""Routes: waste on paper: the disposal list with its workbook and table, labels, handovers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from flask import Response, request

from shedtally.domain.boat import BoatRecords
from shedtally.domain.errors import NoSuchSheet
from shedtally.domain.lists import WasteList
from shedtally.domain.waste.box import day_of
from shedtally.domain.waste.container_lists import FrozenList
from shedtally.domain.waste.freeze import went_with
from shedtally.printing.disposal.faces import label_faces
from shedtally.printing.disposal.pdf import disposal_pdf
from shedtally.printing.disposal.table import disposal_xlsx
from shedtally.printing.handover import HandoverFace, handover_pdf
from shedtally.printing.labels import LABELS, container_labels
from shedtally.printing.paper import Heading
from shedtally.printing.phrases import phrases
from shedtally.printing.symbol import AddressNotPrintable
from shedtally.printing.waste import waste_csv
from shedtally.usecases.read_handovers import frozen_lists
from shedtally.usecases.read_lists import read_boat
from shedtally.web import list_schemas, schemas
from shedtally.web.answers import answers, blueprint, file_answer
from shedtally.web.guard import shed
from shedtally.web.list_answers import XLSX_TYPE, csv_of, file_of, heading_of, pdf_of, xlsx_of
from shedtally.web.lists import waste_wanted
from shedtally.web.problems import Problem

api = blueprint("waste-papers", "Waste on paper")

_SLUGS = ("no-such-boat", "no-such-rule-set")
NO_HANDOVER = "There is no handover with that key. Choose one on the phone, then print again."
NO_CONTAINER = (
    "There is no container to label. Give a container its stream, or put something into it, "
    "then print again."
)


@api.get(
    "/boats/<string:boat>/lists/waste.pdf",
    responses=answers({200: file_answer("application/pdf")}, *_SLUGS),
)
def waste_pdf(path: schemas.BoatPath, query: list_schemas.PaperQuery) -> Response:
    """Print the disposal list."""

    def made(waste: WasteList, heading: Heading) -> bytes:
        return disposal_pdf(waste, shed().rules, heading, query.paper, query.language)

    return pdf_of(made, waste_wanted(path.boat, query))


@api.get(
    "/boats/<string:boat>/lists/waste.csv",
    responses=answers({200: file_answer("text/csv")}, *_SLUGS),
)
def waste_csv_file(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Send the items of the disposal list as a table."""
    return csv_of(waste_csv, waste_wanted(path.boat, query))


@api.get(
    "/boats/<string:boat>/lists/waste.xlsx",
    responses=answers({200: file_answer(XLSX_TYPE)}, *_SLUGS),
)
def waste_xlsx(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Send the disposal list as a workbook."""

    def made(waste: WasteList, heading: Heading) -> bytes:
        return disposal_xlsx(waste, shed().rules, heading)

    return xlsx_of(made, waste_wanted(path.boat, query))


@api.get("/label-sizes", responses=answers({200: list_schemas.LabelSizes}))
def label_sizes() -> list[dict[str, Any]]:
    """List the sizes that labels of containers can be printed in."""
    return [{"id": size.id, "name": size.name, "about": size.about} for size in LABELS.values()]


@api.get(
    "/boats/<string:boat>/lists/waste-labels.pdf",
    responses=answers(
        {200: file_answer("application/pdf")}, *_SLUGS, "no-such-sheet", "not-printable"
    ),
)
def labels_pdf(path: schemas.BoatPath, query: list_schemas.LabelQuery) -> Response:
    """Print labels for the containers named, or for all that still stand here."""
    if query.size not in LABELS:
        raise NoSuchSheet(query.size)
    found = waste_wanted(path.boat, query).read()
    say = phrases(query.language)
    keys = [key for key in query.containers.split(",") if key]
    faces = label_faces(found.list, shed().rules, found.boat_name, keys, say)
    if not faces:
        raise Problem("not-printable", NO_CONTAINER)
    address = shed().address or request.host_url.rstrip("/")
    try:
        pdf = container_labels(faces, LABELS[query.size], address, say)
    except AddressNotPrintable as unfit:
        raise Problem("not-printable", str(unfit)) from unfit
    return file_of(pdf, "application/pdf", "labels.pdf")


@api.get(
    "/boats/<string:boat>/handovers/<string:handover>/sheet.pdf",
    responses=answers({200: file_answer("application/pdf")}, *_SLUGS, "not-printable"),
)
def handover_sheet(path: schemas.HandoverPath, query: list_schemas.PaperQuery) -> Response:
    """Print the sheet of a handover: what left, from whom to whom, with lines to sign on."""
    with shed().reading() as uow:
        records = read_boat(uow, shed().lists, path.boat).records
        frozen = frozen_lists(uow.frozen(path.boat).all()).get(path.handover)
    if path.handover not in records.handovers:
        raise Problem("not-printable", NO_HANDOVER)
    found = waste_wanted(path.boat, query).read()
    face = _frozen_face(records, frozen, path.handover) if frozen else None
    face = face or _open_face(records, found.list, path.handover)
    paper = query.paper or shed().rules.label_words(face.waste.rule_set).paper
    pdf = handover_pdf(face, heading_of(found), paper, phrases(query.language))
    return file_of(pdf, "application/pdf", "handover.pdf")


def _open_face(records: BoatRecords, waste: WasteList, handover: str) -> HandoverFace:
    """The handover as the records have it today."""
    record = records.handovers[handover]
    return HandoverFace(
        waste=went_with(records, waste, handover),
        on=day_of(record.on),
        to=record.to or "",
        carrier=record.carrier or "",
        document=record.document or "",
        note=record.note or "",
    )


def _frozen_face(records: BoatRecords, frozen: FrozenList, handover: str) -> HandoverFace:
    """The handover as it was frozen, with what was corrected since."""
    papers = frozen.papers
    return HandoverFace(
        waste=frozen.waste,
        on=day_of(papers.on),
        to=papers.to,
        carrier=papers.carrier,
        document=papers.document,
        note=papers.note,
        digest=frozen.digest,
        corrections=tuple(_corrections(records, handover)),
    )


def _corrections(records: BoatRecords, handover: str) -> Iterator[tuple[str, str]]:
    """Day and text of each correction, the first first."""
    rows = [row for row in records.corrections.values() if row.handover == handover]
    for row in sorted(rows, key=lambda row: (row.on or "", row.key)):
        mass = "" if row.mass_kg is None else f"{row.mass_kg:g} kg"
        said = ". ".join(part.rstrip(".") for part in (row.text or "", mass, row.who or "") if part)
        yield (row.on or "")[:10], f"{said}."
