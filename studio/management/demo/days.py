"""The demo's moments, by the studio's clock."""

import datetime

from django.utils import timezone


def moment(on: datetime.date, days: int, hour: int) -> datetime.datetime:
    """So many days before a day, at an hour of that day."""
    return timezone.make_aware(datetime.datetime.combine(on - datetime.timedelta(days=days), datetime.time(hour)))
