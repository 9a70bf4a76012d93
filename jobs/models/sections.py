"""A section: a part of the sculpture patterned, moulded and cast as one.

Lengths are kept as they were typed, with their unit; ``jobs.specs`` reads them.
So nothing typed is lost, and the same reading serves pages and scripts.
"""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from jobs.models.commissions import Commission


class Shape(models.TextChoices):
    """The shapes known by their dimensions, and what is cut from a model."""

    SPHERE = "sphere", "Sphere"
    ELLIPSOID = "ellipsoid", "Ellipsoid"
    SUPERELLIPSOID = "superellipsoid", "Superellipsoid (between box and egg)"
    CYLINDER = "cylinder", "Cylinder"
    FRUSTUM = "frustum", "Frustum (tapered round)"
    BOX = "box", "Box"
    TORUS = "torus", "Torus (ring)"
    CAP = "cap", "Spherical cap (dome)"
    PRISM = "prism", "Prism from a polygon"
    TURNED = "turned", "Turned (pear, lamp, vase)"
    MEASURED = "measured", "Measured: area, volume, extents"
    MESH = "mesh", "From a model"


class PatternMethod(models.TextChoices):
    """Who shapes the foam."""

    CARVED = "carved", "Carved here"
    MILLED = "milled", "Milled elsewhere"


class Section(models.Model):
    """One section, by its dimensions, and how it is to be made."""

    GRADES = [("A", "A: gallery gloss"), ("B", "B: public art, painted"), ("C", "C: set or textured")]

    commission = models.ForeignKey(Commission, on_delete=models.CASCADE, related_name="sections")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=60)
    shape = models.CharField(max_length=16, choices=Shape.choices)
    dimensions = models.JSONField(default=dict, help_text="By the shape's own names, as typed.")
    scale_from = models.CharField("size on the maquette", max_length=40, blank=True)
    scale_to = models.CharField("same size full scale", max_length=40, blank=True)
    count = models.PositiveSmallIntegerField(
        "how many, each with its own pattern", default=1, validators=[MinValueValidator(1), MaxValueValidator(50)]
    )
    mirrored = models.BooleanField("left and right", default=False)
    grade = models.CharField(max_length=1, choices=GRADES, default="B")
    stand = models.CharField("height of its foot above the ground", max_length=40, blank=True)
    offset = models.CharField("sideways from the middle", max_length=40, blank=True)

    pattern_method = models.CharField(
        "pattern", max_length=8, choices=PatternMethod.choices, default=PatternMethod.CARVED
    )
    block = models.CharField("foam block or board", max_length=60, blank=True, help_text="Three sides as typed.")
    filler = models.CharField("filler thickness", max_length=40, blank=True)

    pieces = models.PositiveSmallIntegerField(
        "mould pieces", default=2, validators=[MinValueValidator(1), MaxValueValidator(60)]
    )
    seam = models.CharField("length of seams", max_length=40, blank=True)
    return_width = models.CharField("width of returns", max_length=40, blank=True)
    mould_lay_up = models.ForeignKey(
        "materials.LayUp", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    pulls = models.PositiveSmallIntegerField(
        "casts from the mould", default=1, validators=[MinValueValidator(1), MaxValueValidator(500)]
    )
    cast_lay_up = models.ForeignKey(
        "materials.LayUp", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    strip_width = models.CharField("width of joining strips", max_length=40, blank=True)
    strip_layers = models.PositiveSmallIntegerField(
        "layers of joining strips", null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(12)]
    )

    paint_system = models.ForeignKey(
        "materials.PaintSystem", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    metal = models.CharField("steel inside", max_length=40, blank=True)
    metal_height = models.CharField("height of the steel above the foot", max_length=40, blank=True)
    metal_offset = models.CharField("steel sideways from the middle", max_length=40, blank=True)
    crated = models.BooleanField("goes into a crate", default=True)
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [models.UniqueConstraint(fields=["commission", "name"], name="one_section_a_name")]

    def __str__(self) -> str:
        return self.name

    @property
    def casts(self) -> int:
        """How many casts there are in all, left and right counted."""
        return self.count * (2 if self.mirrored else 1) * self.pulls
