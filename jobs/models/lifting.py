"""The slings that a studio owns, and the base that a commission stands on."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from jobs.models.commissions import Commission
from jobs.models.own_rows import OwnRow


class SlingKind(models.TextChoices):
    """What a sling is made of."""

    ROUND = "round", "Round sling"
    WEB = "web", "Flat web sling"
    ROPE = "rope", "Wire rope"
    CHAIN = "chain", "Chain"


class Sling(OwnRow):
    """One sling or set of legs, by the mark it carries."""

    called = "sling"
    told_apart_by = ("mark__iexact",)

    mark = models.CharField(max_length=40, unique=True)
    kind = models.CharField(max_length=5, choices=SlingKind.choices, default=SlingKind.ROUND)
    legs = models.PositiveSmallIntegerField(default=1, validators=[MinValueValidator(1), MaxValueValidator(4)])
    capacity_kg = models.FloatField(
        "working load limit of one leg, straight",
        help_text="As on its label, such as 1 t. A sling without a label is taken out of use.",
    )
    length_m = models.FloatField("working length of a leg")
    examined_until = models.DateField("next thorough examination", null=True, blank=True)

    class Meta:
        ordering = ["mark"]

    def __str__(self) -> str:
        return self.mark


class CommissionBase(models.Model):
    """The plate a commission stands on: its size, mass, holes and legs, as they were typed."""

    commission = models.OneToOneField(Commission, on_delete=models.CASCADE, related_name="base")
    length = models.CharField("length of the plate", max_length=40)
    width = models.CharField("width of the plate", max_length=40)
    thickness = models.CharField("thickness of the plate", max_length=40)
    mass = models.CharField("mass of the base", max_length=40)
    bolts = models.TextField(help_text="One hole a line: x, y and the bolt, in mm from the middle.")
    legs = models.TextField(blank=True, help_text="One leg a line: x, y, size in mm; lean and which way in degrees.")
    version = models.PositiveIntegerField(default=0)

    def __str__(self) -> str:
        return f"Base of {self.commission}"
