"""What the booking tiles need wherever they are included."""

import datetime
import uuid

from django import template
from django.utils import timezone

from jobs.bench import Length, usual_lengths
from jobs.forms.hours import new_key
from jobs.services.hours import hours_text

register = template.Library()


@register.simple_tag
def booking_key() -> uuid.UUID:
    """A key for one tap, so that tapping twice books once."""
    return new_key()


@register.simple_tag
def booking_day() -> datetime.date:
    """Today, where the studio is."""
    return timezone.localdate()


@register.simple_tag
def booking_lengths() -> list[Length]:
    """The lengths that have a tile."""
    return usual_lengths()


@register.filter
def worked(minutes: int) -> str:
    """Minutes as people say them, "7 h 30"."""
    return hours_text(minutes)
