"""Lay-ups and paint systems: what lies on a square metre, layer by layer."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from materials.models.checked import Checked


class LayUpUse(models.TextChoices):
    """Where a lay-up belongs."""

    MOULD = "mould", "Mould"
    CAST = "cast", "Cast"


class LayUp(Checked):
    """Gel coat and plies, from the face inwards."""

    name = models.CharField(max_length=60, unique=True)
    use = models.CharField(max_length=5, choices=LayUpUse.choices)
    gel_coat_kg_m2 = models.FloatField("gel coat", validators=[MinValueValidator(0.0), MaxValueValidator(3.0)])
    return_extra_layers = models.PositiveSmallIntegerField(
        "extra layers on the returns", default=0, validators=[MaxValueValidator(10)]
    )
    is_default = models.BooleanField("used where nothing else is said", default=False)
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["use", "name"]
        constraints = [
            models.UniqueConstraint(
                fields=["use"], condition=models.Q(is_default=True), name="one_default_lay_up_a_use"
            )
        ]

    def __str__(self) -> str:
        return self.name


class LayUpPly(models.Model):
    """Equal layers of one glass within a lay-up."""

    KINDS = [
        ("csm", "Chopped strand mat"),
        ("woven", "Woven roving"),
        ("stitched", "Stitched"),
        ("tissue", "Surface tissue"),
    ]

    lay_up = models.ForeignKey(LayUp, on_delete=models.CASCADE, related_name="plies")
    position = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=8, choices=KINDS)
    weight_kg_m2 = models.FloatField("dry weight", validators=[MinValueValidator(0.02), MaxValueValidator(2.0)])
    glass_fraction = models.FloatField(validators=[MinValueValidator(0.1), MaxValueValidator(0.7)])
    layers = models.PositiveSmallIntegerField(default=1, validators=[MinValueValidator(1), MaxValueValidator(40)])

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["lay_up", "position"], name="one_ply_a_position")]

    def __str__(self) -> str:
        return f"{self.layers} × {self.weight_kg_m2 * 1000:.0f} g/m² {self.kind}"


class PaintSystem(Checked):
    """Coats in order, from primer to clear."""

    name = models.CharField(max_length=60, unique=True)
    description = models.CharField(max_length=200, blank=True, help_text="As a commissioner would read it.")
    default_grade = models.CharField(
        "used for grade, where nothing else is said",
        max_length=1,
        blank=True,
        choices=[("A", "A"), ("B", "B"), ("C", "C")],
    )
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                fields=["default_grade"], condition=~models.Q(default_grade=""), name="one_default_paint_system_a_grade"
            )
        ]

    def __str__(self) -> str:
        return self.name


class PaintCoat(models.Model):
    """One paint of a system."""

    KINDS = [
        ("primer", "Primer"),
        ("filler_primer", "High-build primer"),
        ("topcoat", "Topcoat"),
        ("clearcoat", "Clear coat"),
    ]

    system = models.ForeignKey(PaintSystem, on_delete=models.CASCADE, related_name="coats")
    position = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=14, choices=KINDS)
    volume_solids = models.FloatField(validators=[MinValueValidator(0.05), MaxValueValidator(1.0)])
    dry_film_um = models.FloatField(
        "dry film of a coat", validators=[MinValueValidator(5.0), MaxValueValidator(2000.0)]
    )
    coats = models.PositiveSmallIntegerField(default=1, validators=[MinValueValidator(1), MaxValueValidator(12)])
    loss = models.FloatField("application loss", validators=[MinValueValidator(0.0), MaxValueValidator(0.9)])
    hardener_per_base = models.FloatField(default=0.0, validators=[MinValueValidator(0.0), MaxValueValidator(5.0)])
    thinner = models.FloatField(default=0.0, validators=[MinValueValidator(0.0), MaxValueValidator(1.0)])

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["system", "position"], name="one_coat_a_position")]

    def __str__(self) -> str:
        return f"{self.coats} × {self.get_kind_display()}"
