"""The sheets of labels that the studio buys."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from jobs.forms.labels import LabelStockForm
from jobs.models import LabelStock
from jobs.services import label_stocks as services
from jobs.views.keeping import try_to_keep
from materials.estimator.errors import EstimatorError
from studio.access import MemberRequest, office_only

GET_OR_POST = require_http_methods(["GET", "HEAD", "POST"])
REFUSALS = (services.NameTaken, EstimatorError)
IN_OFFICE: dict[str, Any] = {"place": "office", "office_sheet": "labels"}


@office_only
@require_safe
def label_stocks(request: MemberRequest) -> HttpResponse:
    """Every sheet with its measures."""
    return render(request, "jobs/labels/stocks.html", {**IN_OFFICE, "rows": LabelStock.objects.all()})


@office_only
@GET_OR_POST
def new_label_stock(request: MemberRequest) -> HttpResponse:
    """Add a sheet."""
    form = LabelStockForm(request.POST if request.method == "POST" else None)
    tried = try_to_keep(form, lambda: services.add_label_stock(by=request.user, values=form.values()), REFUSALS)
    if tried.kept:
        messages.success(request, f"{form.cleaned_data['name']} is added.")
        return redirect("label_stocks")
    return render(request, "jobs/labels/stock.html", {**IN_OFFICE, "form": form}, status=tried.status)


@office_only
@GET_OR_POST
def label_stock(request: MemberRequest, pk: int) -> HttpResponse:
    """Change a sheet's measures."""
    row = get_object_or_404(LabelStock, pk=pk)
    form = LabelStockForm(request.POST if request.method == "POST" else None, row=row)

    def change() -> None:
        version = form.cleaned_data["version"]
        services.change_label_stock(by=request.user, row=row, version=version, values=form.values())

    tried = try_to_keep(form, change, REFUSALS, now=lambda: LabelStockForm(row=LabelStock.objects.get(pk=pk)))
    if tried.kept:
        messages.success(request, f"{row} is saved.")
        return redirect("label_stocks")
    context = {**IN_OFFICE, "row": row, "form": form, "there_now": tried.there_now}
    return render(request, "jobs/labels/stock.html", context, status=tried.status)


@office_only
@GET_OR_POST
def remove_label_stock(request: MemberRequest, pk: int) -> HttpResponse:
    """Ask once more, then remove."""
    row = get_object_or_404(LabelStock, pk=pk)
    if request.method == "POST":
        services.remove_label_stock(by=request.user, row=row)
        messages.success(request, f"{row} is removed.")
        return redirect("label_stocks")
    return render(request, "jobs/labels/stock_remove.html", {**IN_OFFICE, "row": row})
