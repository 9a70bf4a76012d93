"""Named reads of commissions; models use these as their managers."""

import unicodedata
from typing import TYPE_CHECKING

from django.db import models

if TYPE_CHECKING:
    from jobs.models import Commission  # noqa: F401 - named in the annotation below


def folded(text: str) -> str:
    """Text without case or accents, for searching: the databases fold them unlike each other."""
    plain = unicodedata.normalize("NFKD", text)
    return "".join(char for char in plain if not unicodedata.combining(char)).casefold()


class CommissionQuerySet(models.QuerySet["Commission"]):
    """Reads of commissions."""

    def matching(self, text: str) -> "CommissionQuerySet":
        """Those whose number, title, commissioner or place holds every word of ``text``."""
        found = self
        for word in folded(text).split():
            found = found.filter(search_text__contains=word)
        return found

    def live(self) -> "CommissionQuerySet":
        """Those that are neither declined nor handed over."""
        return self.exclude(state__in=["declined", "done"])

    def in_hand(self) -> "CommissionQuerySet":
        """Those whose quote is accepted and whose piece is not handed over, in the order of their numbers."""
        return self.filter(state="accepted").order_by("number")
