"""The statement of a commission, put together from what was agreed and what happened since."""

import csv
import io
from decimal import Decimal

from django.utils import timezone

from jobs.figures.statement import ASKED, Agreed, Entry, Statement, account_of, dues
from jobs.models import AccountEntry, Commission, Quote, Retention
from jobs.queries.variations import contract_of
from studio.money import to_decimal
from studio.spreadsheets import BYTE_ORDER_MARK, guarded

COLUMNS = (
    "commission",
    "what",
    "number",
    "label",
    "date",
    "before tax",
    "tax",
    "amount",
    "kept back",
    "currency",
    "note",
)


def statement_of(commission: Commission) -> Statement | None:
    """How the account of a commission stands; None before a quote is accepted."""
    quote = contract_of(commission)
    if quote is None:
        return None
    accepted = list(commission.variations.light().accepted())
    for each in accepted:
        each.commission = commission
    payments = [(f"payment_{row.position}", row.label, row.amount_minor) for row in quote.payments.all()]
    payments += [
        (f"variation_{each.serial}", f"{each.number}: {each.title}", each.gross_minor or 0) for each in accepted
    ]
    retention = Retention.objects.filter(commission=commission).first()
    entries = [
        Entry(row.payment, row.happened, row.on, row.amount_minor)
        for row in AccountEntry.objects.filter(commission=commission).order_by("pk")
    ]
    agreed = [
        Agreed(
            each.number,
            each.title,
            timezone.localdate(each.answer.at),
            each.net_minor or 0,
            each.tax_minor or 0,
            each.gross_minor or 0,
        )
        for each in accepted
    ]
    return Statement(
        currency=quote.currency,
        agreed=(_contract(quote), *agreed),
        accounts=account_of(dues(payments, retention.share if retention else Decimal(0)), entries),
    )


def _contract(quote: Quote) -> Agreed:
    answer = quote.answer
    day = timezone.localdate(answer.at) if answer else timezone.localdate()
    return Agreed(
        quote.number,
        quote.commission.title,
        day,
        quote.net_minor or 0,
        quote.tax_minor or 0,
        quote.gross_minor or 0,
    )


def statement_file(commission: Commission, statement: Statement, entries: list[AccountEntry]) -> str:
    """The statement as CSV for the bookkeeper: what was agreed, what falls due, and every entry of the account."""
    target = io.StringIO(newline="")
    target.write(BYTE_ORDER_MARK)
    writer = csv.writer(target)
    writer.writerow(COLUMNS)

    def write(what: str, number: str, label: str, day: str, *amounts: int | None, note: str = "") -> None:
        shown = ["" if each is None else f"{to_decimal(each, statement.currency):f}" for each in amounts]
        texts = [guarded(text) for text in (commission.number, what, number, label)]
        writer.writerow([*texts, day, *shown, statement.currency, guarded(note)])

    for place, each in enumerate(statement.agreed):
        what = "variation" if place else "contract"
        write(
            what, each.number, each.title, each.on.isoformat(), each.net_minor, each.tax_minor, each.gross_minor, None
        )
    write("total", "", "", "", statement.net_minor, statement.tax_minor, statement.gross_minor, None)
    for account in statement.accounts:
        due = account.due
        write("due", due.key, due.label, "", None, None, due.payable_minor, due.held_minor)
    for entry in entries:
        what = "asked for" if entry.happened == ASKED else "paid"
        write(
            what,
            entry.payment,
            entry.label,
            entry.on.isoformat(),
            None,
            None,
            entry.amount_minor,
            None,
            note=entry.note,
        )
    write("still to pay", "", "", "", None, None, statement.to_pay_minor, None)
    return target.getvalue()
