"""What every template may ask of the house."""

from typing import Any

from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from studio.access import sees_money
from studio.office.queries import house as read_house


def house(request: HttpRequest) -> dict[str, Any]:
    """The studio's row, read once and only when a template asks, and whether this person sees money."""
    return {"house": SimpleLazyObject(read_house), "sees_money": sees_money(getattr(request, "user", None))}
