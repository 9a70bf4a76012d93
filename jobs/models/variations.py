"""Variations: what changes after a quote is accepted, priced apart and frozen when it goes out.

A variation keeps its number for good. What was agreed before is never touched:
an accepted variation adds rows that name it.
"""

import datetime
from decimal import Decimal

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from jobs.models.commissions import Commission
from jobs.models.issued import Issued, IssuedRow
from jobs.models.looks import Snag
from jobs.models.quotes import Quote
from jobs.models.sign_offs import SignOff
from jobs.models.stages import Stage

# What is large, and wanted only where one variation is opened.
HEAVY = ("figures", "take_off", "pdf")


class Origin(models.TextChoices):
    """What a variation was raised from."""

    REQUEST = "request", "Asked for"
    SNAG = "snag", "A snag"
    SIGN_OFF = "sign_off", "A comment on a sign-off"


class VariationQuerySet(models.QuerySet["Variation"]):
    """Named reads of variations."""

    def light(self) -> "VariationQuerySet":
        """With who wrote, who answered and what it was raised from; without what is large."""
        return self.select_related(
            "commission", "quote", "answer", "snag", "sign_off__answer", "raised_by", "issued_by"
        ).defer(
            *HEAVY,
            "sign_off__sheet",
            "sign_off__pdf",
            *(f"quote__{name}" for name in ("spec", "take_off", "price_book", "figures", "pdf")),
        )

    def accepted(self) -> "VariationQuerySet":
        """What was agreed, in the order in which it was."""
        return self.filter(answer__decision=VariationDecision.ACCEPTED).order_by("answer__at", "answer__pk")


class Variation(Issued):
    """One change to what was agreed. Without ``issued_at`` it is a draft."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="variations")
    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="variations")
    serial = models.PositiveSmallIntegerField(help_text="Counted within the commission, never used twice.")
    origin = models.CharField("raised from", max_length=8, choices=Origin.choices, default=Origin.REQUEST)
    asked_by = models.CharField("who asked, and how", max_length=160, blank=True)
    snag = models.ForeignKey(Snag, on_delete=models.PROTECT, null=True, blank=True, related_name="variations")
    sign_off = models.ForeignKey(SignOff, on_delete=models.PROTECT, null=True, blank=True, related_name="variations")
    title = models.CharField(max_length=120)
    scope = models.TextField("what changes")
    changes = models.JSONField(default=list, help_text="Changes to sections, as jobs.figures.varied reads them.")
    reopens = models.JSONField(null=True, blank=True, help_text="Codes of stages done again; null is as worked out.")
    days = models.SmallIntegerField(
        null=True,
        blank=True,
        validators=[MinValueValidator(-999), MaxValueValidator(999)],
        help_text="By how much the day of completion moves; null is as worked out, until it is issued.",
    )
    valid_days = models.PositiveSmallIntegerField(default=14, validators=[MinValueValidator(1), MaxValueValidator(365)])
    raised_at = models.DateTimeField()
    raised_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    contingency_minor = models.BigIntegerField(null=True)
    tax_category = models.CharField(max_length=40, blank=True)
    tax_rate = models.DecimalField(max_digits=6, decimal_places=5, null=True)
    touches = models.JSONField(default=list, help_text="Codes of the stages whose work it changes.")
    figures = models.JSONField(default=dict, help_text="What it was worked by: prices, coefficients, programme.")
    take_off = models.JSONField(default=dict, help_text="Of the scope as it would be, every line with its working.")

    objects = VariationQuerySet.as_manager()

    class Meta:
        ordering = ["commission", "serial"]
        constraints = [models.UniqueConstraint(fields=["commission", "serial"], name="one_variation_a_number")]

    def __str__(self) -> str:
        return self.number

    @property
    def number(self) -> str:
        """As it stands on the document, "26-014 / V1"."""
        return f"{self.commission.number} / {self.revision}"

    @property
    def revision(self) -> str:
        """Its own part of that, "V1"."""
        return f"V{self.serial}"

    @property
    def answered(self) -> "VariationAnswer | None":
        """What was answered, if anything."""
        return getattr(self, "answer", None)

    def state_on(self, day: datetime.date) -> str:
        """ "draft", "issued", "lapsed", "accepted", "declined" or "withdrawn"."""
        if self.answered:
            return self.answered.decision
        if self.issued_at is None:
            return "draft"
        return "lapsed" if self.has_lapsed(day) else "issued"


class VariationItem(models.Model):
    """Work or goods in words that the take-off does not know, added or left out."""

    variation = models.ForeignKey(Variation, on_delete=models.CASCADE, related_name="items")
    position = models.PositiveSmallIntegerField()
    label = models.CharField(max_length=120)
    is_omission = models.BooleanField("left out", default=False)
    item = models.ForeignKey("materials.Item", on_delete=models.PROTECT, related_name="+")
    quantity = models.DecimalField(max_digits=10, decimal_places=2, validators=[MinValueValidator(Decimal("0.01"))])
    stage = models.ForeignKey(Stage, on_delete=models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["position"]

    def __str__(self) -> str:
        return self.label

    @property
    def key(self) -> str:
        """The key of its line in a build-up."""
        return f"varied_{self.pk}"


class VariationLine(IssuedRow):
    """One line of the build-up inside as it was and as it would be; None where it is not there."""

    variation = models.ForeignKey(Variation, on_delete=models.CASCADE, related_name="lines")
    kind = models.CharField(max_length=12)
    key = models.CharField(max_length=80)
    unit = models.CharField(max_length=5, blank=True)
    was_quantity = models.DecimalField(max_digits=14, decimal_places=4, null=True)
    is_quantity = models.DecimalField(max_digits=14, decimal_places=4, null=True)
    was_minor = models.BigIntegerField(null=True)
    is_minor = models.BigIntegerField(null=True)


class VariationPart(IssuedRow):
    """One line of the difference in price as the commissioner reads it."""

    variation = models.ForeignKey(Variation, on_delete=models.CASCADE, related_name="parts")
    net_minor = models.BigIntegerField()


class VariationBudget(models.Model):
    """What an accepted variation adds to one stage's budget, or takes from it, with its overhead and the like.

    Made when it is accepted, beside the budget of the quote, and never altered.
    """

    variation = models.ForeignKey(Variation, on_delete=models.PROTECT, related_name="budget")
    section = models.CharField(max_length=60, blank=True, help_text="Blank for the whole commission.")
    stage = models.CharField(max_length=12)
    minutes = models.IntegerField()
    work_minor = models.BigIntegerField()
    material_minor = models.BigIntegerField()
    sent_out_minor = models.BigIntegerField()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["variation", "section", "stage"], name="one_variation_budget_a_stage")
        ]

    def __str__(self) -> str:
        return f"{self.variation}, {self.section} {self.stage}"


class VariationDecision(models.TextChoices):
    """How a variation ended; one that nobody answers in time lapses by itself."""

    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"
    WITHDRAWN = "withdrawn", "Withdrawn"


class VariationAnswer(models.Model):
    """The answer to a variation; written once. ``recorded_by`` is empty where it came through a link."""

    variation = models.OneToOneField(Variation, on_delete=models.PROTECT, related_name="answer")
    decision = models.CharField(max_length=10, choices=VariationDecision.choices)
    said_by = models.CharField("who said so", max_length=120)
    role = models.CharField(max_length=120, blank=True)
    note = models.TextField(blank=True)
    pdf_sha256 = models.CharField(max_length=64, blank=True, help_text="Of the document that was answered.")
    at = models.DateTimeField()
    recorded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")

    def __str__(self) -> str:
        return f"{self.variation} {self.decision}"
