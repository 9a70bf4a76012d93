"""What a crate has to pass on its way: doors, vans and lorries, and the limits of the road.

A studio puts in its own; the values that the delivery room reckons with are
made of these rows by ``jobs.queries.sending``.
"""

from django.db import models

from jobs.models.own_rows import OwnRow


class Doorway(OwnRow):
    """A door, gate or lift by its clear opening."""

    called = "door"

    name = models.CharField(max_length=60, unique=True)
    width_m = models.FloatField("clear width")
    height_m = models.FloatField("clear height")

    class Meta:
        ordering = ["width_m", "pk"]

    def __str__(self) -> str:
        return self.name


class Transport(OwnRow):
    """A van, lorry or container; without a door the load is lifted on, or the whole side opens."""

    called = "vehicle"

    name = models.CharField(max_length=60, unique=True)
    length_m = models.FloatField("length inside")
    width_m = models.FloatField("width inside")
    height_m = models.FloatField("height inside")
    door_width_m = models.FloatField("width of its door", null=True, blank=True)
    door_height_m = models.FloatField("height of its door", null=True, blank=True)
    payload_kg = models.FloatField("payload")
    deck_m = models.FloatField("floor above the road")
    overall_width_m = models.FloatField("overall width")
    is_open = models.BooleanField("open: the load may stand out", default=False)

    class Meta:
        ordering = ["is_open", "payload_kg", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(door_width_m__isnull=True, door_height_m__isnull=True)
                | models.Q(door_width_m__isnull=False, door_height_m__isnull=False),
                name="a_door_has_both_measures",
            )
        ]

    def __str__(self) -> str:
        return self.name


class RoadLimit(OwnRow):
    """One step of a limit on the road: what is measured, beyond how much, and what is then to be done."""

    called = "limit of the road"
    told_apart_by = ("measure", "above_m")

    measure = models.CharField(max_length=8)
    above_m = models.FloatField("beyond")
    action = models.CharField("what is to be done", max_length=200)

    class Meta:
        ordering = ["measure", "above_m"]
        constraints = [models.UniqueConstraint(fields=["measure", "above_m"], name="one_limit_a_step")]

    def __str__(self) -> str:
        return f"{self.measure} beyond {self.above_m:g} m"
