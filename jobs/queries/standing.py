"""Reads for a commission's standing: its budget, and everything that was booked, issued and sent out for it."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Count, Q, Sum
from django.utils import timezone

from jobs.figures.standing import Cost, whole_costs
from jobs.models import BudgetLine, Commission, Decision, HourEntry, Quote, SentOutWork, Stage, StageIssue
from materials.models import Price
from studio.money import working


@dataclass(frozen=True, slots=True)
class Booked:
    """Minutes booked on one stage on one day."""

    stage: int
    day: datetime.date
    minutes: int


@dataclass(frozen=True, slots=True)
class Issued:
    """Material that went to a stage, or to the whole commission; what came back has a minus."""

    stage: int | None
    day: datetime.date
    value_minor: int
    currency: str


@dataclass(frozen=True, slots=True)
class SteppedStage:
    """A stage with how many of its steps are done."""

    row: Stage
    steps: int
    done: int


def accepted_quote(commission: Commission) -> Quote | None:
    """The version that became the budget, with its build-up, in two queries; without its document and its lists."""
    found = Quote.objects.filter(commission=commission, decision__decision=Decision.ACCEPTED)
    light = found.select_related("decision").defer("spec", "take_off", "pdf").prefetch_related("lines")
    return light.order_by("-version_number").first()


def budget_of(quote: Quote) -> list[BudgetLine]:
    """The budget of an accepted version, section by section."""
    return list(BudgetLine.objects.filter(quote=quote).order_by("pk"))


def sum_of(quote: Quote, kind: str) -> int:
    """What the lines of one kind come to in a quote, in minor units."""
    return sum(line.amount_minor for line in quote.lines.all() if line.kind == kind)


def budgets(quote: Quote, lines: Sequence[BudgetLine]) -> dict[int, Cost]:
    """What each line of the budget may cost: its own, and its part of overhead, consumables and handling."""
    sums = (sum_of(quote, kind) for kind in ("overhead", "consumables", "handling"))
    return {line.pk: cost for line, cost in zip(lines, whole_costs(lines, *sums), strict=True)}


def stepped_stages(commission: Commission) -> list[SteppedStage]:
    """A commission's stages as the board orders them, with their steps counted, in one query."""
    rows = (
        Stage.objects.filter(commission=commission)
        .select_related("section", "budget")
        .annotate(all_steps=Count("steps"), done_steps=Count("steps", filter=Q(steps__done_at__isnull=False)))
        .order_by("section__position", "section", "position")
    )
    ordered = sorted(rows, key=lambda row: row.section_id is None)
    return [SteppedStage(row, row.all_steps, row.done_steps) for row in ordered]


def booked_by_day(commission: Commission) -> list[Booked]:
    """Minutes by stage and day, what was taken back taken off, in one query."""
    rows = HourEntry.objects.filter(stage__commission=commission).values_list("stage", "work_date")
    return [Booked(*row) for row in rows.annotate(total=Sum("minutes")).order_by("work_date")]


def issued_by_day(commission: Commission) -> list[Issued]:
    """Material at the value at which it moved: what was issued, and what else went out with work; in two queries."""
    tied = StageIssue.objects.filter(stage__commission=commission).values_list(
        "stage", "movement__at", "movement__value_minor", "movement__lot__currency"
    )
    loose = SentOutWork.objects.filter(
        commission=commission, went_with_it__isnull=False, went_with_it__stage_issue__isnull=True
    )
    sent = loose.values_list("stage", "went_with_it__at", "went_with_it__value_minor", "went_with_it__lot__currency")
    return [Issued(stage, timezone.localdate(at), -value, currency) for stage, at, value, currency in [*tied, *sent]]


def sent_out_of(commission: Commission) -> list[SentOutWork]:
    """Everything that was sent out for a commission."""
    return list(SentOutWork.objects.filter(commission=commission))


def prices_of_hours(keys: Sequence[str]) -> dict[str, list[tuple[datetime.date, Decimal]]]:
    """For each kind of hour what one costs and from when, in minor units, oldest first; in one query."""
    found: dict[str, list[tuple[datetime.date, Decimal]]] = {key: [] for key in keys}
    rows = Price.objects.filter(pack__item__key__in=keys).order_by("valid_from")
    with working():
        for key, day, minor, hours in rows.values_list(
            "pack__item__key", "valid_from", "amount_minor", "pack__quantity"
        ):
            found[key].append((day, minor / hours))
    return found
