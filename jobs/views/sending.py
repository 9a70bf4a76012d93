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
from materials.estimator.errors import EstimatorError
from studio.access import MemberRequest, office_only
from studio.locking import Conflict
from studio.office.queries import house
from studio.quantities import system_of

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
    if request.method == "POST" and form.is_valid():
        try:
            services.add_way(by=request.user, row=row, values=form.values())
        except (services.Taken, EstimatorError) as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, "It is added; crate sheets reckon with it from now on.")
            return redirect("ways")
    context = {**IN_OFFICE, "kind": known, "form": form}
    return render(request, "jobs/sending/way.html", context, status=422 if form.errors else 200)


@office_only
@GET_OR_POST
def way(request: MemberRequest, kind: str, pk: int) -> HttpResponse:
    """Change a door, a vehicle or a limit."""
    known, status = _kind(kind), 200
    row, system = get_object_or_404(known.model, pk=pk), system_of(house().units)
    form = known.form(request.POST if request.method == "POST" else None, row=row, system=system)
    context: dict[str, Any] = {**IN_OFFICE, "kind": known, "row": row, "form": form}
    if request.method == "POST" and form.is_valid():
        try:
            services.change_way(by=request.user, row=row, version=form.cleaned_data["version"], values=form.values())
        except (services.Taken, EstimatorError) as refused:
            form.add_error(None, str(refused))
        except Conflict:
            now = known.form(row=get_object_or_404(known.model, pk=pk), system=system)
            context["there_now"], status = form.catch_up(now), 409
        else:
            messages.success(request, "It is saved; crate sheets reckon with it from now on.")
            return redirect("ways")
    return render(request, "jobs/sending/way.html", context, status=422 if form.errors else status)


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
