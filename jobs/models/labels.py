"""The sheets of labels that a studio buys."""

from django.core.validators import MinValueValidator
from django.db import models

from jobs.models.own_rows import OwnRow


class LabelPaper(models.TextChoices):
    """What the labels come on."""

    A4 = "a4", "A4"
    LETTER = "letter", "Letter"


class LabelStock(OwnRow):
    """One make of label sheet, by its measures; ``jobs.delivery.label_sheets`` says what they mean."""

    called = "sheet of labels"

    name = models.CharField(max_length=60, unique=True)
    paper = models.CharField(max_length=6, choices=LabelPaper.choices, default=LabelPaper.A4)
    columns = models.PositiveSmallIntegerField("labels across", validators=[MinValueValidator(1)])
    rows = models.PositiveSmallIntegerField("labels down", validators=[MinValueValidator(1)])
    width_mm = models.FloatField("width of a label, mm")
    height_mm = models.FloatField("height of a label, mm")
    left_mm = models.FloatField("from the paper's left edge to the first label, mm")
    top_mm = models.FloatField("from the paper's top edge to the first label, mm")
    across_mm = models.FloatField("from a label's left edge to the next one's, mm")
    down_mm = models.FloatField("from a label's top edge to the next one's, mm")

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name
