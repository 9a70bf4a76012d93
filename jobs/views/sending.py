"""The office's doors, vehicles and limits of the road, which crates are measured against."""

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from jobs.forms.sending import DoorwayForm, RoadLimitForm, TransportForm, WayForm
from jobs.models import Doorway, RoadLimit, Transport, Way
from jobs.queries.sending import limits_by_measure
from jobs.services import sending as services
from jobs.views.keeping import try_to_keep
from materials.estimator.errors import EstimatorError
from studio.access import MemberRequest, office_only
from studio.office.queries import house
from studio.quantities import system_of

REFUSALS = (services.Taken, EstimatorError)
GET_OR_POST = require_http_methods(["GET", "HEAD", "POST"])
IN_OFFICE: dict[str, Any] = {"place": "office", "office_sheet": "ways"}


@dataclass(frozen=True, slots=True)
class Kind:
    """One of the three lists: its word in addresses, what a row is called, and its row and form."""

    key: str
    called: str
    model: type[Way]
    form: type[WayForm]


KINDS = {
    kind.key: kind
    for kind in (
        Kind("door", "door", Doorway, DoorwayForm),
        Kind("vehicle", "vehicle", Transport, TransportForm),
        Kind("limit", "limit of the road", RoadLimit, RoadLimitForm),
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
        **IN_OFFICE,
        "doors": Doorway.objects.all(),
        "vehicles": Transport.objects.all(),
        "limits": limits_by_measure(),
        "units": house().units,
    }
    return render(request, "jobs/sending/ways.html", context)


@office_only
@GET_OR_POST
def new_way(request: MemberRequest, kind: str) -> HttpResponse:
    """Add a door, a vehicle or a limit."""
    known = _kind(kind)
    row = known.model()
    form = known.form(request.POST if request.method == "POST" else None, row=row, system=system_of(house().units))
    tried = try_to_keep(form, lambda: services.add_way(by=request.user, row=row, values=form.values()), REFUSALS)
    if tried.kept:
        messages.success(request, "It is added; crate sheets reckon with it from now on.")
        return redirect("ways")
    context = {**IN_OFFICE, "kind": known, "form": form}
    return render(request, "jobs/sending/way.html", context, status=tried.status)


@office_only
@GET_OR_POST
def way(request: MemberRequest, kind: str, pk: int) -> HttpResponse:
    """Change a door, a vehicle or a limit."""
    known = _kind(kind)
    row, system = get_object_or_404(known.model, pk=pk), system_of(house().units)
    form = known.form(request.POST if request.method == "POST" else None, row=row, system=system)

    def change() -> None:
        services.change_way(by=request.user, row=row, version=form.cleaned_data["version"], values=form.values())

    def now() -> WayForm:
        return known.form(row=get_object_or_404(known.model, pk=pk), system=system)

    tried = try_to_keep(form, change, REFUSALS, now=now)
    if tried.kept:
        messages.success(request, "It is saved; crate sheets reckon with it from now on.")
        return redirect("ways")
    context = {**IN_OFFICE, "kind": known, "row": row, "form": form, "there_now": tried.there_now}
    return render(request, "jobs/sending/way.html", context, status=tried.status)


@office_only
@GET_OR_POST
def remove_way(request: MemberRequest, kind: str, pk: int) -> HttpResponse:
    """Ask once more, then remove."""
    known = _kind(kind)
    row = get_object_or_404(known.model, pk=pk)
    if request.method == "POST":
        services.remove_way(by=request.user, row=row)
        messages.success(request, "It is removed; crate sheets do without it from now on.")
        return redirect("ways")
    return render(request, "jobs/sending/way_remove.html", {**IN_OFFICE, "kind": known, "row": row})
