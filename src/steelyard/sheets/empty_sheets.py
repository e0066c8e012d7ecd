"""An empty table to fill in: its columns; a spreadsheet has a filled row on its second page."""

import csv
import io

from steelyard.desk.columns_in import EXAMPLE, USUAL

WIDTH = 18
"""Of a column. [characters]"""
SHEET_NAMES = ("Fill in", "Example")


def empty_csv(what: str) -> bytes:
    """The names of the columns and nothing else. what: of `WHATS`."""
    text = io.StringIO()
    csv.writer(text).writerow(USUAL[what])
    return text.getvalue().encode("utf-8-sig")


def empty_xlsx(what: str) -> bytes:
    """The same as a spreadsheet; its cells are texts, so that it changes no date and no number."""
    from xlsxwriter import Workbook

    content = io.BytesIO()
    with Workbook(content, {"in_memory": True}) as book:
        as_text, as_head = book.add_format({"num_format": "@"}), book.add_format({"bold": True})
        for name in SHEET_NAMES:
            sheet = book.add_worksheet(name)
            sheet.set_column(0, len(USUAL[what]) - 1, WIDTH, as_text)
            sheet.freeze_panes(1, 0)
            for column, heading in enumerate(USUAL[what]):
                sheet.write_string(0, column, heading, as_head)
        for column, heading in enumerate(USUAL[what]):
            sheet.write_string(1, column, EXAMPLE[what].get(heading, ""), as_text)
    return content.getvalue()
