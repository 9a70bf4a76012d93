"""Named reads of stages: what stands before one, what it waits for, who is on it."""

import datetime
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from django.db.models import Q, QuerySet, Sum

from jobs.figures.cure import Cold
from jobs.models import Clock, Commission, HourEntry, SentOutWork, Snag, SnagGrade, Stage, StageMove, StageState
from materials.models import Figure

COLD = ("workshop_temperature", "cold_slow_below", "cold_stop_below", "cold_factor")


def cold_figures() -> Cold:
    """What cold does to resin in this studio."""
    values = dict(Figure.objects.filter(key__in=COLD).values_list("key", "value"))
    return Cold(*(values[key] for key in COLD))


def stages_of(commissions: Collection[Commission]) -> QuerySet[Stage]:
    """Every stage of these commissions, section by section, what concerns the whole last."""
    found = Stage.objects.filter(commission__in=commissions).select_related("section")
    return found.order_by("commission", "section__position", "section", "position")


def before(stage: Stage) -> QuerySet[Stage]:
    """The stages that come before one: of its own section, and of all sections where either concerns the whole."""
    found = Stage.objects.filter(commission=stage.commission_id, position__lt=stage.position)
    if stage.section_id is not None:
        found = found.filter(Q(section=stage.section_id) | Q(section__isnull=True))
    return found.select_related("section").order_by("section__position", "position")


def grave_snags(stage: Stage) -> QuerySet[Snag]:
    """What was found so bad on the stage's section that nothing passes before it is closed."""
    found = Snag.objects.filter(commission=stage.commission_id, grade=SnagGrade.GRAVE, closed_at__isnull=True)
    return found.filter(section=stage.section_id) if stage.section_id is not None else found


@dataclass(frozen=True, slots=True)
class Maker:
    """Somebody on a stage today; since when, if a clock runs."""

    name: str
    since: datetime.datetime | None = None


def makers(stages: QuerySet[Stage], on: datetime.date) -> dict[int, list[Maker]]:
    """Who is or was on each of these stages on a day, running clocks first; in two queries."""
    found: dict[int, list[Maker]] = {}
    for clock in Clock.objects.filter(stage__in=stages).select_related("person").order_by("started_at"):
        found.setdefault(clock.stage_id, []).append(Maker(clock.person.shown_name, clock.started_at))
    # What was taken back again sums to nothing.
    booked = HourEntry.objects.filter(stage__in=stages, work_date=on).values("stage", "person__shown_name")
    for row in booked.annotate(total=Sum("minutes")).filter(total__gt=0).order_by("person__shown_name"):
        stage, name = row["stage"], row["person__shown_name"]
        on_it = found.setdefault(stage, [])
        if name not in [maker.name for maker in on_it]:
            on_it.append(Maker(name))
    return found


def reasons_reopened(stages: QuerySet[Stage]) -> dict[int, str]:
    """Why each reopened stage was reopened the last time; in one query."""
    moves = StageMove.objects.filter(
        stage__in=stages, stage__state=StageState.REOPENED, after=StageState.REOPENED
    ).order_by("at", "pk")
    return dict(moves.values_list("stage", "reason"))


def out_of_the_house(commissions: Sequence[Commission]) -> QuerySet[SentOutWork]:
    """Work that firms outside still have, the soonest due first."""
    return SentOutWork.objects.filter(commission__in=commissions, back_on__isnull=True).order_by("due_back", "pk")
