"""Changes to the studio's doors, vehicles and limits of the road. Each is one transaction with its audit row."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.db.models import QuerySet

from jobs.delivery.road import MEASURES
from jobs.models import Doorway, RoadLimit, Transport, Way
from jobs.queries.sending import door_value, limit_value, vehicle_value
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim

SUBJECT = "office"


class Taken(ValueError):
    """Another row has that name, or limits the same measure at the same step."""


@transaction.atomic
def add_way(*, by: User, row: Way, values: Mapping[str, Any]) -> Way:
    """Keep a new door, vehicle or limit; what the delivery room cannot reckon with is refused."""
    _keep(row, values)
    record(actor=by, subject=SUBJECT, act=f"{_kind(row)} added: {row}", after=_in_words(row))
    return row


@transaction.atomic
def change_way(*, by: User, row: Way, version: int, values: Mapping[str, Any]) -> None:
    """Change a door, vehicle or limit."""
    claim(row, version)
    before = _in_words(row)
    _keep(row, values)
    record(actor=by, subject=SUBJECT, act=f"{_kind(row)} changed: {row}", before=before, after=_in_words(row))


@transaction.atomic
def remove_way(*, by: User, row: Way) -> None:
    """Remove a door, vehicle or limit; sheets worked from now on do without it."""
    record(actor=by, subject=SUBJECT, act=f"{_kind(row)} removed: {row}", before=_in_words(row))
    row.delete()


def _keep(row: Way, values: Mapping[str, Any]) -> None:
    for name, value in values.items():
        setattr(row, name, value)
    match row:
        case Doorway():
            door_value(row)
            _refuse_second_name(row, Doorway.objects.filter(name__iexact=row.name))
        case Transport():
            vehicle_value(row)
            _refuse_second_name(row, Transport.objects.filter(name__iexact=row.name))
        case RoadLimit():
            limit_value(row)
            if RoadLimit.objects.exclude(pk=row.pk).filter(measure=row.measure, above_m=row.above_m).exists():
                step = f"{MEASURES[row.measure]} beyond {row.above_m:g} m"
                raise Taken(f"There is a limit for {step} already; change that one.")
    row.save()


def _refuse_second_name(row: Doorway | Transport, alike: QuerySet[Any]) -> None:
    if alike.exclude(pk=row.pk).exists():
        raise Taken(f"There is one called {row.name} already; give this one another name.")


def _kind(row: Way) -> str:
    match row:
        case Doorway():
            return "Door"
        case Transport():
            return "Vehicle"
        case _:
            return "Limit of the road"


def _in_words(row: Way) -> dict[str, Any]:
    return {
        str(field.verbose_name): getattr(row, field.name)
        for field in row._meta.concrete_fields
        if field.name not in ("id", "version")
    }
