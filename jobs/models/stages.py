"""Stages: the studio's templates, and each commission's own copy that the work goes through.

A commission gets its stages when a quote is accepted: for every section the
template's stages with their steps, holds, checks and budget. From then on its
stages are its own. Only ``jobs.services.stages`` moves them on.
"""

import datetime

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone

from jobs.models.commissions import Commission
from jobs.models.quotes import BudgetLine
from jobs.models.sections import Section
from materials.models import Checked


class StageState(models.TextChoices):
    """How far a stage has come; on hold is in hand with a hold that has not run out."""

    NOT_BEGUN = "not_begun", "Not begun"
    IN_HAND = "in_hand", "In hand"
    READY = "ready", "Ready to check"
    PASSED = "passed", "Passed"
    REOPENED = "reopened", "Reopened"


class HoldPoint(models.TextChoices):
    """What a hold point waits for."""

    NONE = "", "No sign-off"
    MODEL = "model", "Model or maquette"
    FORM = "form", "Form of the pattern"
    SAMPLE = "sample", "Colour and finish sample"
    FIT_UP = "fit_up", "Fit-up before paint"
    DISPATCH = "dispatch", "Before dispatch"
    INSTALLED = "installed", "In its place"


class Waits(models.TextChoices):
    """When a stage may begin; it passes only after all before it have passed."""

    NO = "", "Begins at any time"
    BEGUN = "begun", "Begins when all before it have begun"
    PASSED = "passed", "Begins when all before it have passed"


class Room(models.TextChoices):
    """Where a stage is worked, as far as the plan has to know."""

    ANYWHERE = "", "Anywhere"
    BAY = "bay", "In a bay indoors"
    OUTDOORS = "outdoors", "Outdoors"


BEFORE_CASTS = ("pattern", "mould")
WEIGHT = [MinValueValidator(0), MaxValueValidator(100)]
CREW = [MinValueValidator(1), MaxValueValidator(12)]


class StageTemplate(Checked):
    """One stage as the studio usually does it; what is checked are its holds."""

    key = models.SlugField(max_length=12, unique=True, help_text="pattern, mould, cast, finish, crate and so on.")
    name = models.CharField(max_length=40)
    position = models.PositiveSmallIntegerField()
    for_whole = models.BooleanField("once for the whole commission", default=False)
    optional = models.BooleanField("only where the quote has hours for it", default=False)
    waits = models.CharField("beginning", max_length=6, choices=Waits.choices, blank=True)
    sign_off = models.CharField("hold point", max_length=10, choices=HoldPoint.choices, blank=True)
    weight = models.PositiveSmallIntegerField("share of the work when passed", default=0, validators=WEIGHT)
    crew = models.PositiveSmallIntegerField("people at once", default=1, validators=CREW)
    room = models.CharField("worked", max_length=8, choices=Room.choices, blank=True)
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["position"]

    def __str__(self) -> str:
        return self.name


class StepTemplate(models.Model):
    """One step of a stage, with the hold that follows it."""

    stage = models.ForeignKey(StageTemplate, on_delete=models.CASCADE, related_name="steps")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=80)
    hold_hours = models.DecimalField("hold after it, hours at 20 °C", max_digits=6, decimal_places=1, default=0)
    hold_reason = models.CharField(max_length=80, blank=True)
    hold_evidence = models.CharField("where the hold comes from", max_length=120, blank=True)
    slower_when_cold = models.BooleanField("twice as long below 15 °C", default=False)
    in_booth = models.BooleanField("in the spray booth", default=False)
    is_barrier = models.BooleanField("closes the foam before any resin", default=False)
    needs_barrier = models.BooleanField("brings resin on to the pattern", default=False)

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["stage", "position"], name="one_step_template_a_position")]

    def __str__(self) -> str:
        return self.name


class CheckTemplate(models.Model):
    """One thing to look at before a stage may pass."""

    stage = models.ForeignKey(StageTemplate, on_delete=models.CASCADE, related_name="checks")
    position = models.PositiveSmallIntegerField()
    text = models.CharField(max_length=160)

    class Meta:
        ordering = ["position"]

    def __str__(self) -> str:
        return self.text


class Stage(models.Model):
    """One stage of one section of a commission, or of the whole commission where there is no section."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="stages")
    section = models.ForeignKey(Section, on_delete=models.PROTECT, null=True, blank=True, related_name="stages")
    budget = models.ForeignKey(BudgetLine, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    key = models.CharField(max_length=12)
    name = models.CharField(max_length=40)
    position = models.PositiveSmallIntegerField()
    code = models.CharField(max_length=12, unique=True, help_text="What its label says and its QR code opens.")
    allowed_minutes = models.PositiveIntegerField(default=0)
    waits = models.CharField("beginning", max_length=6, choices=Waits.choices, blank=True)
    weight = models.PositiveSmallIntegerField(default=0, validators=WEIGHT)
    sign_off = models.CharField("hold point", max_length=10, choices=HoldPoint.choices, blank=True)
    approval = models.ForeignKey(
        "SignOffAnswer",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="opened",
        help_text="What opened its hold point; nothing else does.",
    )
    state = models.CharField(max_length=10, choices=StageState.choices, default=StageState.NOT_BEGUN)
    hold_until = models.DateTimeField(null=True, blank=True)
    hold_reason = models.CharField(max_length=160, blank=True)
    begun_at = models.DateTimeField(null=True, blank=True)
    passed_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["commission", "section__position", "position"]
        constraints = [
            models.UniqueConstraint(fields=["section", "key"], name="one_stage_a_section_and_key"),
            models.UniqueConstraint(
                fields=["commission", "key"],
                condition=models.Q(section__isnull=True),
                name="one_stage_a_commission_and_key",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.section.name if self.section else 'Whole'}, {self.name.lower()}"

    def is_held(self, at: datetime.datetime) -> bool:
        """Whether a hold has not run out yet."""
        return self.hold_until is not None and self.hold_until > at

    @property
    def casts(self) -> int:
        """How many casts are worked on here, one by one; 0 where it is the whole, a pattern or a mould."""
        return self.section.casts if self.section and self.key not in BEFORE_CASTS else 0

    def named(self, cast: int | None) -> str:
        """The stage, and which cast it is about if it is about one alone: "Cup, cast 2" or "Cup, finish, cast 2"."""
        if cast is None:
            return str(self)
        return f"{self} {cast}" if self.name.casefold() == "cast" else f"{self}, cast {cast}"

    @property
    def allowed_hours(self) -> float:
        """What the budget allows [h]."""
        return self.allowed_minutes / 60

    @property
    def lacks_sign_off(self) -> bool:
        """Whether its hold point is still open."""
        return bool(self.sign_off) and self.approval_id is None


class Step(models.Model):
    """One step of a commission's stage."""

    stage = models.ForeignKey(Stage, on_delete=models.CASCADE, related_name="steps")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=80)
    hold_hours = models.DecimalField(max_digits=6, decimal_places=1, default=0)
    hold_reason = models.CharField(max_length=80, blank=True)
    slower_when_cold = models.BooleanField(default=False)
    in_booth = models.BooleanField(default=False)
    is_barrier = models.BooleanField(default=False)
    needs_barrier = models.BooleanField(default=False)
    done_at = models.DateTimeField(null=True, blank=True)
    done_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["stage", "position"], name="one_step_a_position")]

    def __str__(self) -> str:
        return self.name


class Check(models.Model):
    """One thing looked at before a stage passes."""

    stage = models.ForeignKey(Stage, on_delete=models.CASCADE, related_name="checks")
    position = models.PositiveSmallIntegerField()
    text = models.CharField(max_length=160)
    seen_at = models.DateTimeField(null=True, blank=True)
    seen_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")

    class Meta:
        ordering = ["position"]

    def __str__(self) -> str:
        return self.text


class StageMove(models.Model):
    """One change of a stage's state, with the reason; never altered."""

    stage = models.ForeignKey(Stage, on_delete=models.PROTECT, related_name="moves")
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    before = models.CharField(max_length=10)
    after = models.CharField(max_length=10)
    reason = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-at", "-pk"]

    def __str__(self) -> str:
        return f"{self.stage}: {self.before} to {self.after}"
