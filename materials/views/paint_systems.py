"""Paint systems: coats from primer to clear, and what they take."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from materials.forms.schemes import PaintSystemForm
from materials.models import PaintSystem
from materials.queries.figures import coat_values
from materials.services.schemes import SchemeError, add_paint_system, change_paint_system
from materials.worked_schemes import work_system
from studio.access import MemberRequest, office_only
from studio.locking import Conflict
from studio.office.queries import house


@office_only
@require_safe
def paint_systems(request: MemberRequest) -> HttpResponse:
    """Every paint system with what it takes to a square metre."""
    rows = [(row, work_system(coat_values(row))) for row in PaintSystem.objects.prefetch_related("coats")]
    context = {"place": "office", "office_sheet": "paint_systems", "rows": rows}
    return render(request, "materials/paint_systems.html", context)


def _form(request: MemberRequest, row: PaintSystem | None = None) -> PaintSystemForm:
    return PaintSystemForm(request.POST if request.method == "POST" else None, units=house().units, row=row)


def _to_be_kept(request: MemberRequest, form: PaintSystemForm) -> bool:
    """Whether a whole system was sent to be saved, and not only to be worked out."""
    return request.method == "POST" and form.is_valid() and "try" not in request.POST


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_paint_system(request: MemberRequest) -> HttpResponse:
    """Add a paint system."""
    form = _form(request)
    if _to_be_kept(request, form):
        try:
            row = add_paint_system(by=request.user, coats=form.coats, **form.particulars())
        except SchemeError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{row} is added.")
            return redirect("paint_systems")
    context: dict[str, Any] = {"place": "office", "office_sheet": "paint_systems", "form": form}
    if form.coats:
        context["worked"] = work_system(form.coats)
    return render(request, "materials/paint_system.html", context, status=422 if form.errors else 200)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def paint_system(request: MemberRequest, pk: int) -> HttpResponse:
    """Change a paint system, or work out a change before keeping it."""
    row = get_object_or_404(PaintSystem.objects.prefetch_related("coats"), pk=pk)
    form, status = _form(request, row), 200
    context: dict[str, Any] = {"place": "office", "office_sheet": "paint_systems", "row": row, "form": form}
    if _to_be_kept(request, form):
        version = form.cleaned_data["version"]
        try:
            change_paint_system(by=request.user, row=row, version=version, coats=form.coats, **form.particulars())
        except SchemeError as error:
            form.add_error(None, str(error))
        except Conflict:
            now = PaintSystem.objects.get(pk=pk)
            context["there_now"] = form.catch_up(PaintSystemForm(units=house().units, row=now))
            status = 409
        else:
            messages.success(request, f"{row} is saved.")
            return redirect("paint_systems")
    context["worked"] = work_system(form.coats or coat_values(row))
    return render(request, "materials/paint_system.html", context, status=422 if form.errors else status)
