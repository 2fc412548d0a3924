"""The three lists in print, in one place for those who serve them."""

from shedtally.printing.left import left_csv, left_pdf, left_xlsx
from shedtally.printing.paper import Heading
from shedtally.printing.renewals import renewals_csv, renewals_pdf, renewals_xlsx
from shedtally.printing.waste import waste_csv

__all__ = [
    "Heading", "left_csv", "left_pdf", "left_xlsx", "renewals_csv", "renewals_pdf",
    "renewals_xlsx", "waste_csv",
]  # fmt: skip
