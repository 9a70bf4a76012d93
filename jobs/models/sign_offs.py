"""Sign-offs: what a commissioner is asked to approve, frozen when it is sent, and the one answer to it.

What a sent sign-off holds is copied into it, photos by their digests, so that
nothing done later can change what was approved; triggers in the database
refuse any change. Only an answer opens a hold point of the board.
"""

import datetime

from django.conf import settings
from django.db import models
from django.utils import timezone

from jobs.models.commissions import Commission
from jobs.models.links import Link
from jobs.models.looks import Photo
from jobs.models.stages import HoldPoint, Stage


class Answer(models.TextChoices):
    """How a sign-off ended."""

    APPROVED = "approved", "Approved"
    WITH_COMMENTS = "comments", "Approved with comments"
    NOT_YET = "not_yet", "Not yet"
    WITHDRAWN = "withdrawn", "Withdrawn by the studio"


APPROVALS = (Answer.APPROVED, Answer.WITH_COMMENTS)


class SignOffQuerySet(models.QuerySet["SignOff"]):
    """Named reads of sign-offs; what is large stays behind."""

    def listed(self) -> "SignOffQuerySet":
        """With their answers, without what is wanted only where one is opened."""
        return self.select_related("commission", "answer").defer("sheet", "pdf")

    def awaited(self) -> "SignOffQuerySet":
        """Sent and not answered, the soonest due first."""
        found = self.listed().filter(sent_at__isnull=False, answer__isnull=True)
        return found.order_by("answer_by", "commission__number", "number")


class SignOff(models.Model):
    """One thing put before the commissioner. Without ``sent_at`` it is a draft."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="sign_offs")
    number = models.PositiveSmallIntegerField()
    point = models.CharField("what kind", max_length=10, choices=HoldPoint.choices[1:])
    stages = models.ManyToManyField(Stage, blank=True, related_name="sign_offs")
    photos = models.ManyToManyField(Photo, blank=True, related_name="+")
    asked_of = models.CharField("who is asked", max_length=120)
    what = models.TextField("what is being approved")
    revision = models.CharField("drawing, model or sample with its revision", max_length=120, blank=True)
    dimensions = models.TextField(blank=True)
    colour = models.CharField("colour, with system and reference", max_length=200, blank=True)
    costs_after = models.TextField("what changes cost after it")
    answer_by = models.DateField("an answer by this day keeps the programme")
    version = models.PositiveIntegerField(default=0)

    sent_at = models.DateTimeField(null=True)
    sent_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    sheet = models.JSONField(default=dict, help_text="What was sent, as values.")
    sha256 = models.CharField(max_length=64, blank=True, help_text="Of the sheet; an answer names it.")
    pdf = models.BinaryField(null=True)
    pdf_sha256 = models.CharField(max_length=64, blank=True)

    objects = SignOffQuerySet.as_manager()

    class Meta:
        ordering = ["commission", "-number"]
        constraints = [models.UniqueConstraint(fields=["commission", "number"], name="one_sign_off_a_number")]

    def __str__(self) -> str:
        return f"{self.full_number} {self.get_point_display()}"

    @property
    def full_number(self) -> str:
        """As it stands on the sheet, "26-014 / S3"."""
        return f"{self.commission.number} / S{self.number}"

    @property
    def given(self) -> "SignOffAnswer | None":
        """The answer, if there is one."""
        return getattr(self, "answer", None)

    def days_late(self, on: datetime.date) -> int:
        """Days past the day by which an answer keeps the programme; 0 where it is answered or there is time."""
        if self.sent_at is None or self.given is not None:
            return 0
        return max((on - self.answer_by).days, 0)


class SignOffAnswer(models.Model):
    """The answer to a sent sign-off, or its withdrawal; written once, never altered."""

    sign_off = models.OneToOneField(SignOff, on_delete=models.PROTECT, related_name="answer")
    answer = models.CharField(max_length=10, choices=Answer.choices)
    name = models.CharField(max_length=120)
    role = models.CharField(max_length=120, blank=True)
    words = models.TextField("comments or reasons", blank=True)
    answered_on = models.DateField()
    of_sha256 = models.CharField(max_length=64, help_text="The sheet that was answered.")
    scan_sha256 = models.CharField(max_length=64, blank=True, help_text="Of the signed sheet, where it came on paper.")
    scan_kind = models.CharField(max_length=4, blank=True)
    at = models.DateTimeField(default=timezone.now)
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        related_name="+",
        help_text="Who filed it in the office.",
    )
    by_link = models.ForeignKey(Link, on_delete=models.PROTECT, null=True, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(recorded_by__isnull=False) ^ models.Q(by_link__isnull=False),
                name="an_answer_came_one_way",
            )
        ]

    def __str__(self) -> str:
        return f"{self.sign_off}: {self.get_answer_display().lower()}"

    @property
    def approves(self) -> bool:
        """Whether it opens hold points."""
        return self.answer in APPROVALS
