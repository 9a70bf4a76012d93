"""The slings that the studio owns."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.forms.lifting import SlingForm
from jobs.models import Sling
from jobs.services.lifting import MarkTaken, add_sling, change_sling, remove_sling
from jobs.views.keeping import try_to_keep
from studio.access import MemberRequest, office_only
from studio.office.queries import house

GET_OR_POST = require_http_methods(["GET", "HEAD", "POST"])
IN_OFFICE: dict[str, Any] = {"place": "office", "office_sheet": "slings"}


@office_only
@require_safe
def slings(request: MemberRequest) -> HttpResponse:
    """Every sling, and which are due to be examined."""
    context = {**IN_OFFICE, "rows": Sling.objects.all(), "today": timezone.localdate(), "units": house().units}
    return render(request, "jobs/slings/slings.html", context)


@office_only
@GET_OR_POST
def new_sling(request: MemberRequest) -> HttpResponse:
    """Add a sling."""
    form = SlingForm(request.POST if request.method == "POST" else None, units=house().units)
    tried = try_to_keep(form, lambda: add_sling(by=request.user, values=form.values()), (MarkTaken,))
    if tried.kept:
        messages.success(request, f"{form.cleaned_data['mark']} is added.")
        return redirect("slings")
    return render(request, "jobs/slings/sling.html", {**IN_OFFICE, "form": form}, status=tried.status)


@office_only
@GET_OR_POST
def sling(request: MemberRequest, pk: int) -> HttpResponse:
    """Change what is known of a sling."""
    row, units = get_object_or_404(Sling, pk=pk), house().units
    form = SlingForm(request.POST if request.method == "POST" else None, row=row, units=units)

    def change() -> None:
        change_sling(by=request.user, row=row, version=form.cleaned_data["version"], values=form.values())

    tried = try_to_keep(form, change, (MarkTaken,), now=lambda: SlingForm(row=Sling.objects.get(pk=pk), units=units))
    if tried.kept:
        messages.success(request, f"{row} is saved.")
        return redirect("slings")
    context = {**IN_OFFICE, "row": row, "form": form, "there_now": tried.there_now}
    return render(request, "jobs/slings/sling.html", context, status=tried.status)


@office_only
@GET_OR_POST
def sling_remove(request: MemberRequest, pk: int) -> HttpResponse:
    """Ask once more, then remove."""
    row = get_object_or_404(Sling, pk=pk)
    if request.method == "POST":
        remove_sling(by=request.user, row=row)
        messages.success(request, f"{row} is removed.")
        return redirect("slings")
    return render(request, "jobs/slings/sling_remove.html", {**IN_OFFICE, "row": row})
