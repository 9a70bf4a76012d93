"""An issued version as a CSV file for the office: its parts, payments and sums, and the build-up inside.

UTF-8 with a byte order mark, without which spreadsheet programs misread the
signs of units; amounts are bare numbers of the currency's digits.
"""

import csv
import io
from decimal import Decimal

from jobs.models import Quote
from studio.money import to_decimal
from studio.spreadsheets import BYTE_ORDER_MARK, guarded

COLUMNS = ("what", "key", "label", "quantity", "unit", "note", "share", "amount", "currency")


def lines_file(quote: Quote) -> str:
    """The file's text."""
    target = io.StringIO(newline="")
    target.write(BYTE_ORDER_MARK)
    writer = csv.writer(target)
    writer.writerow(COLUMNS)

    def write(
        what: str,
        key: str,
        label: str,
        amount: int | None,
        *,
        quantity: Decimal | None = None,
        unit: str = "",
        note: str = "",
        share: Decimal | None = None,
    ) -> None:
        texts = [guarded(text) for text in (what, key, label)]
        number = "" if quantity is None else f"{quantity.normalize():f}"
        part = "" if share is None else f"{share.normalize():f}"
        writer.writerow(
            [
                *texts,
                number,
                guarded(unit),
                guarded(note),
                part,
                f"{to_decimal(amount or 0, quote.currency):f}",
                quote.currency,
            ]
        )

    for part in quote.parts.all():
        write("part", "", part.label, part.net_minor, note=part.tax_category, share=part.tax_rate)
    write("sum", "net", "Before tax", quote.net_minor)
    write("sum", "tax", "Tax", quote.tax_minor)
    write("sum", "gross", "With tax", quote.gross_minor)
    for payment in quote.payments.all():
        write("payment", "", payment.label, payment.amount_minor, share=payment.share)
    for line in quote.lines.all():
        write(
            line.kind, line.key, line.label, line.amount_minor, quantity=line.quantity, unit=line.unit, note=line.note
        )
    return target.getvalue()
