"""The workshop at a glance."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs.models import Commission
from jobs.pictures import drawing_of_commission
from studio.access import MemberRequest, members
from studio.office.queries import house

SHOWN = 24


@members
@require_safe
def workshop(request: MemberRequest) -> HttpResponse:
    """Every live commission with its outline."""
    live = list(Commission.objects.live().prefetch_related("sections")[:SHOWN])
    units = house().units
    cards = [(commission, drawing_of_commission(commission, commission.sections.all(), units)) for commission in live]
    return render(request, "jobs/workshop.html", {"place": "workshop", "cards": cards})
