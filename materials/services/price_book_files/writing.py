"""The price book as a CSV file (RFC 4180) or a workbook.

The CSV is UTF-8 and begins with a byte order mark: without it, spreadsheet
programs take "m²" for two other signs.
"""

import csv
import datetime
import io
import re
from collections.abc import Iterable, Iterator

from materials.models import Item
from materials.services.price_book_files.rows import COLUMNS, DAYS, NUMBERS, Row, density_of
from studio.money import minor_digits

BYTE_ORDER_MARK = "\ufeff"
# What a spreadsheet program would run as a formula, plain or in full width, also behind space or apostrophes.
_FORMULA = re.compile("'*\\s*[=+\\-@\t\r\0\uff1d\uff0b\uff0d\uff20]")


def guarded(text: str) -> str:
    """Text that a spreadsheet program shows and never runs: an apostrophe before what looks like a formula."""
    return f"'{text}" if _FORMULA.match(text) else text


def unguarded(text: str) -> str:
    """The text that ``guarded`` was given."""
    return text[1:] if text.startswith("'") and _FORMULA.match(text) else text


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
