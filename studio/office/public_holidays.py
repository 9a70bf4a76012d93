"""Public holidays of a country or a part of it, by the ``holidays`` package."""

import datetime
from dataclasses import dataclass
from functools import cache

import holidays
from babel import Locale

# Names of holidays where the package has them in English; elsewhere it gives the country's own.
_NAMES_IN = "en_GB"
_LONGEST_CODE = 10


@dataclass(frozen=True, slots=True)
class Holiday:
    """One day off."""

    day: datetime.date
    name: str


@cache
def countries() -> tuple[tuple[str, str], ...]:
    """Code and name of every country whose holidays are known, by name."""
    names = Locale("en", "GB").territories
    known = holidays.list_supported_countries(include_aliases=False)
    return tuple(sorted(((code, str(names[code])) for code in known), key=lambda row: row[1]))


def regions(country: str) -> tuple[str, ...]:
    """Codes of the parts of a country that have holidays of their own, as long as the house's row can keep."""
    parts = holidays.list_supported_countries(include_aliases=False).get(country, ())
    return tuple(part for part in parts if len(part) <= _LONGEST_CODE)


def coming(country: str, region: str, after: datetime.date, count: int) -> list[Holiday]:
    """The next holidays from a day on; none where the country or part is not known."""
    return from_day(country, region, after, 3)[:count]


def from_day(country: str, region: str, after: datetime.date, years: int) -> list[Holiday]:
    """Every holiday from a day on, in its year and those that follow, ``years`` in all."""
    if country not in dict(countries()) or (region and region not in regions(country)):
        return []
    found = holidays.country_holidays(
        country, subdiv=region or None, years=range(after.year, after.year + years), language=_NAMES_IN
    )
    return [Holiday(day, name) for day, name in sorted(found.items()) if day >= after]
