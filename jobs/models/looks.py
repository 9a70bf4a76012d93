"""What people saw: photos of the work, and snags found on it."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from jobs.models.commissions import Commission
from jobs.models.sections import Section
from jobs.models.stages import Stage


class Photo(models.Model):
    """A photo, kept as it was made again here: upright, without place or camera."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="photos")
    stage = models.ForeignKey(Stage, on_delete=models.PROTECT, null=True, blank=True, related_name="photos")
    sha256 = models.CharField(max_length=64)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    caption = models.CharField(max_length=160, blank=True)
    for_commissioner = models.BooleanField("the commissioner may see it", default=False)
    shown_at = models.DateTimeField("shown to the commissioner since", null=True, blank=True)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [models.UniqueConstraint(fields=["commission", "sha256"], name="one_photo_a_commission")]

    def __str__(self) -> str:
        return self.caption or f"Photo {self.pk}"


class SnagGrade(models.TextChoices):
    """How bad a snag is."""

    SLIGHT = "slight", "Slight: in passing"
    PLAIN = "plain", "Plain: before it goes on"
    GRAVE = "grave", "Grave: stops the stage"


class Snag(models.Model):
    """A fault found on a section; somebody else than who mended it closes it."""

    SHARE = [MinValueValidator(0.0), MaxValueValidator(1.0)]

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="snags")
    section = models.ForeignKey(Section, on_delete=models.PROTECT, related_name="snags")
    what = models.CharField(max_length=300)
    grade = models.CharField(max_length=6, choices=SnagGrade.choices, default=SnagGrade.PLAIN)
    x = models.FloatField(
        null=True, blank=True, validators=SHARE, help_text="Across the outline drawing, from the left."
    )
    y = models.FloatField(null=True, blank=True, validators=SHARE, help_text="Down the outline drawing, from the top.")
    minutes = models.PositiveIntegerField("minutes to put right", default=0)
    found_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    found_at = models.DateTimeField(auto_now_add=True)
    mended_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    mended_at = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    closed_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["closed_at", "-found_at"]

    def __str__(self) -> str:
        return self.what
