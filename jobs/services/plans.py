"""Asking for a plan, keeping it, and publishing it. Each is a decision of somebody."""

import datetime
from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone

from jobs.models import Plan
from jobs.services.planning.suppositions import Supposition
from studio.accounts.models import User
from studio.audit import record
from studio.tasks.queue import cancel, enqueue

KIND = "plan"
SUBJECT = "plan"
SECONDS = 10


class PlanRefused(ValueError):
    """A plan that cannot be kept, published or told; the sentence says why."""


@transaction.atomic
def ask_for_plan(*, by: User, suppositions: Sequence[Supposition] = (), seconds: int = SECONDS, page: str = "") -> Plan:
    """Have a plan worked out behind the pages, and shown on ``page`` or its own.

    One that was asked for in the same way before and is not kept makes room.
    """
    kept = [each.kept() for each in suppositions]
    for earlier in Plan.objects.filter(suppositions=kept, kept_at__isnull=True).select_related("work"):
        if earlier.work is not None and earlier.work.going_on:
            cancel(work=earlier.work)
        earlier.delete()
    plan = Plan.objects.create(
        made_by=by, begins=timezone.localdate(), suppositions=kept, seconds=seconds, kept_at=None
    )
    title = f"Planning: {', '.join(each.words for each in suppositions)}" if suppositions else "Planning the studio"
    plan.work = enqueue(kind=KIND, title=title, about={"plan": plan.pk}, page=page or f"/plan/{plan.pk}/", by=by)
    plan.save(update_fields=["work"])
    return plan


@transaction.atomic
def keep_plan(*, by: User, plan: Plan) -> None:
    """Keep a plan, so that the next one asked for does not take its place."""
    held = _held(plan)
    if held.kept_at is not None:
        return
    held.kept_at = timezone.now()
    held.save(update_fields=["kept_at"])
    record(actor=by, subject=SUBJECT, act=f"Kept: {held}", after=_in_words(held))


@transaction.atomic
def publish_plan(*, by: User, plan: Plan, at: datetime.datetime) -> None:
    """Put a plan in force: the workshop goes by it, and from now on nothing of it changes."""
    held = _held(plan)
    if held.published_at is not None:
        raise PlanRefused("This plan is published already.")
    newer = Plan.objects.published().first()
    if newer is not None and newer.made_at > held.made_at:
        raise PlanRefused("A newer plan is in force; work out a new one instead of going back to this.")
    held.kept_at = held.kept_at or at
    held.published_at, held.published_by = at, by
    held.save(update_fields=["kept_at", "published_at", "published_by"])
    record(actor=by, subject=SUBJECT, act=f"Published: {held}", after=_in_words(held))


@transaction.atomic
def drop_plan(*, by: User, plan: Plan) -> None:
    """Throw a plan away that was never published."""
    held = Plan.objects.select_for_update(of=("self",)).select_related("work").get(pk=plan.pk)
    if held.published_at is not None:
        raise PlanRefused("A published plan stays; publish another in its place.")
    if held.work is not None and held.work.going_on:
        cancel(work=held.work)
    if held.kept_at is not None:
        record(actor=by, subject=SUBJECT, act=f"Thrown away: {held}", before=_in_words(held))
    held.delete()


def _held(plan: Plan) -> Plan:
    """The plan's row until the transaction ends; it has to have been worked out and proved."""
    held = Plan.objects.select_for_update(of=("self",)).get(pk=plan.pk)
    if not held.is_worked_out:
        raise PlanRefused("This plan has not been worked out yet; wait until it is, or ask for it again.")
    return held


def _in_words(plan: Plan) -> dict[str, object]:
    finishes = {row["name"]: row["finish"] for row in plan.result["commissions"]}
    return {"suppositions": [each["words"] for each in plan.suppositions], "finishes": finishes, "digest": plan.digest}
