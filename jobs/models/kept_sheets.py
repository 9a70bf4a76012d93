"""What was decided on a workshop sheet and holds from then on: how a piece lies in its crate, where it stands."""

from django.db import models

from jobs.models.commissions import Commission
from jobs.models.sections import Section


class KeptSheet(models.Model):
    """The answers of one group of sheets, for a section or for the whole, as they were typed."""

    commission = models.ForeignKey(Commission, on_delete=models.CASCADE, related_name="kept_sheets")
    section = models.ForeignKey(Section, on_delete=models.CASCADE, null=True, blank=True, related_name="kept_sheets")
    group = models.SlugField(max_length=30)
    answers = models.JSONField(default=dict)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["section", "group"], name="one_kept_sheet_a_section_and_group"),
            models.UniqueConstraint(
                fields=["commission", "group"],
                condition=models.Q(section__isnull=True),
                name="one_kept_sheet_of_the_whole_a_group",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.group}, {self.section or self.commission}"
