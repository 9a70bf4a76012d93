"""Reads of the studio's settings."""

import datetime
from dataclasses import dataclass

from studio.accounts.models import AuditEntry, AuditQuerySet
from studio.office.models import House, TaxCategory, TaxRate


def house() -> House:
    """The one row, made with defaults by the first migration."""
    return House.objects.get(pk=1)


def changes_outside_commissions() -> AuditQuerySet:
    """Entries on settings, people and prices, newest first."""
    return AuditEntry.objects.exclude(subject__startswith="commission/").select_related("actor").order_by("-at", "-pk")


@dataclass(frozen=True, slots=True)
class CategoryOnDay:
    """A tax category with the rate of a day, and its other rates, newest first."""

    category: TaxCategory
    now: TaxRate | None
    others: list[TaxRate]


def tax_table(on: datetime.date) -> list[CategoryOnDay]:
    """Every category as it stands on a day, in two queries."""
    found = []
    for category in TaxCategory.objects.prefetch_related("rates"):
        rates = list(category.rates.all())
        now = next((rate for rate in rates if rate.valid_from <= on), None)
        found.append(CategoryOnDay(category, now, [rate for rate in rates if rate != now]))
    return found
