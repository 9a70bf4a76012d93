"""The hand-over record that stays with the piece, frozen when it is issued, and what happens to the piece later."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone

from jobs.models.commissions import Commission
from jobs.models.links import Link
from jobs.models.looks import Photo


class HandOverQuerySet(models.QuerySet["HandOver"]):
    """Named reads of hand-over records; what is large stays behind."""

    def issued(self) -> "HandOverQuerySet":
        """Those that were issued, newest first."""
        return self.filter(issued_at__isnull=False).defer("pdf").order_by("-number")


class HandOver(models.Model):
    """One version of the record. Without ``issued_at`` it is the draft, of which there is one at most."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="hand_overs")
    number = models.PositiveSmallIntegerField()
    handed_to = models.CharField("handed over to", max_length=120)
    handed_on = models.DateField("handed over on")
    mass = models.TextField()
    balance = models.TextField(blank=True)
    lifting = models.TextField("lifting points", blank=True)
    fixings = models.TextField(blank=True)
    paint = models.TextField("paint system, with references", blank=True)
    care = models.TextField(blank=True)
    inspect_months = models.PositiveSmallIntegerField(
        "months between inspections", validators=[MinValueValidator(1), MaxValueValidator(120)]
    )
    repairs = models.TextField("how it is repaired", blank=True)
    cautions = models.TextField(blank=True)
    photos = models.ManyToManyField(Photo, blank=True, related_name="+")
    version = models.PositiveIntegerField(default=0)

    issued_at = models.DateTimeField(null=True)
    issued_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    sheet = models.JSONField(default=dict, help_text="The record as values.")
    sha256 = models.CharField(max_length=64, blank=True, help_text="Of the sheet.")
    pdf = models.BinaryField(null=True)
    pdf_sha256 = models.CharField(max_length=64, blank=True)

    objects = HandOverQuerySet.as_manager()

    class Meta:
        ordering = ["commission", "-number"]
        constraints = [
            models.UniqueConstraint(fields=["commission", "number"], name="one_hand_over_a_number"),
            models.UniqueConstraint(
                fields=["commission"], condition=models.Q(issued_at__isnull=True), name="one_hand_over_in_draft"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.commission.number} hand-over record {self.number}"


class Fate(models.TextChoices):
    """What happened to a piece."""

    MOVED = "moved", "Moved"
    INSPECTED = "inspected", "Inspected"
    REPAIRED = "repaired", "Repaired"
    NOTED = "noted", "Noted"


class PieceEvent(models.Model):
    """Something that happened to the piece after it left; never altered, a mistake is noted in another."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="piece_events")
    kind = models.CharField("what happened", max_length=10, choices=Fate.choices)
    on = models.DateField("on")
    place = models.CharField("where it stands from then on", max_length=200, blank=True)
    by_whom = models.CharField("who did it", max_length=120)
    words = models.TextField("what was done or found")
    recorded_at = models.DateTimeField(default=timezone.now)
    recorded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-on", "-pk"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.on}"


class PieceNote(models.Model):
    """What whoever looks after the piece tells the studio; nobody outside reads it before the office has kept it."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="piece_notes")
    link = models.ForeignKey(Link, on_delete=models.PROTECT, related_name="+")
    name = models.CharField("who tells it", max_length=120)
    words = models.TextField("what was seen or done")
    at = models.DateTimeField(default=timezone.now)
    settled_at = models.DateTimeField(null=True)
    settled_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    event = models.OneToOneField(PieceEvent, on_delete=models.PROTECT, null=True, related_name="note")

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return f"{self.name}, {timezone.localdate(self.at)}"
