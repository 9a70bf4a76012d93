"""The plan: its pages for the whole studio and for one commission, and the decisions about it."""

import datetime
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.forms.plans import AskForm
from jobs.models import Commission, CommissionState, Plan
from jobs.plans.pages import commission_context, enquiry_context, plan_context, shown_plan
from jobs.plans.reading import PlanSheet
from jobs.queries.plans import in_force, newest
from jobs.services import plans as services
from jobs.services.published import publish as publish_day
from jobs.weeks import read_week
from studio.access import MemberRequest, members, office_only
from studio.locking import Conflict


@members
@require_safe
def plan_home(request: MemberRequest) -> HttpResponse:
    """The plan in force, or the newest there is."""
    plan, last = shown_plan(), newest()
    context: dict[str, Any] = {"place": "workshop", "plan": plan, "form": AskForm(), "in_force": in_force()}
    if plan is not None:
        context |= plan_context(plan, timezone.localdate())
    if last is not None and last != plan:
        context["newer"] = last
    return render(request, "jobs/plan/plan.html", context)


@members
@require_safe
def plan_sheet(request: MemberRequest, pk: int) -> HttpResponse:
    """One plan, supposed or not; only what is published is for the bench."""
    plan = _plan(pk)
    context = {"place": "workshop", "form": AskForm(), "in_force": in_force()} | plan_context(
        plan, timezone.localdate()
    )
    return render(request, "jobs/plan/plan.html", context)


@office_only
@require_POST
def ask(request: MemberRequest) -> HttpResponse:
    """Have the plan of things as they are worked out."""
    form = AskForm(request.POST)
    if not form.is_valid():
        plan = shown_plan()
        context = {"place": "workshop", "plan": plan, "form": form, "in_force": in_force()}
        context |= plan_context(plan, timezone.localdate()) if plan else {}
        return render(request, "jobs/plan/plan.html", context, status=422)
    plan = services.ask_for_plan(by=request.user, seconds=int(form.cleaned_data["seconds"]))
    return redirect("plan_sheet", plan.pk)


@office_only
@require_POST
def keep(request: MemberRequest, pk: int) -> HttpResponse:
    """Keep a plan."""
    return _decide(request, pk, "The plan is kept.", services.keep_plan)


@office_only
@require_POST
def publish(request: MemberRequest, pk: int) -> HttpResponse:
    """Put a plan in force."""
    told = "The plan is published: the workshop goes by it, and nothing of it changes any more."
    return _decide(request, pk, told, services.publish_plan, at=timezone.now())


@office_only
@require_POST
def drop(request: MemberRequest, pk: int) -> HttpResponse:
    """Throw a plan away."""
    try:
        services.drop_plan(by=request.user, plan=_plan(pk))
    except services.PlanRefused as refused:
        messages.error(request, str(refused))
        return redirect("plan_sheet", pk)
    messages.success(request, "The plan is thrown away.")
    return redirect("plan")


@office_only
@require_POST
def tell(request: MemberRequest, pk: int) -> HttpResponse:
    """Let the commissioner read the day that four in five such plans keep."""
    commission = get_object_or_404(Commission, pk=pk)
    plan = in_force()
    finish = PlanSheet(plan).finish_of(commission.pk) if plan else None
    if plan is None or finish is None:
        messages.error(request, "The plan in force does not hold this commission; publish one that does first.")
    else:
        _told(request, commission, finish.p80)
    return redirect("commission_plan", pk)


@members
@require_safe
def commission_plan(request: MemberRequest, pk: int) -> HttpResponse:
    """One commission's plan; for an enquiry, when it could be done."""
    commission = get_object_or_404(Commission, pk=pk)
    context: dict[str, Any] = {"place": "commissions", "commission": commission, "sheet": "plan"}
    if commission.state in (CommissionState.ENQUIRY, CommissionState.QUOTED):
        return render(request, "jobs/plan/enquiry.html", context | enquiry_context(commission, timezone.localdate()))
    context |= commission_context(commission, timezone.localdate())
    return render(request, "jobs/plan/commission.html", context)


@members
@require_safe
def plan_week(request: MemberRequest) -> HttpResponse:
    """Who does what in a week, by the plan in force; a sheet to hang up."""
    plan = in_force()
    week = read_week(request.GET.get("week", ""), timezone.localdate())
    rows = PlanSheet(plan).week_of(week.first) if plan else []
    return render(request, "jobs/plan/week.html", {"place": "workshop", "plan": plan, "week": week, "people": rows})


def _told(request: MemberRequest, commission: Commission, day: datetime.date) -> None:
    """Tell a day with whatever the commissioner reads already."""
    last = commission.publications.first()
    try:
        publish_day(
            by=request.user,
            commission=commission,
            follows=last.number if last else 0,
            promised_on=last.promised_on if last else commission.due_by,
            expected_on=day,
            note=last.note if last else "",
            at=timezone.now(),
        )
    except Conflict:
        messages.error(request, "Somebody told them something meanwhile; look at the Commissioner sheet first.")
    else:
        messages.success(request, f"Whoever holds a progress link reads {day:%d %b %Y} from now on.")


def _plan(pk: int) -> Plan:
    return get_object_or_404(Plan.objects.select_related("work", "made_by", "published_by"), pk=pk)


def _decide(request: MemberRequest, pk: int, done: str, service: Any, **given: Any) -> HttpResponse:
    try:
        service(by=request.user, plan=_plan(pk), **given)
    except services.PlanRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, done)
    return redirect("plan_sheet", pk)
