"""Opening and changing commissions."""

import datetime
from typing import Any

from django.db import transaction

from jobs.models import Commission
from jobs.queries import folded
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim
from studio.office.models import House, TaxCategory

PARTICULARS = (
    "title", "commissioner", "contact", "email", "address", "place", "description", "colour", "model_revision",
    "needed_by", "site_from", "site_until", "site_shut",
)  # fmt: skip


def _search_text(commission: Commission) -> str:
    words = (commission.number, commission.title, commission.commissioner, commission.contact, commission.place)
    return folded(" ".join(words))


def _next_number(year: int) -> str:
    # Whoever holds the house's row numbers next, so that two people never draw the same number.
    House.objects.select_for_update().get(pk=1)
    prefix = f"{year % 100:02d}-"
    numbers = Commission.objects.filter(number__startswith=prefix).values_list("number", flat=True)
    return f"{prefix}{max((int(number[3:]) for number in numbers), default=0) + 1:03d}"


@transaction.atomic
def open_commission(*, by: User, on: datetime.date, particulars: dict[str, Any]) -> Commission:
    """Open a commission under the next number of the year."""
    commission = Commission(number=_next_number(on.year), tax_category=TaxCategory.objects.earliest("position"))
    for name in PARTICULARS:
        setattr(commission, name, particulars[name])
    commission.search_text = _search_text(commission)
    commission.save()
    record(actor=by, subject=commission.subject, act="Commission opened", after=particulars)
    return commission


@transaction.atomic
def change_particulars(*, by: User, commission: Commission, version: int, particulars: dict[str, Any]) -> None:
    """Change what the commission is called, for whom and for where."""
    claim(commission, version)
    before = {name: getattr(commission, name) for name in PARTICULARS}
    for name in PARTICULARS:
        setattr(commission, name, particulars[name])
    commission.search_text = _search_text(commission)
    commission.save(update_fields=[*PARTICULARS, "search_text"])
    record(actor=by, subject=commission.subject, act="Particulars changed", before=before, after=particulars)
