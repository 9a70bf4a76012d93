"""The account of a commission: what is kept back, and rows for what was asked for and paid."""

import datetime
import uuid
from dataclasses import dataclass
from decimal import Decimal

from django.db import transaction

from jobs.figures.statement import Statement
from jobs.models import AccountEntry, Commission, Happened, Retention
from jobs.services.drafts import Refused, held
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim
from studio.money import format_minor


@dataclass(frozen=True, slots=True)
class Mark:
    """What is to be written of one payment."""

    payment: str
    happened: Happened
    on: datetime.date
    amount_minor: int
    note: str = ""


@transaction.atomic
def mark_payment(*, by: User, commission: Commission, statement: Statement, mark: Mark, key: uuid.UUID) -> AccountEntry:
    """Write that a payment was asked for or paid; the same form sent twice writes it once.

    ``statement`` is the one that was looked at: what it does not owe cannot be marked.
    """
    held(commission)
    there = AccountEntry.objects.filter(key=key).first()
    if there is not None:
        return there
    account = next((each for each in statement.accounts if each.due.key == mark.payment), None)
    if account is None:
        raise Refused("That payment is not owed any more; look at the statement again.")
    if not mark.amount_minor:
        raise Refused("Enter the amount; nothing asked for or paid is nothing to write down.")
    entry = AccountEntry.objects.create(
        commission=commission,
        payment=mark.payment,
        label=account.due.label,
        happened=mark.happened,
        on=mark.on,
        amount_minor=mark.amount_minor,
        currency=statement.currency,
        note=mark.note,
        key=key,
        by=by,
    )
    _record(entry, by, f"{entry.get_happened_display()}: {entry.label}")
    return entry


@transaction.atomic
def take_entry_back(*, by: User, entry: AccountEntry, key: uuid.UUID) -> AccountEntry:
    """Take an entry back by a row that names it; a second time there is nothing left to take back."""
    held(entry.commission)
    there = AccountEntry.objects.filter(reverses=entry).first()
    if there is not None:
        return there
    if entry.reverses_id is not None:
        raise Refused("That entry takes another back; write the right one instead.")
    back = AccountEntry.objects.create(
        commission=entry.commission,
        payment=entry.payment,
        label=entry.label,
        happened=entry.happened,
        on=entry.on,
        amount_minor=-entry.amount_minor,
        currency=entry.currency,
        note="Taken back",
        reverses=entry,
        key=key,
        by=by,
    )
    _record(back, by, f"Taken back: {entry.get_happened_display().lower()}, {entry.label}")
    return back


@transaction.atomic
def keep_back(*, by: User, commission: Commission, version: int, share: Decimal) -> None:
    """Set what the commissioner keeps back of every payment; not once a payment was asked for with another share."""
    held(commission)
    row, _ = Retention.objects.get_or_create(commission=commission)
    claim(row, version)
    if row.share == share:
        return
    if AccountEntry.objects.filter(commission=commission, reverses__isnull=True, reversed_by__isnull=True).exists():
        raise Refused("Payments were asked for or paid by the share there is; take those entries back first.")
    before, row.share = row.share, share
    row.save(update_fields=["share"])
    record(
        actor=by,
        subject=commission.subject,
        act="Retention changed",
        before={"kept back": before},
        after={"kept back": share},
        has_money=True,
    )


def _record(entry: AccountEntry, by: User, act: str) -> None:
    record(
        actor=by,
        subject=entry.commission.subject,
        act=act,
        after={"amount": format_minor(entry.amount_minor, entry.currency), "on": entry.on, "note": entry.note},
        has_money=True,
    )
