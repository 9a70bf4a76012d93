"""How long a catalysed product stays workable, as its maker says: minutes by temperature and percentage."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from materials.models.catalogue import Item


class GelTime(models.Model):
    """One entry of a product's table; the table's version is its item's."""

    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="gel_times")
    temperature_c = models.FloatField("temperature", validators=[MinValueValidator(-10.0), MaxValueValidator(60.0)])
    percent = models.FloatField("percentage", validators=[MinValueValidator(0.1), MaxValueValidator(10)])
    minutes = models.FloatField("minutes to the gel", validators=[MinValueValidator(0.5), MaxValueValidator(1440.0)])

    class Meta:
        ordering = ["temperature_c", "percent"]
        constraints = [
            models.UniqueConstraint(
                fields=["item", "temperature_c", "percent"], name="one_gel_time_a_temperature_and_percentage"
            )
        ]

    def __str__(self) -> str:
        return f"{self.item}: {self.temperature_c:g} °C, {self.percent:g} %"
