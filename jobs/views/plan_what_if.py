"""What if: a plan worked out with something supposed, and an enquiry set into the plan."""

from collections.abc import Sequence

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.forms.plans import SupposeForm
from jobs.models import Commission, CommissionState, Plan
from jobs.plans.estimates import estimate_of
from jobs.plans.pages import enquiry_context, suppose_forms
from jobs.services.drafts import Refused, drafted, save_terms
from jobs.services.planning.suppositions import TAKE_ON, Supposition, supposition_of
from jobs.services.plans import ask_for_plan
from materials.estimator.errors import EstimatorError
from studio.access import MemberRequest, office_only
from studio.locking import Conflict


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def plan_what_if(request: MemberRequest) -> HttpResponse:
    """Choose something to suppose; with a plan named, beside what that plan supposes already."""
    kind = request.POST.get("kind", "") if request.method == "POST" else ""
    forms = suppose_forms(timezone.localdate(), kind, request.POST if kind else None)
    before = _before(request.GET.get("with", ""))
    form = next((each for each in forms if each.kind == kind), None)
    if form is not None and form.is_valid():
        try:
            supposed = [*before, _whole(form)]
        except EstimatorError as error:
            form.add_error(None, str(error))
        else:
            plan = ask_for_plan(by=request.user, suppositions=supposed)
            return redirect("plan_sheet", plan.pk)
    if request.method == "POST" and form is None:
        messages.error(request, "This page lost its place; choose once more.")
    status = 422 if request.method == "POST" else 200
    context = {"place": "workshop", "forms": forms, "before": before, "form": form}
    return render(request, "jobs/plan/what_if.html", context, status=status)


@office_only
@require_POST
def when_could_it_be_done(request: MemberRequest, pk: int) -> HttpResponse:
    """Ask when an enquiry could be taken on and done."""
    commission = get_object_or_404(Commission, pk=pk, state__in=[CommissionState.ENQUIRY, CommissionState.QUOTED])
    try:
        supposed = _taking_on(commission)
    except EstimatorError as error:
        messages.error(request, str(error))
        return redirect("commission_plan", pk)
    ask_for_plan(by=request.user, suppositions=[supposed], page=f"/commissions/{commission.pk}/plan/")
    return redirect("commission_plan", pk)


@office_only
@require_POST
def fill_programme(request: MemberRequest, pk: int) -> HttpResponse:
    """Put the weeks that the plan gives an enquiry into its draft."""
    commission = get_object_or_404(Commission, pk=pk)
    weeks = enquiry_context(commission, timezone.localdate()).get("weeks")
    if weeks is None:
        messages.error(request, "Ask first when it could be done; the plan then gives the weeks.")
        return redirect("commission_plan", pk)
    seen = drafted(commission)
    try:
        save_terms(by=request.user, commission=commission, version=seen.draft.version, terms={"programme_weeks": weeks})
    except (Refused, Conflict) as refused:
        messages.error(request, str(refused) or "Somebody changed the draft meanwhile; try once more.")
    else:
        messages.success(request, f"The draft now promises {weeks} weeks.")
    return redirect("commission_plan", pk)


def _whole(form: SupposeForm) -> Supposition:
    """What was entered; an enquiry is taken on with its take-off."""
    given = form.supposition()
    return _taking_on(form.commissions[given.commission]) if given.kind == TAKE_ON else given


def _taking_on(commission: Commission) -> Supposition:
    if not commission.sections.exists():
        message = f"{commission.title} has no section yet; describe the first on its Form sheet."
        raise EstimatorError("sections", "", message)
    estimate = estimate_of(commission).kept()
    return Supposition(TAKE_ON, f"take on {commission.title}", commission=str(commission.pk), estimate=estimate)


def _before(asked: str) -> Sequence[Supposition]:
    """What the plan named in the address supposes."""
    if not (asked.isascii() and asked.isdigit()):
        return ()
    plan = get_object_or_404(Plan, pk=int(asked[:12]))
    return [supposition_of(kept) for kept in plan.suppositions]
