"""The stores: lots as they came, and every movement of them.

A balance is the sum of its movements; a correction is a movement. The database
refuses to alter or remove a movement.
"""

from decimal import Decimal

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.utils import timezone

from materials.models.catalogue import Item


class Lot(models.Model):
    """One delivery of one item, with its batch."""

    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="lots")
    batch = models.CharField("batch number", max_length=60, blank=True)
    received = models.DateField()
    expires = models.DateField(null=True, blank=True)
    supplier = models.CharField(max_length=80, blank=True)
    cost_minor = models.BigIntegerField("cost before tax", validators=[MinValueValidator(0)])
    currency = models.CharField(max_length=3)

    class Meta:
        ordering = ["expires", "received", "pk"]

    def __str__(self) -> str:
        return f"{self.item} {self.batch or self.received}"


class MovementKind(models.TextChoices):
    """Why a quantity moved."""

    RECEIVED = "received", "Received"
    ISSUED = "issued", "Issued to a stage"
    RETURNED = "returned", "Returned from a stage"
    COUNTED = "counted", "Count"
    WRITTEN_OFF = "written_off", "Written off"
    SENT = "sent", "Sent with work that goes out"


class Movement(models.Model):
    """A quantity into a lot, or out of it with a minus, in the item's unit."""

    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="movements")
    kind = models.CharField(max_length=12, choices=MovementKind.choices)
    quantity = models.DecimalField(max_digits=14, decimal_places=4)
    value_minor = models.BigIntegerField(help_text="At the moving average of its moment; negative going out.")
    note = models.CharField(max_length=160, blank=True)
    key = models.UUIDField(unique=True, help_text="Made where it was booked, so that sending it twice books it once.")
    fingerprint = models.CharField(max_length=64)
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-at", "-pk"]
        indexes = [models.Index(fields=["lot", "at"], name="movements_lot_at")]
        constraints = [models.CheckConstraint(condition=~models.Q(quantity=0), name="movement_moves_something")]

    def __str__(self) -> str:
        return f"{self.lot}: {self.quantity} {self.kind}"

    @property
    def amount(self) -> Decimal:
        """How much moved, either way."""
        return abs(self.quantity)
