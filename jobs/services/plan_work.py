"""What the worker does for a plan: gather, look for the best, prove it, and say what it means."""

import datetime
import logging
from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction
from django.utils import timezone

from jobs.figures.plan.proof import breaches
from jobs.figures.plan.solving import solve
from jobs.models import Commission, Plan
from jobs.services.planning.outcome import Outcome, digest_of, inputs_of
from jobs.services.planning.problem import Asked, asked
from jobs.services.planning.remedies import costs_of, remedies
from jobs.services.planning.suppositions import Supposition, supposition_of
from materials.estimator.errors import EstimatorError
from studio.tasks.models import Work
from studio.tasks.reporting import Cancelled, Failed, Report

NOTHING = "There is nothing to plan: no commission is accepted. Accept a quote first, or ask when one could be done."

log = logging.getLogger(__name__)


def work_out_plan(work: Work, report: Report) -> Mapping[str, Any]:
    """Handler of the kind "plan"."""
    plan = Plan.objects.filter(pk=work.about["plan"], published_at__isnull=True).first()
    if plan is None:
        # Thrown away, or asked for anew, since.
        raise Cancelled
    try:
        return _worked_out(plan, report, timezone.now())
    except EstimatorError as error:
        raise Failed(str(error)) from error


def _worked_out(plan: Plan, report: Report, now: datetime.datetime) -> Mapping[str, Any]:
    report(2, "Gathering what is still to be done", until=8)
    suppositions = [supposition_of(kept) for kept in plan.suppositions]
    gathered = asked(now, suppositions)
    if not gathered.commissions:
        raise Failed(NOTHING)
    report(8, "Looking for the best plan", until=60, seconds=plan.seconds)
    found = solve(gathered.problem, seconds=plan.seconds)
    report(60, "Proving that it keeps every rule", until=64)
    broken = breaches(gathered.problem, found)
    if broken:
        log.error("Plan %s breaks rules: %s", plan.pk, "; ".join(broken))
        raise Failed(f"The plan that was found breaks a rule and is not shown: {broken[0]} Ask for it once more.")
    report(64, "Working out chances and who does what", until=75, seconds=4)
    commissions = Commission.objects.in_bulk([int(each.id) for each in gathered.commissions])
    outcome = Outcome(gathered, found, {str(pk): row for pk, row in commissions.items()})
    result = outcome.kept()
    # What is supposed is priced by what there is without it.
    plain = asked(now) if suppositions else gathered
    result["cost_minor"] = _cost(plain, suppositions)
    if not suppositions:
        late = _latest(result["commissions"])
        report(75, "Looking for remedies", until=98, seconds=10 * len(late) + 1)
        mended = remedies(
            gathered, found, late, now, plan.seconds, lambda words: report(75, words, until=98, seconds=8)
        )
        for each in result["commissions"]:
            each["remedies"] = mended.found.get(each["id"])
            each["remedies_cut"] = each["id"] in mended.cut_off
    return _kept(plan, gathered, result, report)


def _latest(commissions: Sequence[Mapping[str, Any]]) -> list[str]:
    """The commissions that are late, the latest first."""
    day = datetime.date.fromisoformat
    late = [
        ((day(each["finish"]) - day(each["needed_by"])).days, each["id"])
        for each in commissions
        if each["needed_by"] and each["finish"] > each["needed_by"]
    ]
    return [own for _, own in sorted(late, reverse=True)]


def _cost(plain: Asked, suppositions: Sequence[Supposition]) -> int | None:
    """What all that is supposed costs; None where a price is missing."""
    known = costs_of(plain)
    costs = [known.of(each) for each in suppositions]
    return None if None in costs else sum(cost or 0 for cost in costs)


@transaction.atomic
def _kept(plan: Plan, gathered: Asked, result: Mapping[str, Any], report: Report) -> Mapping[str, Any]:
    report.check()
    inputs = inputs_of(gathered)
    rows = Plan.objects.filter(pk=plan.pk, published_at__isnull=True)
    if not rows.update(begins=gathered.days.days[0], inputs=inputs, digest=digest_of(inputs), result=dict(result)):
        raise Cancelled
    return {"plan": plan.pk}
