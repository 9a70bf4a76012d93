"""Hours: an append-only ledger, and the clocks that are running.

A correction is a second row that names the first and takes its minutes back;
the balance is a sum. The database refuses to alter or remove an entry.
"""

from django.conf import settings
from django.db import models

from jobs.models.stages import Stage


class HourEntry(models.Model):
    """Minutes of one person on one stage on one day; negative where it takes another back."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="hour_entries")
    stage = models.ForeignKey(Stage, on_delete=models.PROTECT, related_name="hour_entries")
    work_date = models.DateField()
    minutes = models.IntegerField()
    reverses = models.OneToOneField("self", on_delete=models.PROTECT, null=True, blank=True, related_name="reversed_by")
    note = models.CharField(max_length=160, blank=True)
    key = models.UUIDField(unique=True, help_text="Made where it was booked, so that sending it twice books it once.")
    fingerprint = models.CharField(max_length=64, help_text="Of what was sent under the key.")
    booked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    booked_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-booked_at", "-pk"]
        indexes = [
            models.Index(fields=["person", "work_date"], name="hours_person_day"),
            models.Index(fields=["stage", "work_date"], name="hours_stage_day"),
        ]
        constraints = [
            models.CheckConstraint(
                condition=(models.Q(reverses__isnull=True) & models.Q(minutes__gt=0))
                | (models.Q(reverses__isnull=False) & models.Q(minutes__lt=0)),
                name="hours_positive_or_a_reversal",
            )
        ]

    def __str__(self) -> str:
        return f"{self.person}, {self.stage}: {self.minutes} min on {self.work_date}"


class Clock(models.Model):
    """A clock that is running; one a person. The server's time counts, so that a dead phone loses nothing."""

    person = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="clock")
    stage = models.ForeignKey(Stage, on_delete=models.PROTECT, related_name="+")
    started_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.person} on {self.stage} since {self.started_at}"
