"""Lay-ups: the schedule of gel coat and glass of moulds and of casts."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from materials.estimator.spec import LayUp as LayUpValue
from materials.forms.schemes import LayUpForm
from materials.models import LayUp, LayUpUse
from materials.queries.figures import lay_up_value, studio_figures
from materials.services.schemes import SchemeError, add_lay_up, change_lay_up
from materials.worked_schemes import LayUpWorked, lay_up_in_words, work_lay_up
from studio.access import MemberRequest, office_only
from studio.locking import Conflict
from studio.office.queries import house
from studio.quantities import system_of


@office_only
@require_safe
def lay_ups(request: MemberRequest) -> HttpResponse:
    """Every lay-up with what it comes to on a square metre."""
    figures, system = studio_figures().coefficients, system_of(house().units)
    rows: dict[str, list[tuple[LayUp, str, LayUpWorked]]] = {use: [] for use in LayUpUse.values}
    for row in LayUp.objects.prefetch_related("plies"):
        value = lay_up_value(row)
        rows[row.use].append((row, lay_up_in_words(value, system), work_lay_up(value, figures)))
    groups = [(use.value, use.label, rows[use.value]) for use in LayUpUse]
    return render(request, "materials/lay_ups.html", {"place": "office", "office_sheet": "lay_ups", "groups": groups})


def _form(request: MemberRequest, use: str, row: LayUp | None = None) -> LayUpForm:
    return LayUpForm(request.POST if request.method == "POST" else None, use=use, units=house().units, row=row)


def _sent(request: MemberRequest, form: LayUpForm) -> LayUpValue | None:
    """The lay-up sent to be saved; None if it is not whole, or was only to be worked out."""
    if request.method == "POST" and form.is_valid() and "try" not in request.POST:
        return form.value
    return None


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_lay_up(request: MemberRequest, use: str) -> HttpResponse:
    """Add a lay-up for moulds or for casts."""
    if use not in LayUpUse.values:
        raise Http404
    form = _form(request, use)
    if value := _sent(request, form):
        try:
            row = add_lay_up(by=request.user, use=use, value=value, **form.particulars())
        except SchemeError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{row} is added.")
            return redirect("lay_ups")
    context: dict[str, Any] = {"place": "office", "office_sheet": "lay_ups", "use": LayUpUse(use), "form": form}
    if form.value:
        context["worked"] = work_lay_up(form.value, studio_figures().coefficients)
    return render(request, "materials/lay_up.html", context, status=422 if form.errors else 200)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def lay_up(request: MemberRequest, pk: int) -> HttpResponse:
    """Change a lay-up, or work out a change before keeping it."""
    row = get_object_or_404(LayUp.objects.prefetch_related("plies"), pk=pk)
    form, status = _form(request, row.use, row), 200
    context: dict[str, Any] = {
        "place": "office",
        "office_sheet": "lay_ups",
        "use": LayUpUse(row.use),
        "row": row,
        "form": form,
    }
    if value := _sent(request, form):
        version = form.cleaned_data["version"]
        try:
            change_lay_up(by=request.user, row=row, version=version, value=value, **form.particulars())
        except SchemeError as error:
            form.add_error(None, str(error))
        except Conflict:
            now = LayUp.objects.get(pk=pk)
            context["there_now"] = form.catch_up(LayUpForm(use=row.use, units=house().units, row=now))
            status = 409
        else:
            messages.success(request, f"{row} is saved.")
            return redirect("lay_ups")
    context["worked"] = work_lay_up(form.value or lay_up_value(row), studio_figures().coefficients)
    return render(request, "materials/lay_up.html", context, status=422 if form.errors else status)
