"""Reads of the studio's settings."""

from studio.office.models import House


def house() -> House:
    """The one row, made with defaults by the first migration."""
    return House.objects.get(pk=1)
