"""Formatting only: a number becomes text here and nowhere else in a template."""

import datetime
from decimal import Decimal
from typing import Any

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from materials.units import display_quantity, format_quantity, unit_text
from studio.money import format_minor

register = template.Library()
THIN = "\N{THIN SPACE}"


@register.filter
def money(minor: int | None, currency: str) -> str:
    """Minor units as the commissioner reads them, "£9,276.46"."""
    return "" if minor is None else format_minor(minor, currency)


@register.filter
def more(minor: int | None, currency: str) -> str:
    """A difference in money with its sign, "+£120.00" or "−£3.00"."""
    return "" if minor is None else f"{'+' if minor > 0 else ''}{format_minor(minor, currency)}"


@register.filter
def qty(value: float | Decimal | None, unit: str) -> SafeString | str:
    """A quantity with its unit and the digits that matter, "18.4 kg". For US units pass ``"kg|us"``."""
    if value is None:
        return "–"
    unit, _, system = unit.partition("|")
    return _with_unit(value, unit, system)


@register.filter
def hours(value: float | Decimal | None) -> str:
    """Hours to the half, "14.5 h"."""
    if value is None:
        return "–"
    if 0 < float(value) < 0.05:
        return "<0.1 h"
    rounded = round(float(value) * 2) / 2 if float(value) >= 1 else round(float(value), 1)
    return f"{rounded:g} h"


@register.filter
def pct(share: float | Decimal | None) -> str:
    """A share as a percentage, "7.5 %"."""
    return "–" if share is None else f"{float(share) * 100:.4g}{THIN}%"


@register.filter
def whole_pct(share: float | Decimal | None) -> str:
    """A share as a whole percentage, for figures that are estimates, "22 %"."""
    return "–" if share is None else f"{float(share) * 100:.0f}{THIN}%"


@register.filter
def length_of(metres: float, system: str) -> str:
    """A length to the millimetre, "2.55 m", or in feet and inches."""
    return format_quantity(metres, "length", "us" if system == "us" else "metric")


@register.filter
def plain(value: float | Decimal | None) -> str:
    """A bare number with at most four significant digits."""
    return "–" if value is None else f"{float(value):.4g}"


@register.filter
def day(value: datetime.date | None) -> SafeString | str:
    """A date as people write it, machine-readable underneath."""
    if value is None:
        return "–"
    return format_html('<time datetime="{}">{}</time>', value.isoformat(), f"{value.day} {value:%b %Y}")


@register.filter
def moved(days: int) -> str:
    """By how much a day moves, "6 days later"; "" where it stays."""
    count = f"{abs(days)} day{'' if abs(days) == 1 else 's'}"
    return f"{count} {'later' if days > 0 else 'earlier'}" if days else ""


@register.simple_tag
def quantity(value: float | Decimal | None, unit: str, system: Any) -> str:
    """As ``qty``, in the house's units."""
    if value is None:
        return "–"
    return _with_unit(value, unit, str(system))


def _with_unit(value: float | Decimal, unit: str, system: str) -> str:
    exact = float(value)
    if 0 < abs(exact) < 0.1:
        # A take-off of small sections would otherwise show figures nobody weighs.
        exact = float(f"{exact:.2g}")
    number, label = display_quantity(exact, unit, "us" if system == "us" else "metric")
    return number if label == "each" else f"{number} {label}".strip()


@register.filter
def words(key: str) -> str:
    """A stable key as words, "rough_cut" as "Rough cut"."""
    text = str(key).replace("_", " ")
    return text[:1].upper() + text[1:]


@register.filter
def unit_words(unit: str) -> str:
    """A unit as people write it, "kg/m^2" as "kg/m²"."""
    return unit_text(unit)
