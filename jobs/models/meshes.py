"""Models that a commission is priced from, and the planes that part them.

Sizes are kept as they were typed. What was measured is kept as numbers, so that
no page reads a file again; a section made of it carries its own copy.
"""

from pathlib import Path

from django.conf import settings
from django.db import models

from jobs.models.commissions import Commission


class Up(models.TextChoices):
    """Which of the file's axes points up."""

    Z = "z", "z, as most programs for making"
    Y = "y", "y, as most programs for showing"
    X = "x", "x"
    MINUS_Z = "-z", "−z, upside down"
    MINUS_Y = "-y", "−y"
    MINUS_X = "-x", "−x"


class FileUnit(models.TextChoices):
    """What the file's numbers count."""

    MM = "mm", "millimetres"
    CM = "cm", "centimetres"
    M = "m", "metres"
    IN = "in", "inches"
    FT = "ft", "feet"


class CommissionModel(models.Model):
    """One model, how it stands, and what was found."""

    commission = models.ForeignKey(Commission, on_delete=models.CASCADE, related_name="models")
    name = models.CharField(max_length=60)
    file = models.ForeignKey("materials.ModelFile", on_delete=models.PROTECT, related_name="+")
    file_name = models.CharField(max_length=200, help_text="As it was sent; the same bytes may have come before.")
    unit = models.CharField("unit of the file", max_length=4, choices=FileUnit.choices, blank=True)
    height = models.CharField("finished height", max_length=40, blank=True)
    up = models.CharField("axis that points up", max_length=2, choices=Up.choices, blank=True)
    holes = models.CharField("holes to close, up to", max_length=40, blank=True)

    raw = models.JSONField(default=dict, help_text="What the file itself says: extents, unit, up.")
    figures = models.JSONField(default=dict, help_text="What was measured; empty until it is.")
    cut = models.JSONField(default=dict, help_text="The sections; empty until they are cut.")
    cut_problem = models.TextField(blank=True)
    suggested = models.JSONField(default=dict, help_text="Planes offered and what they are for.")
    preview = models.CharField(max_length=64, blank=True, help_text="Digest of what the turning view shows.")
    preview_parts = models.JSONField(default=list, help_text="Triangles of each section in it, in order.")
    work = models.ForeignKey("tasks.Work", on_delete=models.SET_NULL, null=True, related_name="+")
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["commission", "name"], name="one_model_a_name")]

    def __str__(self) -> str:
        return self.name

    @property
    def preview_path(self) -> Path:
        """Where the turning view's numbers are."""
        return preview_path(self.preview)


def preview_path(digest: str) -> Path:
    """Where the numbers of a turning view are kept."""
    return Path(settings.MEDIA_ROOT) / "models" / f"view-{digest}"


class PlaneKind(models.TextChoices):
    """How a parting plane was given."""

    AXIS = "axis", "Across an axis"
    POINTS = "points", "Through three points"
    NORMAL = "normal", "By normal and offset"


class PartingPlane(models.Model):
    """One plane right through the model, or through one of its sections to part its mould."""

    model = models.ForeignKey(CommissionModel, on_delete=models.CASCADE, related_name="planes")
    section = models.CharField(max_length=4, blank=True, help_text="Number of the section it parts; blank for all.")
    kind = models.CharField(max_length=6, choices=PlaneKind.choices)
    typed = models.CharField(max_length=200, help_text="As it was given.")
    normal = models.JSONField(help_text="Unit vector, three numbers.")
    offset_m = models.FloatField()

    class Meta:
        ordering = ["section", "pk"]

    def __str__(self) -> str:
        return self.typed
