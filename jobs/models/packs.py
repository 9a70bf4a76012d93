"""The job pack: every workshop sheet of a commission in one PDF, as it was when it was last printed."""

from django.db import models

from jobs.models.commissions import Commission


class JobPack(models.Model):
    """One pack a commission; printing it anew puts the newer in its place."""

    commission = models.OneToOneField(Commission, on_delete=models.CASCADE, related_name="job_pack")
    pdf = models.BinaryField(null=True)
    sheets = models.PositiveSmallIntegerField(default=0)
    printed_at = models.DateTimeField(null=True)
    work = models.ForeignKey("tasks.Work", on_delete=models.SET_NULL, null=True, related_name="+")

    def __str__(self) -> str:
        return f"Job pack of {self.commission}"
