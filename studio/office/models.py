"""The studio's own settings: one row, and the tax rates with their dates."""

import datetime
from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models


class Units(models.TextChoices):
    """The units that pages show."""

    METRIC = "metric", "Metric: m, m², kg, litres"
    US = "us", "US customary: ft and in, sq ft, lb, gallons"


class PackMode(models.TextChoices):
    """How materials are charged."""

    PACKS = "packs", "By whole packs"
    PRO_RATA = "pro_rata", "Pro rata, at the price per unit of the pack"


class ProfitKind(models.TextChoices):
    """Margin is a share of the price, mark-up a share of the cost."""

    MARGIN = "margin", "Margin: a share of the price"
    MARKUP = "markup", "Mark-up: a share of the cost"


class House(models.Model):
    """The studio: what stands on its documents and how it counts. There is one row."""

    name = models.CharField(max_length=80, default="Your studio")
    address = models.TextField(blank=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    registration = models.CharField("company and tax numbers", max_length=160, blank=True)

    currency = models.CharField(max_length=3, default="GBP", help_text="ISO 4217 code.")
    units = models.CharField("units shown", max_length=10, choices=Units.choices, default=Units.METRIC)
    tax_name = models.CharField(max_length=20, default="VAT")
    country = models.CharField(max_length=2, default="GB", help_text="ISO 3166 code, for public holidays.")
    region = models.CharField(
        max_length=10, blank=True, default="ENG", help_text="Part of the country, if its holidays differ."
    )
    working_days = models.JSONField(default=list, help_text="Weekdays worked, Monday is 0.")
    hours_per_day = models.DecimalField(
        max_digits=4,
        decimal_places=2,
        default=Decimal("7.5"),
        validators=[MinValueValidator(Decimal("0.5")), MaxValueValidator(24)],
    )
    bench_crew = models.PositiveSmallIntegerField(
        "people on one commission", default=3, validators=[MinValueValidator(1)]
    )

    pack_mode = models.CharField("materials charged", max_length=10, choices=PackMode.choices, default=PackMode.PACKS)
    profit_kind = models.CharField(
        "profit counted as", max_length=10, choices=ProfitKind.choices, default=ProfitKind.MARGIN
    )
    payment_stages = models.JSONField(default=list, help_text="Label and share of each stage payment; shares sum to 1.")
    quote_valid_days = models.PositiveSmallIntegerField(
        default=30, validators=[MinValueValidator(1), MaxValueValidator(365)]
    )

    included = models.TextField(blank=True)
    assumed = models.TextField(blank=True)
    excluded = models.TextField(blank=True)
    approvals = models.TextField(blank=True)
    care = models.TextField(blank=True)
    terms = models.TextField(blank=True)

    is_demo = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=0)

    class Meta:
        verbose_name_plural = "house"
        constraints = [models.CheckConstraint(condition=models.Q(pk=1), name="house_is_one_row")]

    def __str__(self) -> str:
        return self.name


class TaxCategory(models.Model):
    """A kind of supply taxed alike: standard, reduced, zero."""

    name = models.CharField(max_length=40, unique=True)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["position", "pk"]
        verbose_name_plural = "tax categories"

    def __str__(self) -> str:
        return self.name

    def rate_on(self, on: datetime.date) -> Decimal:
        """The rate in force on a day, as a share; 0 before the first."""
        row = self.rates.filter(valid_from__lte=on).order_by("-valid_from").first()
        return row.rate if row else Decimal(0)


class TaxRate(models.Model):
    """The rate of a category from a day on."""

    category = models.ForeignKey(TaxCategory, on_delete=models.CASCADE, related_name="rates")
    rate = models.DecimalField(max_digits=6, decimal_places=5, validators=[MinValueValidator(0), MaxValueValidator(1)])
    valid_from = models.DateField()

    class Meta:
        ordering = ["-valid_from"]
        constraints = [models.UniqueConstraint(fields=["category", "valid_from"], name="one_tax_rate_a_day")]

    def __str__(self) -> str:
        return f"{self.category} {self.rate} from {self.valid_from}"
