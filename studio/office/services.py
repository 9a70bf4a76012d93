"""Changes to the studio's own settings. Each is one transaction with its audit row."""

import datetime
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.db import transaction

from studio.accounts.models import User
from studio.audit import record
from studio.forms import plain_number
from studio.locking import claim
from studio.office.models import House, TaxCategory, TaxRate

SUBJECT = "office"


class NameTaken(ValueError):
    """Another row already has this name."""


@transaction.atomic
def change_house(*, by: User, house: House, version: int, part: str, values: Mapping[str, Any]) -> None:
    """Change part of the studio's own row; ``part`` names it in the record."""
    claim(house, version)
    labels = {field.name: str(field.verbose_name) for field in House._meta.fields}
    before = {labels[name]: getattr(house, name) for name in values}
    for name, value in values.items():
        setattr(house, name, value)
    house.save(update_fields=list(values))
    record(
        actor=by,
        subject=SUBJECT,
        act=f"{part} changed",
        before=before,
        after={labels[name]: value for name, value in values.items()},
    )


@transaction.atomic
def add_tax_category(*, by: User, name: str, rate: Decimal, valid_from: datetime.date) -> TaxCategory:
    """Add a category after the others, with its first rate."""
    if TaxCategory.objects.filter(name__iexact=name).exists():
        raise NameTaken(f"There is already a category called {name}; add the rate to that one, or choose another name.")
    last = TaxCategory.objects.order_by("-position").first()
    category = TaxCategory.objects.create(name=name, position=last.position + 1 if last else 0)
    record(actor=by, subject=SUBJECT, act=f"Tax category added: {name}")
    set_tax_rate(by=by, category=category, rate=rate, valid_from=valid_from)
    return category


@transaction.atomic
def set_tax_rate(*, by: User, category: TaxCategory, rate: Decimal, valid_from: datetime.date) -> None:
    """Put a rate in force from a day on; a rate that begins on the same day is corrected. Issued quotes keep theirs."""
    there = TaxRate.objects.filter(category=category, valid_from=valid_from).first()
    before = {"rate": f"{plain_number(there.rate * 100)} %"} if there else None
    TaxRate.objects.update_or_create(category=category, valid_from=valid_from, defaults={"rate": rate})
    record(
        actor=by,
        subject=SUBJECT,
        act=f"Tax rate {'corrected' if there else 'added'}: {category.name} from {valid_from}",
        before=before,
        after={"rate": f"{plain_number(rate * 100)} %"},
    )
