"""The office's own lists: doors, vehicles and limits of the road, slings, sheets of labels."""

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.forms.labels import LabelStockForm
from jobs.forms.lifting import SlingForm
from jobs.forms.own_rows import OwnRowForm
from jobs.forms.sending import DoorwayForm, RoadLimitForm, TransportForm
from jobs.models import Doorway, LabelStock, OwnRow, RoadLimit, Sling, Transport
from jobs.queries.sending import limits_by_measure
from jobs.services import own_rows as services
from jobs.views.keeping import try_to_keep
from materials.estimator.errors import EstimatorError
from studio.access import MemberRequest, office_only
from studio.office.queries import house
from studio.quantities import system_of

REFUSALS = (services.Taken, EstimatorError)
GET_OR_POST = require_http_methods(["GET", "HEAD", "POST"])


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of row: its word in addresses, its row and form, and the list it stands on."""

    key: str
    model: type[OwnRow]
    form: type[OwnRowForm]
    listed: str
    list_called: str

    @property
    def called(self) -> str:
        """What a row of it is called."""
        return self.model.called

    def form_of(self, row: OwnRow, request: MemberRequest | None = None) -> OwnRowForm:
        """The form of a row, with what was sent if anything was."""
        sent = request.POST if request is not None and request.method == "POST" else None
        return self.form(sent, row=row, system=system_of(house().units))

    def page(self, **more: Any) -> dict[str, Any]:
        """What its pages show besides."""
        return {"place": "office", "office_sheet": self.listed, "kind": self, **more}


KINDS = {
    kind.key: kind
    for kind in (
        Kind("door", Doorway, DoorwayForm, "ways", "doors and lorries"),
        Kind("vehicle", Transport, TransportForm, "ways", "doors and lorries"),
        Kind("limit", RoadLimit, RoadLimitForm, "ways", "doors and lorries"),
        Kind("sling", Sling, SlingForm, "slings", "slings"),
        Kind("labels", LabelStock, LabelStockForm, "label_stocks", "sheets of labels"),
    )
}


def _kind(key: str) -> Kind:
    if key not in KINDS:
        raise Http404
    return KINDS[key]


@office_only
@require_safe
def ways(request: MemberRequest) -> HttpResponse:
    """Every door, vehicle and limit."""
    context = {
        "place": "office",
        "office_sheet": "ways",
        "units": house().units,
        "doors": Doorway.objects.all(),
        "vehicles": Transport.objects.all(),
        "limits": limits_by_measure(),
    }
    return render(request, "jobs/own_rows/ways.html", context)


@office_only
@require_safe
def slings(request: MemberRequest) -> HttpResponse:
    """Every sling, and which are due to be examined."""
    context = {"rows": Sling.objects.all(), "today": timezone.localdate(), "units": house().units}
    return render(request, "jobs/own_rows/slings.html", KINDS["sling"].page(**context))


@office_only
@require_safe
def label_stocks(request: MemberRequest) -> HttpResponse:
    """Every sheet of labels with its measures."""
    return render(request, "jobs/own_rows/label_stocks.html", KINDS["labels"].page(rows=LabelStock.objects.all()))


@office_only
@GET_OR_POST
def new_own_row(request: MemberRequest, kind: str) -> HttpResponse:
    """Add a row."""
    known = _kind(kind)
    row = known.model()
    form = known.form_of(row, request)
    tried = try_to_keep(form, lambda: services.add_row(by=request.user, row=row, values=form.values()), REFUSALS)
    if tried.kept:
        messages.success(request, f"{row} is added.")
        return redirect(known.listed)
    return render(request, "jobs/own_rows/row.html", known.page(form=form), status=tried.status)


@office_only
@GET_OR_POST
def own_row(request: MemberRequest, kind: str, pk: int) -> HttpResponse:
    """Change a row."""
    known = _kind(kind)
    row = get_object_or_404(known.model, pk=pk)
    form = known.form_of(row, request)

    def change() -> None:
        services.change_row(by=request.user, row=row, version=form.cleaned_data["version"], values=form.values())

    tried = try_to_keep(form, change, REFUSALS, now=lambda: known.form_of(get_object_or_404(known.model, pk=pk)))
    if tried.kept:
        messages.success(request, f"{row} is saved.")
        return redirect(known.listed)
    context = known.page(row=row, form=form, there_now=tried.there_now)
    return render(request, "jobs/own_rows/row.html", context, status=tried.status)


@office_only
@GET_OR_POST
def remove_own_row(request: MemberRequest, kind: str, pk: int) -> HttpResponse:
    """Ask once more, then remove."""
    known = _kind(kind)
    row = get_object_or_404(known.model, pk=pk)
    if request.method == "POST":
        services.remove_row(by=request.user, row=row)
        messages.success(request, f"{row} is removed.")
        return redirect(known.listed)
    return render(request, "jobs/own_rows/row_remove.html", known.page(row=row))
