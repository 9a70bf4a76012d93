"""The Standing sheet: whether a commission still makes money, and what it will cost when it is done."""

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.board import days_late
from jobs.models import Commission, CommissionState
from jobs.pictures.standing import bars, columns
from jobs.queries.plans import expected_on
from jobs.standing.commission import standing_of
from studio.access import MemberRequest, office_only
from studio.office.queries import house


@office_only
@require_safe
def standing_sheet(request: MemberRequest, pk: int) -> HttpResponse:
    """Budget, spent, earned and forecast of a commission, by section and stage."""
    commission = get_object_or_404(Commission, pk=pk)
    today = timezone.localdate()
    planned = expected_on(commission)
    standing = standing_of(commission, on=today, currency=house().currency)
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "standing",
        "today": today,
        "days_late": days_late(commission, today, planned),
        "standing": standing,
        "planned": planned,
    }
    if standing is not None:
        goes_on = commission.state == CommissionState.ACCEPTED
        context |= {
            "goes_on": goes_on,
            "currency": standing.currency,
            "bars": bars(standing.rows),
            "columns": columns(standing.booked, today, goes_on=goes_on),
        }
    return render(request, "jobs/standing/standing.html", context)
