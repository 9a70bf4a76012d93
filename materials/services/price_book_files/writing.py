"""The price book as a CSV file (RFC 4180) or a workbook.

The CSV is UTF-8 and begins with a byte order mark: without it, spreadsheet
programs take "m²" for two other signs.
"""

import csv
import datetime
import io
from collections.abc import Iterable, Iterator

from materials.models import Item
from materials.services.price_book_files.rows import COLUMNS, DAYS, NUMBERS, Row, density_of
from studio.money import minor_digits
from studio.spreadsheets import BYTE_ORDER_MARK, guarded


def price_book_rows() -> Iterator[Row]:
    """Every item, pack and price there is, a line each, in one query."""
    lines = Item.objects.order_by("key", "packs__quantity", "packs__prices__valid_from").values_list(
        *("key", "name", "kind", "unit", "density_kg_m3", "supplier", "lead_days", "shelf_life_days"),
        *("packs__label", "packs__quantity", "packs__prices__valid_from", "packs__prices__amount_minor"),
    )
    for key, name, kind, unit, density, supplier, lead, shelf, label, quantity, day, minor in lines.iterator():
        yield Row(key, name, kind, unit, density_of(density), supplier, lead, shelf, label or "", quantity, day, minor)


def csv_text(rows: Iterable[Row], currency: str) -> str:
    """The CSV file."""
    target = io.StringIO(newline="")
    target.write(BYTE_ORDER_MARK)
    writer = csv.writer(target)
    writer.writerow(COLUMNS)
    for row in rows:
        writer.writerow(guarded(text) for text in row.cells(currency).values())
    return target.getvalue()


def workbook(rows: Iterable[Row], currency: str) -> bytes:
    """The XLSX file: text as text, numbers as numbers, days as days, and never a formula."""
    import xlsxwriter

    target = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    with xlsxwriter.Workbook(target, options) as book:
        # The same price book gives the same bytes, so the file carries no moment of making.
        book.set_properties({"title": "Price book", "created": datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)})
        digits = minor_digits(currency)
        amount = book.add_format({"num_format": f"0.{'0' * digits}" if digits else "0"})
        day = book.add_format({"num_format": "yyyy-mm-dd"})
        sheet = book.add_worksheet("Price book")
        sheet.write_row(0, 0, COLUMNS, book.add_format({"bold": True}))
        sheet.freeze_panes(1, 0)
        sheet.set_column(0, len(COLUMNS) - 1, 16)
        for line, row in enumerate(rows, start=1):
            for column, (name, text) in enumerate(row.cells(currency).items()):
                if not text:
                    continue
                if name in NUMBERS:
                    sheet.write_number(line, column, float(text), amount if name == "price" else None)
                elif name in DAYS:
                    sheet.write_datetime(line, column, datetime.datetime.fromisoformat(text), day)
                else:
                    sheet.write_string(line, column, text)
    return target.getvalue()
