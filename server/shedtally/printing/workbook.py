"""Workbooks for spreadsheets: several tables, numbers as numbers, days as days, heads that stay.

Texts are written as texts, never as formulas, so that nothing a person typed on a phone runs when
somebody opens the file; one that begins like a formula is also marked as quoted, so that it stays
a text when its cell is edited. See OWASP, "CSV Injection".
"""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from xlsxwriter import Workbook
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from shedtally.printing.csv_text import FORMULA
from shedtally.printing.csv_text import Value as CsvValue

Value = CsvValue | dt.date

WIDEST = 60
LONGEST_TEXT = 32_767  # what a cell can hold: ECMA-376, 18.3.1.96, and every spreadsheet


@dataclass(frozen=True, slots=True)
class Page:
    """One table of a workbook. Units stand in the heads; ``money``: heads of sums of money."""

    name: str
    heads: Sequence[str]
    rows: Sequence[Sequence[Value]]
    money: Collection[str] = ()


def workbook(pages: Sequence[Page], title: str, made_on: dt.date) -> bytes:
    """The tables as an XLSX file; the same input gives the same bytes."""
    file = io.BytesIO()
    book = Workbook(file, {"in_memory": True, "strings_to_formulas": False})
    made = dt.datetime.combine(made_on, dt.time())
    book.set_properties({"title": title, "created": made})
    looks = _Looks(book)
    for page in pages:
        _write(book.add_worksheet(page.name), page, looks)
    book.close()
    return file.getvalue()


class _Looks:
    """How the cells of a workbook look."""

    def __init__(self, book: Workbook) -> None:
        self.head: Format = book.add_format({"bold": True, "text_wrap": True, "bottom": 1})
        self.text: Format = book.add_format({"text_wrap": True, "valign": "top"})
        self.quoted: Format = book.add_format(
            {"text_wrap": True, "valign": "top", "quote_prefix": True}
        )
        self.number: Format = book.add_format({"num_format": "0.###", "valign": "top"})
        self.money: Format = book.add_format({"num_format": "0.00", "valign": "top"})
        self.whole: Format = book.add_format({"num_format": "0", "valign": "top"})
        self.day: Format = book.add_format({"num_format": "yyyy-mm-dd", "valign": "top"})


def _write(sheet: Worksheet, page: Page, looks: _Looks) -> None:
    for column, head in enumerate(page.heads):
        sheet.write_string(0, column, head, looks.head)
        sheet.set_column(column, column, _width(page, column))
    for at, row in enumerate(page.rows, start=1):
        for column, value in enumerate(row):
            if isinstance(value, float) and page.heads[column] in page.money:
                sheet.write_number(at, column, value, looks.money)
            else:
                _cell(sheet, at, column, value, looks)
    sheet.freeze_panes(1, 0)
    sheet.autofilter(0, 0, max(1, len(page.rows)), len(page.heads) - 1)
    sheet.set_landscape()
    sheet.repeat_rows(0)
    sheet.fit_to_pages(1, 0)


def _cell(sheet: Worksheet, row: int, column: int, value: Value, looks: _Looks) -> None:
    if value is None:
        return
    if isinstance(value, bool):
        sheet.write_string(row, column, "yes" if value else "no", looks.text)
    elif isinstance(value, int):
        sheet.write_number(row, column, value, looks.whole)
    elif isinstance(value, float):
        # 0.### leaves the point standing behind a whole number.
        look = looks.whole if round(value, 3).is_integer() else looks.number
        sheet.write_number(row, column, value, look)
    elif isinstance(value, dt.date):
        sheet.write_datetime(row, column, dt.datetime.combine(value, dt.time()), looks.day)
    else:
        text = "".join(sign for sign in value if sign >= " " or sign in "\n\t")[:LONGEST_TEXT]
        runs = text.lstrip(" \u00a0").startswith(FORMULA)
        sheet.write_string(row, column, text, looks.quoted if runs else looks.text)


def _width(page: Page, column: int) -> int:
    longest = max((len(str(row[column] or "")) for row in page.rows[:200]), default=0)
    return min(WIDEST, max(10, len(page.heads[column]) // 2, longest) + 2)
