"""Changes to the sheets of labels that the studio buys."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from jobs.delivery.label_sheets import checked
from jobs.models import LabelStock
from jobs.queries.labels import sheet_of
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim

SUBJECT = "office"
FIELDS = (
    *("name", "paper", "columns", "rows", "width_mm", "height_mm"),
    *("left_mm", "top_mm", "across_mm", "down_mm"),
)


class NameTaken(ValueError):
    """Another sheet of labels has that name."""


@transaction.atomic
def add_label_stock(*, by: User, values: Mapping[str, Any]) -> LabelStock:
    """Add a sheet of labels; raises EstimatorError where its measures do not go together."""
    row = LabelStock()
    _keep(row, values)
    record(actor=by, subject=SUBJECT, act=f"Sheet of labels added: {row}", after=_in_words(row))
    return row


@transaction.atomic
def change_label_stock(*, by: User, row: LabelStock, version: int, values: Mapping[str, Any]) -> None:
    """Change a sheet's measures; raises EstimatorError where they do not go together."""
    claim(row, version)
    before = _in_words(row)
    _keep(row, values)
    record(actor=by, subject=SUBJECT, act=f"Sheet of labels changed: {row}", before=before, after=_in_words(row))


@transaction.atomic
def remove_label_stock(*, by: User, row: LabelStock) -> None:
    """Remove a sheet that is no longer bought."""
    record(actor=by, subject=SUBJECT, act=f"Sheet of labels removed: {row}", before=_in_words(row))
    row.delete()


def _keep(row: LabelStock, values: Mapping[str, Any]) -> None:
    if LabelStock.objects.exclude(pk=row.pk).filter(name__iexact=values["name"]).exists():
        raise NameTaken(f"There is a sheet called {values['name']} already; give this one another name.")
    for name in FIELDS:
        setattr(row, name, values[name])
    checked(sheet_of(row))
    row.save()


def _in_words(row: LabelStock) -> dict[str, Any]:
    return {name.replace("_", " "): getattr(row, name) for name in FIELDS}
