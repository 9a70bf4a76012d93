"""Reads of finished stages, for norms from the studio's own past."""

from dataclasses import dataclass

from django.db.models import Sum

from jobs.figures.past_norms import PastStage, past_stage
from jobs.models import Quote, Stage, StageState
from materials.estimator.spec import Norm
from materials.models import WorkNorm


@dataclass(frozen=True, slots=True)
class Past:
    """Finished stages that can be compared, and how many cannot, for no hours were booked on them."""

    stages: tuple[PastStage, ...]
    without_hours: int


def norm_value(row: WorkNorm) -> Norm:
    """A norm as a value."""
    return Norm(row.stage, row.step, row.grade, row.per, row.low, row.likely, row.high)


def norms_in_use(stage: str | None = None, grade: str | None = None) -> list[WorkNorm]:
    """The norms, or those of one stage and grade."""
    rows = WorkNorm.objects.order_by("stage", "grade", "pk")
    return list(rows if stage is None else rows.filter(stage=stage, grade=grade))


def passed_stages(norms: list[WorkNorm]) -> Past:
    """Every stage of a section that has passed and had a budget, against these norms, in two queries."""
    values = {(row.stage, row.step, row.grade): norm_value(row) for row in norms}
    rows = list(
        Stage.objects.filter(state=StageState.PASSED, section__isnull=False, budget__isnull=False)
        .values_list("budget__quote", "budget__section", "budget__stage")
        .annotate(minutes=Sum("hour_entries__minutes"))
        .order_by("pk")
    )
    quotes = {quote for quote, *_ in rows}
    kept = {
        pk: {"spec": spec, "take_off": take_off}
        for pk, spec, take_off in Quote.objects.filter(pk__in=quotes).values_list("pk", "spec", "take_off")
    }
    found = [
        past_stage(stage, section, minutes, kept[quote], values)
        for quote, section, stage, minutes in rows
        if minutes and minutes > 0
    ]
    return Past(tuple(each for each in found if each), sum(1 for *_, minutes in rows if not minutes))
