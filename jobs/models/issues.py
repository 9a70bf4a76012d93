"""Which stage a movement of the stores went to, and work that went out."""

from django.db import models

from jobs.models.commissions import Commission
from jobs.models.stages import Stage


class StageIssue(models.Model):
    """Ties a movement of the stores to the stage it was issued to or came back from."""

    movement = models.OneToOneField("materials.Movement", on_delete=models.PROTECT, related_name="stage_issue")
    stage = models.ForeignKey(Stage, on_delete=models.PROTECT, related_name="issues")
    cast = models.PositiveIntegerField("which cast", null=True, blank=True, help_text="None: for no one alone.")

    def __str__(self) -> str:
        return f"{self.movement} for {self.stage.named(self.cast)}"


class SentOutWork(models.Model):
    """Work that a firm outside does: ordered, out, back, agreed and charged."""

    commission = models.ForeignKey(Commission, on_delete=models.PROTECT, related_name="sent_out")
    stage = models.ForeignKey(Stage, on_delete=models.PROTECT, null=True, blank=True, related_name="sent_out")
    what = models.CharField(max_length=160)
    firm = models.CharField(max_length=120)
    ordered_on = models.DateField()
    due_back = models.DateField(null=True, blank=True)
    out_on = models.DateField(null=True, blank=True)
    back_on = models.DateField(null=True, blank=True)
    agreed_minor = models.BigIntegerField("price agreed")
    charged_minor = models.BigIntegerField("price charged", null=True, blank=True)
    currency = models.CharField(max_length=3)
    went_with_it = models.ManyToManyField("materials.Movement", blank=True, related_name="+")
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["ordered_on", "pk"]
        verbose_name_plural = "sent-out work"

    def __str__(self) -> str:
        return f"{self.what}, {self.firm}"
