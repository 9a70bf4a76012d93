"""Changes to the office's own lists. Each is one transaction with its audit row.

Whoever changes a row has checked it: on the day that is given, or today.
"""

from collections.abc import Callable, Mapping
from typing import Any

from django.db import transaction
from django.utils import timezone

from jobs.delivery.label_sheets import checked
from jobs.models import Doorway, LabelStock, OwnRow, RoadLimit, Transport
from jobs.queries.labels import sheet_of
from jobs.queries.sending import door_value, limit_value, vehicle_value
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim

SUBJECT = "office"

# How sheets read a row: what they cannot reckon with is refused.
READ: Mapping[type[OwnRow], Callable[[Any], object]] = {
    Doorway: door_value,
    Transport: vehicle_value,
    RoadLimit: limit_value,
    LabelStock: lambda row: checked(sheet_of(row)),
}


class Taken(ValueError):
    """Another row has that name or mark, or limits the same measure at the same step."""


@transaction.atomic
def add_row(*, by: User, row: OwnRow, values: Mapping[str, Any]) -> OwnRow:
    """Keep a new row; raises Taken, and EstimatorError for what no sheet could reckon with."""
    _keep(row, values)
    record(actor=by, subject=SUBJECT, act=f"{row.called.capitalize()} added: {row}", after=_in_words(row))
    return row


@transaction.atomic
def change_row(*, by: User, row: OwnRow, version: int, values: Mapping[str, Any]) -> None:
    """Change a row; raises Conflict, Taken and EstimatorError."""
    claim(row, version)
    before = _in_words(row)
    _keep(row, values)
    act = f"{row.called.capitalize()} changed: {row}"
    record(actor=by, subject=SUBJECT, act=act, before=before, after=_in_words(row))


@transaction.atomic
def remove_row(*, by: User, row: OwnRow) -> None:
    """Remove a row; sheets worked from now on do without it."""
    record(actor=by, subject=SUBJECT, act=f"{row.called.capitalize()} removed: {row}", before=_in_words(row))
    row.delete()


def _keep(row: OwnRow, values: Mapping[str, Any]) -> None:
    for name, value in {"checked_on": timezone.localdate(), **values}.items():
        setattr(row, name, value)
    alike = {lookup: getattr(row, lookup.partition("__")[0]) for lookup in row.told_apart_by}
    if type(row)._default_manager.exclude(pk=row.pk).filter(**alike).exists():
        raise Taken(f"{row} stands on the list already; change that one, or tell this one apart from it.")
    if read := READ.get(type(row)):
        read(row)
    row.save()


def _in_words(row: OwnRow) -> dict[str, Any]:
    return {
        str(field.verbose_name): getattr(row, field.name)
        for field in row._meta.concrete_fields
        if field.name not in ("id", "version")
    }
