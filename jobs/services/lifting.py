"""Changes to the studio's slings and to the base of a commission."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from jobs.models import Commission, CommissionBase, Sling
from jobs.queries.bases import read_base
from studio.accounts.models import User
from studio.audit import record
from studio.locking import Conflict, claim

SUBJECT = "office"
SLING_FIELDS = ("mark", "kind", "legs", "capacity_kg", "length_m", "examined_until")
BASE_FIELDS = ("length", "width", "thickness", "mass", "bolts", "legs")


class MarkTaken(ValueError):
    """Another sling carries that mark."""


@transaction.atomic
def add_sling(*, by: User, values: Mapping[str, Any]) -> Sling:
    """Add a sling to those the studio owns."""
    row = Sling()
    _keep_sling(row, values)
    record(actor=by, subject=SUBJECT, act=f"Sling added: {row}", after=_in_words(row, SLING_FIELDS))
    return row


@transaction.atomic
def change_sling(*, by: User, row: Sling, version: int, values: Mapping[str, Any]) -> None:
    """Change what is known of a sling, most often the day of its next examination."""
    claim(row, version)
    before = _in_words(row, SLING_FIELDS)
    _keep_sling(row, values)
    record(actor=by, subject=SUBJECT, act=f"Sling changed: {row}", before=before, after=_in_words(row, SLING_FIELDS))


@transaction.atomic
def remove_sling(*, by: User, row: Sling) -> None:
    """Take away a sling that is no longer used."""
    record(actor=by, subject=SUBJECT, act=f"Sling removed: {row}", before=_in_words(row, SLING_FIELDS))
    row.delete()


@transaction.atomic
def set_base(*, by: User, commission: Commission, version: int, values: Mapping[str, Any]) -> CommissionBase:
    """Keep the base of a commission; raises EstimatorError where it cannot be read, and Conflict."""
    row = CommissionBase.objects.filter(commission=commission).first()
    before = _in_words(row, BASE_FIELDS) if row else None
    if row is None:
        if version:
            raise Conflict
        row = CommissionBase(commission=commission, version=1)
    else:
        claim(row, version)
    for name in BASE_FIELDS:
        setattr(row, name, values[name])
    read_base(row)
    row.save()
    act = "Base changed" if before else "Base entered"
    record(actor=by, subject=commission.subject, act=act, before=before, after=_in_words(row, BASE_FIELDS))
    return row


def _keep_sling(row: Sling, values: Mapping[str, Any]) -> None:
    if Sling.objects.exclude(pk=row.pk).filter(mark__iexact=values["mark"]).exists():
        raise MarkTaken(f"There is a sling marked {values['mark']} already; each carries a mark of its own.")
    for name in SLING_FIELDS:
        setattr(row, name, values[name])
    row.save()


def _in_words(row: Sling | CommissionBase, fields: tuple[str, ...]) -> dict[str, Any]:
    return {name.replace("_", " "): getattr(row, name) for name in fields}
