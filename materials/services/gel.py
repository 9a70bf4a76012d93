"""A product's gel times: the whole table is put in place of the one before, with its audit row."""

from collections.abc import Sequence

from django.db import transaction

from materials.estimator.gel import GelReading
from materials.models import GelTime, Item
from materials.queries.gel import readings_of
from materials.services.catalogue import SUBJECT
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim


@transaction.atomic
def change_gel_times(*, by: User, item: Item, version: int, readings: Sequence[GelReading]) -> None:
    """Keep these as the maker's times; ``version`` is the item's."""
    claim(item, version)
    before = _in_words(readings_of(item))
    item.gel_times.all().delete()
    GelTime.objects.bulk_create(
        GelTime(item=item, temperature_c=each.temperature_c, percent=each.percent, minutes=each.minutes)
        for each in readings
    )
    act = f"Gel times changed: {item.name}"
    record(actor=by, subject=SUBJECT, act=act, before={"times": before}, after={"times": _in_words(readings)})


def _in_words(readings: Sequence[GelReading]) -> str:
    return "; ".join(f"{each.temperature_c:g} °C, {each.percent:g} %: {each.minutes:g} min" for each in readings)
