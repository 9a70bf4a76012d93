"""Plans as tests want them: a commission in hand, and a plan worked out here and now."""

import datetime
from collections.abc import Sequence
from typing import Any

from django.utils import timezone

from jobs.models import Commission, Plan, Stage
from jobs.services.planning.problem import Asked, asked
from jobs.services.planning.suppositions import Supposition
from jobs.services.plans import ask_for_plan, publish_plan
from studio.accounts.models import Role, User
from studio.tasks.running import perform
from tests.factories import make_person
from tests.jobs.stage_life import in_hand

# A Monday morning with no public holiday in the fortnight after it.
MONDAY = datetime.datetime(2026, 3, 2, 8, 0, tzinfo=datetime.UTC)


def owner() -> User:
    """Maud; made where she is not there yet."""
    return User.objects.filter(role=Role.OWNER).first() or make_person(Role.OWNER)


def to_plan(title: str = "The Long Pear", allowed_h: float = 12, **values: Any) -> Commission:
    """A commission in hand with hours on every stage, and somebody at the bench."""
    if not User.objects.filter(role=Role.BENCH).exists():
        make_person(Role.BENCH)
        make_person(Role.BENCH, username="jory", shown_name="Jory Penhale")
    needed_by = values.pop("needed_by", None)
    commission = in_hand(title, **values)
    Stage.objects.filter(commission=commission).update(allowed_minutes=round(allowed_h * 60))
    Commission.objects.filter(pk=commission.pk).update(needed_by=needed_by)
    commission.refresh_from_db()
    return commission


def gathered(*suppositions: Supposition, now: datetime.datetime = MONDAY) -> Asked:
    """What the solver would be asked."""
    return asked(now, suppositions)


def worked_out(suppositions: Sequence[Supposition] = (), seconds: int = 1) -> Plan:
    """A plan, worked out as the worker would."""
    plan = ask_for_plan(by=owner(), suppositions=suppositions, seconds=seconds)
    perform(plan.work_id or 0)
    plan.refresh_from_db()
    return plan


def in_force() -> Plan:
    """A plan worked out and published."""
    plan = worked_out()
    publish_plan(by=owner(), plan=plan, at=timezone.now())
    plan.refresh_from_db()
    return plan
