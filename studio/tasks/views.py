"""How far a piece of work is, and stopping it."""

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST, require_safe

from studio.access import MemberRequest, members, office_only
from studio.htmx import render_page, wants_fragment
from studio.tasks.models import Work
from studio.tasks.queue import cancel


@members
@require_safe
def work(request: MemberRequest, pk: int) -> HttpResponse:
    """The bar; when there is nothing more to wait for, the page that holds it is loaded anew."""
    asked = get_object_or_404(Work, pk=pk)
    response = render_page(request, "tasks/work.html", "tasks/_work.html", {"work": asked, "place": "commissions"})
    if wants_fragment(request) and not asked.going_on:
        response["HX-Refresh"] = "true"
    return response


@office_only
@require_POST
def stop_work(request: MemberRequest, pk: int) -> HttpResponse:
    """Stop a piece of work."""
    asked = get_object_or_404(Work, pk=pk)
    cancel(work=asked)
    return redirect(asked.page)
