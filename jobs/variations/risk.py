"""Work on the stages that a variation changes, done since it was raised and before it was accepted."""

from collections.abc import Collection
from dataclasses import dataclass

from django.db.models import Q, QuerySet, Sum
from django.utils import timezone

from jobs.models import HourEntry, Stage, StageIssue, Variation, VariationDecision
from jobs.queries.standing import Booked, Issued, accepted_quote
from jobs.standing.costs import Spent, add_hours, add_material, hour_rates, shares_of


@dataclass(frozen=True, slots=True)
class AtRisk:
    """What one stage took while nobody had agreed to the change: at the studio's own risk."""

    stage: Stage
    minutes: int
    cost_minor: int

    @property
    def hours(self) -> float:
        """Booked [h]."""
        return self.minutes / 60


def at_risk(variation: Variation, stages: Collection[Stage], currency: str) -> tuple[AtRisk, ...]:
    """The stages with hours or material since the variation was raised, and before it was accepted if it was."""
    quote = accepted_quote(variation.commission)
    if quote is None or not stages:
        return ()
    hours, moved = _since_raised(variation, stages)
    spent = {stage.pk: Spent() for stage in stages}
    booked = hours.order_by("work_date").values_list("stage", "work_date").annotate(Sum("minutes"))
    add_hours(spent, [Booked(*row) for row in booked], hour_rates(quote, currency))
    issued = moved.filter(movement__lot__currency=quote.currency).values_list(
        "stage", "movement__at", "movement__value_minor"
    )
    material = [Issued(stage, timezone.localdate(at), -value, quote.currency) for stage, at, value in issued]
    add_material(spent, Spent(), material, shares_of(quote).consumables)
    found = [
        AtRisk(stage, sum(minutes for _, minutes in spent[stage.pk].minutes), spent[stage.pk].cost.total_minor)
        for stage in stages
    ]
    return tuple(each for each in found if each.minutes or each.cost_minor)


def _since_raised(
    variation: Variation, stages: Collection[Stage]
) -> tuple["QuerySet[HourEntry]", "QuerySet[StageIssue]"]:
    """Hours and issues of the time when it was asked for and not agreed; hours booked late count by their day."""
    hours = HourEntry.objects.filter(stage__in=stages, work_date__gte=timezone.localdate(variation.raised_at))
    moved = StageIssue.objects.filter(stage__in=stages, movement__at__gte=variation.raised_at)
    answer = variation.answered
    if answer is not None and answer.decision == VariationDecision.ACCEPTED:
        day = timezone.localdate(answer.at)
        hours = hours.filter(Q(work_date__lt=day) | Q(work_date=day, booked_at__lt=answer.at))
        moved = moved.filter(movement__at__lt=answer.at)
    return hours, moved
