"""What quotes and variations have in common: they go out, with a price and a PDF, and have rows that stand on it."""

import datetime
import hashlib

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from studio.accounts.models import User

STATE_WORDS = {
    "draft": "Draft",
    "issued": "Issued, not answered",
    "superseded": "Superseded by a later version",
    "lapsed": "Lapsed",
    "accepted": "Accepted",
    "declined": "Declined",
    "withdrawn": "Withdrawn",
}
"""What is said of each state that such a document can be in."""


class Issued(models.Model):
    """A document with a price. Without ``issued_at`` it is a draft; from then on nothing of it changes."""

    valid_days = models.PositiveSmallIntegerField(
        "valid for, days", validators=[MinValueValidator(1), MaxValueValidator(365)]
    )
    version = models.PositiveIntegerField(default=0, help_text="Counts the edits of the draft.")
    issued_at = models.DateTimeField(null=True)
    issued_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    valid_until = models.DateField(null=True)
    currency = models.CharField(max_length=3, blank=True)
    net_minor = models.BigIntegerField(null=True)
    tax_minor = models.BigIntegerField(null=True)
    gross_minor = models.BigIntegerField(null=True)
    cost_minor = models.BigIntegerField(null=True)
    pdf = models.BinaryField(null=True)
    pdf_sha256 = models.CharField(max_length=64, blank=True)

    class Meta:
        abstract = True

    def last_day(self, on: datetime.date) -> datetime.date:
        """The last day on which it can be accepted, if it goes out on a day."""
        return on + datetime.timedelta(days=self.valid_days)

    def has_lapsed(self, on: datetime.date) -> bool:
        """Whether the last day on which it could be accepted has passed."""
        return self.valid_until is not None and self.valid_until < on

    def go_out(self, *, by: User, at: datetime.datetime, on: datetime.date, pdf: bytes) -> None:
        """Be issued: by whom and when, until when it holds, and the document to the last byte."""
        self.issued_at, self.issued_by, self.valid_until = at, by, self.last_day(on)
        self.pdf, self.pdf_sha256 = pdf, hashlib.sha256(pdf).hexdigest()


class IssuedRow(models.Model):
    """One line of what such a document, or the build-up behind it, lists."""

    position = models.PositiveSmallIntegerField()
    label = models.CharField(max_length=160)

    class Meta:
        abstract = True
        ordering = ["position"]

    def __str__(self) -> str:
        return self.label
