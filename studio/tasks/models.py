"""One piece of background work and how far it is."""

from django.conf import settings
from django.db import models


class WorkState(models.TextChoices):
    """Where a piece of work stands."""

    WAITING = "waiting", "Waiting"
    RUNNING = "running", "In hand"
    DONE = "done", "Done"
    FAILED = "failed", "Failed"
    CANCELLED = "cancelled", "Stopped"


WHOLE = 1000


class Work(models.Model):
    """What is to be done, by whom it was asked, and what came of it."""

    kind = models.CharField(max_length=40)
    title = models.CharField(max_length=160, help_text="What is done, as the page says it.")
    about = models.JSONField(default=dict, help_text="What the handler has to know.")
    page = models.CharField(max_length=200, help_text="Address of the page that shows what came of it.")
    state = models.CharField(max_length=10, choices=WorkState.choices, default=WorkState.WAITING)
    progress = models.PositiveSmallIntegerField(default=0, help_text="In thousandths.")
    step = models.CharField(max_length=120, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    cancel_asked = models.BooleanField(default=False)
    heartbeat = models.DateTimeField(null=True)
    worker = models.CharField(max_length=120, blank=True)
    queued_as = models.CharField(max_length=64, blank=True, help_text="The queue's own name for the last attempt.")
    result = models.JSONField(default=dict)
    problem = models.TextField(blank=True)
    started_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField(auto_now_add=True)
    finished_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-pk"]
        indexes = [models.Index(fields=["state"], name="work_by_state")]

    def __str__(self) -> str:
        return f"{self.title}: {self.state}"

    @property
    def going_on(self) -> bool:
        """Whether there is still something to wait for."""
        return self.state in (WorkState.WAITING, WorkState.RUNNING)

    @property
    def percent(self) -> int:
        """How far it is, in whole percent."""
        return self.progress * 100 // WHOLE
