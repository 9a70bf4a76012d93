"""The office at a glance, and the record of what was changed."""

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio.access import MemberRequest, office_only
from studio.office.queries import changes_outside_commissions

A_PAGE = 50


@office_only
@require_safe
def office(request: MemberRequest) -> HttpResponse:
    """What can be set here."""
    return render(request, "office/office.html", {"place": "office"})


@office_only
@require_safe
def office_record(request: MemberRequest) -> HttpResponse:
    """Who changed what outside the commissions, newest first."""
    page = Paginator(changes_outside_commissions(), A_PAGE).get_page(request.GET.get("page"))
    return render(request, "office/record.html", {"place": "office", "office_sheet": "record", "page": page})
