"""The plan: when people are at work, and what was worked out, kept and published.

A plan holds what it was made from and what came of it, so that it can be read
as it was. The database refuses any change to one that is published.
"""

from django.conf import settings
from django.db import models

from jobs.models.stages import StageTemplate


class CrewMember(models.Model):
    """When somebody works, and which stages they can do. Who has no row works the studio's week at any stage."""

    person = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="crew_member")
    hours = models.JSONField(default=list, help_text="Hours of each weekday from Monday, seven of them.")
    stages = models.ManyToManyField(StageTemplate, blank=True, related_name="+", help_text="None stands for every one.")
    version = models.PositiveIntegerField(default=0)

    def __str__(self) -> str:
        return str(self.person)


class Absence(models.Model):
    """Days on which somebody is not at work, the first and the last included."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="absences")
    first = models.DateField()
    last = models.DateField()
    reason = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ["first", "pk"]
        constraints = [models.CheckConstraint(condition=models.Q(last__gte=models.F("first")), name="absence_in_order")]

    def __str__(self) -> str:
        return f"{self.person}, {self.first} to {self.last}"


class PlanQuerySet(models.QuerySet["Plan"]):
    """Named reads of plans."""

    def published(self) -> "PlanQuerySet":
        """Those that were published, the newest first; the first of them is the one in force."""
        return self.filter(published_at__isnull=False).order_by("-published_at", "-pk")

    def present(self) -> "PlanQuerySet":
        """Those without a supposition, the newest first."""
        return self.filter(suppositions=[]).order_by("-pk")


class Plan(models.Model):
    """One plan of the whole studio, worked out on a day from everything that was known then."""

    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    begins = models.DateField()
    suppositions = models.JSONField(default=list, help_text="What is supposed; none for the plan as things are.")
    seconds = models.PositiveSmallIntegerField(default=10, help_text="How long a better plan was looked for.")
    digest = models.CharField(max_length=64, blank=True, help_text="Of everything it was worked out from.")
    inputs = models.JSONField(default=dict, help_text="Everything it was worked out from.")
    result = models.JSONField(default=dict, help_text="When each activity begins, and what is known of that.")
    work = models.ForeignKey("tasks.Work", on_delete=models.PROTECT, null=True, related_name="+")
    kept_at = models.DateTimeField(null=True)
    published_at = models.DateTimeField(null=True)
    published_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")

    objects = PlanQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"Plan {self.pk} from {self.begins}"

    @property
    def is_worked_out(self) -> bool:
        """Whether it holds a plan that was proved to keep every rule."""
        return bool(self.result)
