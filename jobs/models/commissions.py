"""A commission: what was asked for, by whom, for where."""

import datetime
from decimal import Decimal

from django.core.validators import MinValueValidator
from django.db import models

from jobs.queries import CommissionQuerySet


class CommissionState(models.TextChoices):
    """How far a commission has come."""

    ENQUIRY = "enquiry", "Enquiry"
    QUOTED = "quoted", "Quoted"
    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"
    DONE = "done", "Handed over"


class Commission(models.Model):
    """One job, numbered by year."""

    number = models.CharField(max_length=10, unique=True, help_text='Year and count, "26-014".')
    title = models.CharField(max_length=120)
    commissioner = models.CharField(max_length=120)
    contact = models.CharField("contact person", max_length=120, blank=True)
    email = models.EmailField(blank=True)
    address = models.TextField(blank=True)
    place = models.CharField("where it will stand", max_length=200, blank=True)
    description = models.TextField(blank=True)
    colour = models.CharField(
        "colours, with system and reference", max_length=200, blank=True, help_text='For example "RAL 6011, RAL 1015".'
    )
    model_revision = models.CharField("drawing or model priced", max_length=120, blank=True)
    needed_by = models.DateField("needed by, as first agreed", null=True, blank=True)
    days_varied = models.SmallIntegerField(
        default=0, editable=False, help_text="By how much accepted variations move the day; kept as they are accepted."
    )
    site_from = models.DateField("the site takes it from", null=True, blank=True)
    site_until = models.DateField("the site takes it until", null=True, blank=True)
    site_shut = models.JSONField(default=list, blank=True, help_text="Days on which the site takes nothing, as dates.")
    state = models.CharField(max_length=10, choices=CommissionState.choices, default=CommissionState.ENQUIRY)
    tax_category = models.ForeignKey("office.TaxCategory", on_delete=models.PROTECT, related_name="+")
    search_text = models.TextField(
        editable=False, default="", help_text="Folded words, because the databases fold case unlike each other."
    )
    created_at = models.DateTimeField(auto_now_add=True)
    version = models.PositiveIntegerField(default=0)

    objects = CommissionQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"

    @property
    def due_by(self) -> datetime.date | None:
        """The day it is needed by, moved by what was agreed since."""
        return None if self.needed_by is None else self.needed_by + datetime.timedelta(days=self.days_varied)

    @property
    def last_day(self) -> datetime.date | None:
        """The last day on which it is in time: the day it is needed by, or the last on which the site takes it."""
        return min((day for day in (self.due_by, self.site_until) if day is not None), default=None)

    @property
    def has_window(self) -> bool:
        """Whether the site takes it on some days and not on others."""
        return bool(self.site_from or self.site_until or self.site_shut)

    @property
    def shut_days(self) -> tuple[datetime.date, ...]:
        """The days on which the site takes nothing."""
        return tuple(datetime.date.fromisoformat(day) for day in self.site_shut)

    @property
    def subject(self) -> str:
        """What audit entries about this commission are filed under."""
        return f"commission/{self.pk}"


class Extra(models.Model):
    """Work or goods that no section's take-off gives: haulage, an engineer, install hours."""

    commission = models.ForeignKey(Commission, on_delete=models.CASCADE, related_name="extras")
    item = models.ForeignKey("materials.Item", on_delete=models.PROTECT, related_name="+")
    label = models.CharField(max_length=120)
    quantity = models.DecimalField(max_digits=10, decimal_places=2, validators=[MinValueValidator(Decimal("0.01"))])

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.label}: {self.quantity} {self.item.unit}"

    @property
    def key(self) -> str:
        """The key of its line in a build-up."""
        return f"extra_{self.pk}"
