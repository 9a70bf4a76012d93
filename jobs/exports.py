"""Hours as files for the bookkeeper: one line for each person, day and stage. They hold no money.

CSV is UTF-8 with a byte order mark, without which spreadsheet programs misread
accents; in both files numbers are numbers and text can never run as a formula.
"""

import csv
import io
from collections.abc import Sequence

from jobs.queries.hours import DaySum
from studio.spreadsheets import BYTE_ORDER_MARK, guarded

COLUMNS = ("person", "date", "commission", "title", "section", "stage", "minutes", "hours")


def hours_csv(sums: Sequence[DaySum]) -> str:
    """The lines as CSV."""
    target = io.StringIO(newline="")
    target.write(BYTE_ORDER_MARK)
    writer = csv.writer(target)
    writer.writerow(COLUMNS)
    for each in sums:
        texts = [guarded(text) for text in (each.number, each.title, each.section, each.stage)]
        writer.writerow([guarded(each.person), each.day.isoformat(), *texts, each.minutes, f"{each.minutes / 60:g}"])
    return target.getvalue()


def hours_xlsx(sums: Sequence[DaySum]) -> bytes:
    """The lines as a workbook, with dates as dates and hours as numbers."""
    import xlsxwriter

    target = io.BytesIO()
    with xlsxwriter.Workbook(target, {"in_memory": True, "strings_to_formulas": False}) as book:
        bold, day, hours = (
            book.add_format(how) for how in ({"bold": True}, {"num_format": "yyyy-mm-dd"}, {"num_format": "0.00"})
        )
        sheet = book.add_worksheet("Hours")
        sheet.freeze_panes(1, 0)
        sheet.set_column(0, len(COLUMNS) - 1, 16)
        for column, name in enumerate(COLUMNS):
            sheet.write_string(0, column, name, bold)
        for line, each in enumerate(sums, start=1):
            sheet.write_string(line, 0, each.person)
            sheet.write_datetime(line, 1, each.day, day)
            for column, text in enumerate((each.number, each.title, each.section, each.stage), start=2):
                sheet.write_string(line, column, text)
            sheet.write_number(line, 6, each.minutes)
            sheet.write_number(line, 7, each.minutes / 60, hours)
    return target.getvalue()
