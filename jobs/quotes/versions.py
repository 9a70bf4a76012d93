"""The versions of a quote that went out, each with how it stands."""

import datetime
from dataclasses import dataclass

from jobs.models import Commission, Quote
from jobs.models.issued import STATE_WORDS


@dataclass(frozen=True, slots=True)
class Version:
    """One version and its state, as a key and in words."""

    quote: Quote
    state: str

    @property
    def words(self) -> str:
        """The state in words."""
        return STATE_WORDS[self.state]


def versions_of(commission: Commission, on: datetime.date) -> tuple[Version, ...]:
    """Every version that went out, newest first, in one query."""
    quotes = list(commission.quotes.issued())
    for quote in quotes:
        quote.commission = commission
    newest = quotes[0].version_number if quotes else 0
    return tuple(Version(quote, quote.state_on(on, newest)) for quote in quotes)
