"""Routes: waste on paper: the disposal list, its workbook and table."""

from __future__ import annotations

from flask import Response

from shedtally.domain.lists import WasteList
from shedtally.printing.disposal.pdf import disposal_pdf
from shedtally.printing.disposal.table import disposal_xlsx
from shedtally.printing.paper import Heading
from shedtally.printing.waste import waste_csv
from shedtally.web import list_schemas, schemas
from shedtally.web.answers import answers, blueprint, file_answer
from shedtally.web.guard import shed
from shedtally.web.list_answers import XLSX_TYPE, csv_of, pdf_of, xlsx_of
from shedtally.web.lists import waste_wanted

api = blueprint("waste-papers", "Waste on paper")

_SLUGS = ("no-such-boat", "no-such-rule-set")


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
