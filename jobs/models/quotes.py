"""Quotes: a draft that is worked on, and versions that are frozen when issued.

What an issued quote holds is copied into it, so that neither a later price nor
a later lay-up can change it; triggers in the database refuse any change.
"""

import datetime
from decimal import Decimal

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from jobs.models.commissions import Commission
from jobs.models.issued import Issued, IssuedRow
from studio.office.models import PackMode, ProfitKind

SHARE = [MinValueValidator(Decimal(0)), MaxValueValidator(Decimal("0.9"))]


# What is large, and wanted only where one version is opened.
HEAVY = ("spec", "take_off", "price_book", "figures", "pdf")


class QuoteQuerySet(models.QuerySet["Quote"]):
    """Named reads of quotes."""

    def issued(self) -> "QuoteQuerySet":
        """The versions that went out, newest first, with their answers and without what is large."""
        found = self.filter(issued_at__isnull=False).select_related("decision", "issued_by").defer(*HEAVY)
        return found.order_by("-version_number")

    def draft(self) -> "QuoteQuerySet":
        """The version that is being worked on, if there is one."""
        return self.filter(issued_at__isnull=True)


class Quote(Issued):
    """One version of a commission's quote. Without ``issued_at`` it is the draft, of which there is one at most."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="quotes")
    version_number = models.PositiveSmallIntegerField()

    profit_kind = models.CharField(
        "profit counted as", max_length=10, choices=ProfitKind.choices, default=ProfitKind.MARGIN
    )
    profit_rate = models.DecimalField(
        "margin or mark-up",
        max_digits=5,
        decimal_places=4,
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(5))],
    )
    contingency = models.DecimalField(max_digits=5, decimal_places=4, validators=SHARE)
    pack_mode = models.CharField("materials charged", max_length=10, choices=PackMode.choices, default=PackMode.PACKS)
    payment_stages = models.JSONField(default=list)
    programme_weeks = models.PositiveSmallIntegerField(
        "programme, weeks", null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(520)]
    )
    included = models.TextField(blank=True)
    assumed = models.TextField(blank=True)
    excluded = models.TextField(blank=True)
    approvals = models.TextField(blank=True)
    care = models.TextField(blank=True)
    terms = models.TextField(blank=True)

    p80_net_minor = models.BigIntegerField(null=True)
    spec = models.JSONField(default=dict, help_text="The sections as they were priced.")
    take_off = models.JSONField(default=dict, help_text="Every line with its working.")
    price_book = models.JSONField(default=dict, help_text="The prices of its day.")
    figures = models.JSONField(default=dict, help_text="Coefficients, norms and rates it was worked by.")

    objects = QuoteQuerySet.as_manager()

    class Meta:
        ordering = ["commission", "-version_number"]
        constraints = [
            models.UniqueConstraint(fields=["commission", "version_number"], name="one_quote_a_version"),
            models.UniqueConstraint(
                fields=["commission"], condition=models.Q(issued_at__isnull=True), name="one_draft_a_commission"
            ),
        ]

    def __str__(self) -> str:
        return self.number

    @property
    def number(self) -> str:
        """As it stands on the document, "26-014 / 2"."""
        return f"{self.commission.number} / {self.version_number}"

    @property
    def answer(self) -> "QuoteDecision | None":
        """What the commissioner answered, if anything."""
        return getattr(self, "decision", None)

    def state_on(self, day: datetime.date, newest: int) -> str:
        """ "accepted", "declined", "superseded", "lapsed" or "issued"; ``newest`` is the last version that went out."""
        if self.answer:
            return self.answer.decision
        if self.version_number < newest:
            return "superseded"
        return "lapsed" if self.has_lapsed(day) else "issued"


class QuoteLine(IssuedRow):
    """One line of the internal build-up: labour, a material, a service, overhead, contingency, profit."""

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="lines")
    kind = models.CharField(max_length=12)
    key = models.CharField(max_length=80, help_text="The same in every version, so that versions can be compared.")
    quantity = models.DecimalField(max_digits=14, decimal_places=4, null=True)
    unit = models.CharField(max_length=5, blank=True)
    note = models.CharField(max_length=200, blank=True)
    amount_minor = models.BigIntegerField()

    class Meta(IssuedRow.Meta):
        constraints = [models.UniqueConstraint(fields=["quote", "key"], name="one_quote_line_a_key")]


class QuotePart(IssuedRow):
    """One line of the price as the commissioner reads it."""

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="parts")
    net_minor = models.BigIntegerField()
    tax_category = models.CharField(max_length=40)
    tax_rate = models.DecimalField(max_digits=6, decimal_places=5)


class QuotePayment(models.Model):
    """One stage payment."""

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="payments")
    position = models.PositiveSmallIntegerField()
    label = models.CharField(max_length=120)
    share = models.DecimalField(max_digits=6, decimal_places=5)
    amount_minor = models.BigIntegerField(help_text="Of the gross price.")

    class Meta:
        ordering = ["position"]

    def __str__(self) -> str:
        return self.label


class Decision(models.TextChoices):
    """What the commissioner answered."""

    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"


class QuoteDecision(models.Model):
    """The answer to an issued quote; written once."""

    quote = models.OneToOneField(Quote, on_delete=models.PROTECT, related_name="decision")
    decision = models.CharField(max_length=10, choices=Decision.choices)
    said_by = models.CharField("who said so", max_length=120)
    note = models.TextField(blank=True)
    at = models.DateTimeField()
    recorded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return f"{self.quote} {self.decision}"


class BudgetLine(models.Model):
    """What one stage of one section may cost: made when a quote is accepted, never altered."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="budget")
    section = models.CharField(max_length=60, blank=True, help_text="Blank for the whole commission.")
    stage = models.CharField(max_length=12)
    minutes = models.PositiveIntegerField()
    labour_minor = models.BigIntegerField()
    material_minor = models.BigIntegerField()
    sent_out_minor = models.BigIntegerField()

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["quote", "section", "stage"], name="one_budget_line_a_stage")]

    def __str__(self) -> str:
        return f"{self.section} {self.stage}"
