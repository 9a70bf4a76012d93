"""A product's gel times: the whole table is put in place of the one before, with its audit row."""

import datetime
from collections.abc import Sequence
from typing import Any

from django.db import transaction
from django.utils import timezone

from materials.estimator.gel import GelReading
from materials.models import GelTime, Item
from materials.queries.gel import readings_of
from materials.services.catalogue import SUBJECT
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim


@transaction.atomic
def change_gel_times(
    *,
    by: User,
    item: Item,
    version: int,
    readings: Sequence[GelReading],
    known_from: str = "",
    checked_on: datetime.date | None = None,
) -> None:
    """Keep these as the maker's times, checked today if no day is given; ``version`` is the item's."""
    claim(item, version)
    before = _in_words(item, readings_of(item))
    item.gel_times_from, item.gel_times_checked_on = known_from, checked_on or timezone.localdate()
    item.save(update_fields=["gel_times_from", "gel_times_checked_on"])
    item.gel_times.all().delete()
    GelTime.objects.bulk_create(
        GelTime(item=item, temperature_c=each.temperature_c, percent=each.percent, minutes=each.minutes)
        for each in readings
    )
    act = f"Gel times changed: {item.name}"
    record(actor=by, subject=SUBJECT, act=act, before=before, after=_in_words(item, readings))


def _in_words(item: Item, readings: Sequence[GelReading]) -> dict[str, Any]:
    return {
        "times": "; ".join(f"{each.temperature_c:g} °C, {each.percent:g} %: {each.minutes:g} min" for each in readings),
        "known from": item.gel_times_from,
        "checked on": item.gel_times_checked_on,
    }
