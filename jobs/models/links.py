"""Links: addresses that let one named receiver in without signing in. The token itself is kept nowhere."""

import datetime

from django.conf import settings
from django.db import models
from django.utils import timezone

from jobs.models.commissions import Commission


class LinkKind(models.TextChoices):
    """What a link opens."""

    PROGRESS = "progress", "Progress"
    SIGN_OFF = "sign_off", "Sign-off"
    VARIATION = "variation", "Variation"
    STATEMENT = "statement", "Statement of account"
    PIECE = "piece", "The piece's own record"
    CALENDAR = "calendar", "Calendar"


class Link(models.Model):
    """One link for one receiver; of the studio's whole calendar where there is neither commission nor person."""

    kind = models.CharField(max_length=10, choices=LinkKind.choices)
    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, null=True, blank=True, related_name="links")
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="links"
    )
    variation = models.ForeignKey(
        "jobs.Variation", on_delete=models.PROTECT, null=True, blank=True, related_name="links"
    )
    sign_off = models.ForeignKey(
        "SignOff", on_delete=models.PROTECT, null=True, blank=True, related_name="links", help_text="What it asks."
    )
    receiver = models.CharField(max_length=120)
    token_hash = models.CharField(max_length=64, unique=True, help_text="SHA-256 of the token, in hexadecimal.")
    shows_documents = models.BooleanField("the quote may be downloaded", default=False)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    expires_on = models.DateField("last day on which it opens", null=True, blank=True)
    revoked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    revoked_at = models.DateTimeField(null=True, blank=True)
    last_opened_at = models.DateTimeField(null=True, blank=True)
    visit_before_at = models.DateTimeField(
        "last opened on an earlier day", null=True, blank=True, help_text="What came after it is news."
    )

    class Meta:
        ordering = ["-made_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} for {self.receiver}"

    @property
    def subject(self) -> str:
        """What audit entries about this link are filed under."""
        return self.commission.subject if self.commission else "calendars"

    def is_over(self, at: datetime.datetime) -> bool:
        """Whether its last day has passed."""
        return self.expires_on is not None and self.expires_on < timezone.localdate(at)

    @property
    def is_over_now(self) -> bool:
        """Whether its last day has passed now."""
        return self.is_over(timezone.now())

    def opens(self, at: datetime.datetime) -> bool:
        """Whether it lets somebody in at a moment; a person's calendar goes when the person does."""
        left = self.person is not None and not self.person.is_active
        return self.revoked_at is None and not self.is_over(at) and not left


class WrongTries(models.Model):
    """How many tokens that open nothing came from one address since a moment; it goes after a while."""

    address = models.CharField(max_length=45, unique=True)
    since = models.DateTimeField()
    count = models.PositiveIntegerField()

    def __str__(self) -> str:
        return f"{self.address}: {self.count}"
