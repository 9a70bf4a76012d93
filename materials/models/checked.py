"""What every row of figures has: the day on which somebody last checked it."""

import datetime

from django.db import models
from django.utils import timezone

CHECK_AGAIN_AFTER = datetime.timedelta(days=730)
"""After two years a figure is due for a check: common practice, no source."""


def is_due(checked_on: datetime.date | None) -> bool:
    """Whether what was last checked on that day is due for a check."""
    return checked_on is None or timezone.localdate() - checked_on > CHECK_AGAIN_AFTER


class Checked(models.Model):
    """A row that somebody held against what it is known from, and let stand."""

    checked_on = models.DateField(
        null=True, blank=True, help_text="The last day on which it was held against what it is known from."
    )

    class Meta:
        abstract = True

    @property
    def is_due(self) -> bool:
        """Whether it is due for a check; where nobody has said when, it is."""
        return is_due(self.checked_on)
