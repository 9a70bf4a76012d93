"""The person who signs in, the append-only record of what people changed, and which forms were sent just now."""

from django.conf import settings
from django.contrib.auth.models import AbstractUser
from django.db import models


class Role(models.TextChoices):
    """What a person may see and do."""

    OWNER = "owner", "Owner: everything"
    OFFICE = "office", "Office: prices, quotes, commissioners"
    BENCH = "bench", "Bench: the work, never a cost"


class User(AbstractUser):
    """Somebody of the studio."""

    first_name = None  # type: ignore[assignment]
    last_name = None  # type: ignore[assignment]
    shown_name = models.CharField("name", max_length=80)
    role = models.CharField(max_length=10, choices=Role.choices, default=Role.BENCH)

    REQUIRED_FIELDS = ["shown_name"]

    class Meta:
        ordering = ["shown_name"]

    def __str__(self) -> str:
        return self.shown_name or self.username

    def get_full_name(self) -> str:
        """The name as people say it."""
        return str(self)

    def get_short_name(self) -> str:
        """The first word of the name."""
        return str(self).split()[0]


class AuditQuerySet(models.QuerySet["AuditEntry"]):
    """Named reads of the record."""

    def about(self, subject: str) -> "AuditQuerySet":
        """Entries on one subject, newest first."""
        return self.filter(subject=subject).select_related("actor").order_by("-at", "-pk")


class AuditEntry(models.Model):
    """One change: who, when, what, before and after. Written in the transaction of the change; never altered."""

    LONGEST_ACT = 120

    at = models.DateTimeField(auto_now_add=True)
    actor = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    subject = models.CharField(max_length=60, help_text='What it concerns, "commission/12" or "price book".')
    act = models.CharField(max_length=LONGEST_ACT)
    before = models.JSONField(default=dict)
    after = models.JSONField(default=dict)
    has_money = models.BooleanField(default=False, help_text="Holds a cost or a rate; the bench does not see it.")

    objects = AuditQuerySet.as_manager()

    class Meta:
        indexes = [models.Index(fields=["subject", "-at"], name="audit_subject")]
        verbose_name_plural = "audit entries"

    def __str__(self) -> str:
        return f"{self.act} ({self.subject})"


class SentForm(models.Model):
    """A form that was sent: while it has no answer that leads on, somebody is at it. It goes after a day."""

    digest = models.CharField(max_length=64, unique=True, help_text="SHA-256 of who sent what to where.")
    at = models.DateTimeField(auto_now_add=True, db_index=True)
    leads_to = models.TextField(blank=True)

    def __str__(self) -> str:
        return f"{self.digest[:12]}, {self.at:%H:%M:%S}"
