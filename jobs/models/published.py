"""What the studio chose to tell the commissioner: days, and a few words. Each telling is a row; the last one stands."""

from django.conf import settings
from django.db import models

from jobs.models.commissions import Commission


class Publication(models.Model):
    """One telling; never altered, for the commissioner has read it."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="publications")
    number = models.PositiveSmallIntegerField()
    promised_on = models.DateField("promised day", null=True, blank=True)
    expected_on = models.DateField("expected day", null=True, blank=True)
    note = models.CharField("a few words", max_length=600, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-number"]
        constraints = [models.UniqueConstraint(fields=["commission", "number"], name="one_publication_a_number")]

    def __str__(self) -> str:
        return f"{self.commission}, told {self.number}"

    @property
    def is_late(self) -> bool:
        """Whether the expected day comes after the promised one."""
        return self.promised_on is not None and self.expected_on is not None and self.expected_on > self.promised_on
