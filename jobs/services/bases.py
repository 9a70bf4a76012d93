"""Changes to the base of a commission."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from jobs.models import Commission, CommissionBase
from jobs.queries.bases import read_base
from studio.accounts.models import User
from studio.audit import record
from studio.locking import Conflict, claim

BASE_FIELDS = ("length", "width", "thickness", "mass", "bolts", "legs")


@transaction.atomic
def set_base(*, by: User, commission: Commission, version: int, values: Mapping[str, Any]) -> CommissionBase:
    """Keep the base of a commission; raises EstimatorError where it cannot be read, and Conflict."""
    row = CommissionBase.objects.filter(commission=commission).first()
    before = _in_words(row) if row else None
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
    record(actor=by, subject=commission.subject, act=act, before=before, after=_in_words(row))
    return row


def _in_words(row: CommissionBase) -> dict[str, Any]:
    return {name: getattr(row, name) for name in BASE_FIELDS}
