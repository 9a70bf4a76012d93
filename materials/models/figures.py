"""Every figure a studio may differ on: coefficients and norms of work.

Both are seeded from ``materials.estimator.reference`` and then belong to the
studio; the page shows the studio's figure beside the one it began with.
"""

from django.db import models

from materials.models.checked import Checked


class Figure(Checked):
    """One coefficient, with unit, usual range, source and the day of its last check."""

    key = models.SlugField(max_length=60, unique=True)
    topic = models.CharField(max_length=40)
    label = models.CharField(max_length=160)
    unit = models.CharField(max_length=20, blank=True)
    value = models.FloatField()
    low = models.FloatField()
    high = models.FloatField()
    evidence = models.CharField(max_length=20)
    source = models.CharField(max_length=300, blank=True)
    begun_with = models.FloatField(help_text="The value as delivered.")
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["topic", "label"]

    def __str__(self) -> str:
        return self.label


class WorkNorm(Checked):
    """Person-hours of one step, per what drives it, for one grade."""

    stage = models.CharField(max_length=12)
    step = models.CharField(max_length=40)
    grade = models.CharField(max_length=1, choices=[("A", "A"), ("B", "B"), ("C", "C")])
    per = models.CharField(max_length=10)
    low = models.FloatField()
    likely = models.FloatField()
    high = models.FloatField()
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["stage", "step", "grade"]
        constraints = [
            models.UniqueConstraint(fields=["stage", "step", "grade"], name="one_norm_a_step_and_grade"),
            models.CheckConstraint(
                condition=models.Q(low__gte=0)
                & models.Q(likely__gte=models.F("low"))
                & models.Q(high__gte=models.F("likely")),
                name="norm_low_likely_high_in_order",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.stage}: {self.step}, grade {self.grade}"
