"""The office: the studio's own settings."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio.access import MemberRequest, office_only


@office_only
@require_safe
def office(request: MemberRequest) -> HttpResponse:
    """What can be set here."""
    return render(request, "office/office.html", {"place": "office"})
