"""Plain numbers that an address asks for."""

from django.http import HttpRequest

# No key, count or place of a list is longer, and every database holds what fits.
MOST_DIGITS = 9


def number_asked(request: HttpRequest, name: str) -> int | None:
    """The whole number that an address gives under a name; None where it gives none."""
    typed = request.GET.get(name, "")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) <= MOST_DIGITS else None
