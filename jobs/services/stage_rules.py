"""The rules of stages: what still stands in the way, each in words that can be read out."""

import datetime

from django.utils import timezone

from jobs.figures.moments import moment_words
from jobs.models import CommissionState, Section, Stage, StageState, Step, Waits
from jobs.queries.stages import before, grave_snags


def lacks_to_begin(stage: Stage) -> list[str]:
    """What keeps a stage from being begun."""
    if stage.waits == Waits.NO:
        return []
    if stage.waits == Waits.BEGUN:
        return [f"{each} has not begun" for each in before(stage).filter(state=StageState.NOT_BEGUN)]
    return [f"{each} has not passed" for each in before(stage).exclude(state=StageState.PASSED)]


def lacks_to_be_ready(stage: Stage, at: datetime.datetime) -> list[str]:
    """What keeps a stage from being called ready."""
    undone = stage.steps.filter(done_at__isnull=True)
    return [*_hold(stage, at), *(f"the step “{step.name}” is not done" for step in undone)]


def lacks_to_pass(stage: Stage, at: datetime.datetime) -> list[str]:
    """What keeps a stage that is ready from passing."""
    unseen = stage.checks.filter(seen_at__isnull=True)
    return [
        *lacks_to_be_ready(stage, at),
        *(f"“{check.text}” has not been looked at" for check in unseen),
        *([f"the sign-off “{stage.get_sign_off_display()}” has not been given"] if stage.lacks_sign_off else []),
        *(f"the grave snag “{snag.what}” is open" for snag in grave_snags(stage)),
        *(f"{each} has not passed" for each in before(stage).exclude(state=StageState.PASSED)),
    ]


def lacks_to_do(step: Step, stage: Stage, at: datetime.datetime) -> list[str]:
    """What keeps a step from being done."""
    earlier = stage.steps.filter(position__lt=step.position, done_at__isnull=True)
    return [
        *_hold(stage, at),
        *(f"the step “{each.name}” comes first" for each in earlier[:1]),
        *(_bare_foam(stage, at) if step.needs_barrier else []),
    ]


def is_open(stage: Stage) -> bool:
    """Whether the commission is in hand, so that its stages may move."""
    return stage.commission.state == CommissionState.ACCEPTED


def _bare_foam(stage: Stage, at: datetime.datetime) -> list[str]:
    """Where resin would meet foam: polyester dissolves it, so that the barrier comes before."""
    if stage.section is None:
        return []
    barriers = list(_barriers(stage.section))
    if not barriers:
        return [
            f"no step of {stage.section.name} closes the foam: add one to its pattern, "
            "or say on this step that it brings no resin on to foam"
        ]
    undone = [f"the foam is bare: “{step.name}” is not done" for step in barriers if step.done_at is None]
    wet = {step.stage for step in barriers if step.stage.pk != stage.pk and step.stage.is_held(at)}
    return undone or [f"{each} is on hold until {until(each)}" for each in wet]


def _barriers(section: Section) -> list[Step]:
    found = Step.objects.filter(stage__section=section, is_barrier=True)
    return list(found.select_related("stage__section").order_by("stage__position", "position"))


def _hold(stage: Stage, at: datetime.datetime) -> list[str]:
    return [f"it is on hold until {until(stage)} ({stage.hold_reason})"] if stage.is_held(at) else []


def until(stage: Stage) -> str:
    """When a stage's hold ends, by the workshop's clock."""
    return moment_words(timezone.localtime(stage.hold_until)) if stage.hold_until else ""
