"""The workshop at a glance, the list of commissions, and one commission's own particulars."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio.access import MemberRequest, members


@members
@require_safe
def workshop(request: MemberRequest) -> HttpResponse:
    """Every live commission."""
    return render(request, "jobs/workshop.html", {"place": "workshop"})


@members
@require_safe
def commission_list(request: MemberRequest) -> HttpResponse:
    """Every commission, with a search."""
    return render(request, "jobs/commissions.html", {"place": "commissions"})
