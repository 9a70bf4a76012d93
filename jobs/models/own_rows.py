"""What the rows of the office's own lists share: doors, vehicles, limits of the road, slings, sheets of labels."""

from typing import ClassVar

from django.db import models

from materials.models import Checked


class OwnRow(Checked):
    """A row that the studio adds, changes and removes as it likes."""

    called: ClassVar[str]
    """What a row is, in a sentence."""
    told_apart_by: ClassVar[tuple[str, ...]] = ("name__iexact",)
    """No two rows are alike in these."""

    source = models.CharField("known from", max_length=160, blank=True)
    version = models.PositiveIntegerField(default=0)

    class Meta:
        abstract = True
