"""The statement of account of a commission: what is kept back, what was asked for and what was paid.

What is owed follows from the accepted quote and the accepted variations; only
what happened to it is written here, in rows that are never altered.
"""

from decimal import Decimal

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from jobs.models.commissions import Commission

SHARE = [MinValueValidator(Decimal(0)), MaxValueValidator(Decimal("0.2"))]


class Retention(models.Model):
    """What the commissioner keeps back of every payment until the work has stood."""

    commission = models.OneToOneField(Commission, on_delete=models.PROTECT, related_name="retention")
    share = models.DecimalField("kept back", max_digits=5, decimal_places=4, default=0, validators=SHARE)
    version = models.PositiveIntegerField(default=0)

    def __str__(self) -> str:
        return f"{self.commission}: {self.share} kept back"


class Happened(models.TextChoices):
    """What an entry of the account says of a payment."""

    ASKED = "asked", "Asked for"
    PAID = "paid", "Paid"


class AccountEntry(models.Model):
    """One thing that happened to one payment; a mistake is taken back by a second row that names it."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="account")
    payment = models.CharField(max_length=40, help_text="Key of the payment in the statement.")
    label = models.CharField(max_length=160, help_text="What the payment was called then.")
    happened = models.CharField(max_length=5, choices=Happened.choices)
    on = models.DateField()
    amount_minor = models.BigIntegerField()
    currency = models.CharField(max_length=3)
    note = models.CharField(max_length=160, blank=True)
    reverses = models.OneToOneField("self", on_delete=models.PROTECT, null=True, blank=True, related_name="reversed_by")
    key = models.UUIDField(unique=True, help_text="Made with the form, so that sending it twice writes it once.")
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["on", "pk"]

    def __str__(self) -> str:
        return f"{self.label}: {self.get_happened_display().lower()} on {self.on}"
