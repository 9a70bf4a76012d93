"""The catalogue and its price book.

An item is anything that has a price: a material, an hour, a sent-out service.
Its prices hang on its packs and hold from a day on; the price of a day is the
newest that has begun.
"""

import datetime

from django.core.validators import MinValueValidator, RegexValidator
from django.db import models

from materials.models.checked import is_due


class ItemKind(models.TextChoices):
    """What sort of thing is priced."""

    RESIN = "resin", "Resin and gel coat"
    GLASS = "glass", "Glass"
    CATALYST = "catalyst", "Catalyst and hardener"
    FOAM = "foam", "Foam"
    FILLER = "filler", "Filler"
    COATING = "coating", "Barrier, primer and paint"
    RELEASE = "release", "Release"
    FIXING = "fixing", "Bolts and fixings"
    METAL = "metal", "Metal"
    TIMBER = "timber", "Timber and board"
    CONSUMABLE = "consumable", "Consumable"
    HOUR = "hour", "Hour"
    SERVICE = "service", "Sent-out service"


UNITS = [
    (u, label)
    for u, label in (
        ("kg", "kg"),
        ("m2", "m²"),
        ("m3", "m³"),
        ("l", "litre"),
        ("ml", "ml"),
        ("m", "m"),
        ("h", "hour"),
        ("each", "each"),
    )
]


class Item(models.Model):
    """One thing that the price book prices."""

    key = models.SlugField(
        max_length=60,
        unique=True,
        validators=[
            RegexValidator(r"^[a-z][a-z0-9_]*$", "Use small letters, digits and underscores, beginning with a letter.")
        ],
        help_text="The name that a take-off uses, such as glass_csm_450.",
    )
    name = models.CharField(max_length=120)
    kind = models.CharField(max_length=12, choices=ItemKind.choices)
    unit = models.CharField(max_length=5, choices=UNITS)
    density_kg_m3 = models.FloatField("density", null=True, blank=True, validators=[MinValueValidator(1.0)])
    supplier = models.CharField(max_length=80, blank=True)
    lead_days = models.PositiveSmallIntegerField(default=0)
    shelf_life_days = models.PositiveSmallIntegerField(null=True, blank=True)
    gel_times_from = models.CharField("gel times known from", max_length=160, blank=True)
    gel_times_checked_on = models.DateField(null=True, blank=True)
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["kind", "name"]

    def __str__(self) -> str:
        return self.name

    @property
    def gel_times_are_due(self) -> bool:
        """Whether its gel times are due for a check."""
        return is_due(self.gel_times_checked_on)


class Pack(models.Model):
    """A size in which an item is sold."""

    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="packs")
    label = models.CharField(max_length=60, help_text='As the supplier calls it, "25 kg drum".')
    quantity = models.DecimalField(max_digits=12, decimal_places=4, validators=[MinValueValidator(0.0001)])

    class Meta:
        ordering = ["quantity"]
        constraints = [
            models.UniqueConstraint(fields=["item", "quantity"], name="one_pack_a_size"),
            models.CheckConstraint(condition=models.Q(quantity__gt=0), name="pack_holds_something"),
        ]

    def __str__(self) -> str:
        return f"{self.item} {self.label}"


class PriceQuerySet(models.QuerySet["Price"]):
    """Named reads of the price book."""

    def on(self, day: datetime.date) -> "PriceQuerySet":
        """The price of each pack on a day: of those that have begun, the newest."""
        newest = (
            Price.objects.filter(pack=models.OuterRef("pack"), valid_from__lte=day)
            .order_by("-valid_from")
            .values("pk")[:1]
        )
        return self.filter(pk=models.Subquery(newest))


class Price(models.Model):
    """What one pack costs, before tax, from a day on."""

    pack = models.ForeignKey(Pack, on_delete=models.CASCADE, related_name="prices")
    valid_from = models.DateField()
    amount_minor = models.BigIntegerField(
        validators=[MinValueValidator(0)], help_text="In the currency's smallest unit."
    )

    objects = PriceQuerySet.as_manager()

    class Meta:
        ordering = ["-valid_from"]
        constraints = [
            models.UniqueConstraint(fields=["pack", "valid_from"], name="one_price_a_day"),
            models.CheckConstraint(condition=models.Q(amount_minor__gte=0), name="price_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.pack} from {self.valid_from}"
