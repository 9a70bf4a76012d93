"""Parting a model: planes given and suggested, and the sections that come of it."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from jobs.forms.models import PLANE_FORMS, FitForm, NamesForm, PlaneForm
from jobs.model_sheet import part_names, plane_forms, skin_kg_m2
from jobs.models import CommissionModel, PartingPlane, PlaneKind
from jobs.services import models as services
from jobs.services.model_sections import sections_of, use_sections
from jobs.services.sections import NameTaken, SectionInUse
from jobs.views.models import model_page
from materials.mesh.planes import Plane
from materials.queries.figures import studio_figures
from studio.access import MemberRequest, office_only


def _model(pk: int) -> CommissionModel:
    return get_object_or_404(CommissionModel.objects.select_related("commission", "file", "work"), pk=pk)


@office_only
@require_POST
def add_plane(request: MemberRequest, pk: int, kind: str) -> HttpResponse:
    """Add a plane by one of the three ways to give it."""
    model = _model(pk)
    way = next(each for each in PLANE_FORMS if each.kind == kind)
    form: PlaneForm = way(part_names(model), request.POST)
    if form.is_valid() and form.plane is not None:
        given = [(kind, form.words(), form.plane)]
        try:
            services.add_planes(by=request.user, model=model, section=form.cleaned_data["section"], planes=given)
        except services.NotDone as refused:
            form.add_error(None, str(refused))
        else:
            return redirect("model_sheet", pk)
    return model_page(request, model, 422, forms=plane_forms(model, form), form=form)


@office_only
@require_POST
def remove_plane(request: MemberRequest, pk: int) -> HttpResponse:
    """Take a plane out."""
    plane = get_object_or_404(PartingPlane.objects.select_related("model__commission", "model__work"), pk=pk)
    services.remove_plane(by=request.user, plane=plane)
    return redirect("model_sheet", plane.model_id)


@office_only
@require_POST
def find_planes(request: MemberRequest, pk: int) -> HttpResponse:
    """Look for planes that make every section fit what was asked."""
    model = _model(pk)
    figures = studio_figures()
    form = FitForm(request.POST)
    if not form.is_valid():
        return model_page(request, model, 422, fit=form, form=form)
    wanted: dict[str, Any] = {"box_m": form.sides or None, "mass_kg": form.mass_kg, "skin_kg_m2": skin_kg_m2(figures)}
    services.ask_for_planes(by=request.user, model=model, wanted=wanted, words=form.words())
    return redirect("model_sheet", pk)


@office_only
@require_POST
def take_planes(request: MemberRequest, pk: int, which: str) -> HttpResponse:
    """Part the model by what is suggested: the mirror plane, or those that make every section fit."""
    model = _model(pk)
    offered = [model.figures.get("mirror")] if which == "mirror" else model.suggested.get("planes", [])
    planes = [_offered(plane) for plane in offered if plane]
    if not planes:
        messages.error(request, "There is no plane to take any more; look at what is suggested now.")
        return redirect("model_sheet", pk)
    try:
        services.add_planes(by=request.user, model=model, section="", planes=planes)
    except services.NotDone as refused:
        messages.error(request, str(refused))
    return redirect("model_sheet", pk)


def _offered(plane: dict[str, Any]) -> tuple[str, str, Plane]:
    x, y, z = plane["normal"]
    return PlaneKind.NORMAL, plane["words"].removeprefix("the plane "), Plane((x, y, z), plane["offset_m"])


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def use_model(request: MemberRequest, pk: int) -> HttpResponse:
    """Name the sections, and make them the commission's."""
    model = _model(pk)
    parts = part_names(model)
    if not parts:
        messages.error(request, "The model has no sections yet; wait until it is measured and cut.")
        return redirect("model_sheet", pk)
    there = sections_of(model)
    usual = {part: f"{model.name} {part}" if len(parts) > 1 else model.name for part in parts}
    initial = {f"name_{part}": there[part].name if part in there else usual[part] for part in parts}
    form = NamesForm(parts, request.POST or None, initial=initial)
    if request.method == "POST" and form.is_valid():
        try:
            use_sections(by=request.user, model=model, names=form.names())
        except (NameTaken, SectionInUse) as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, "The sections are the model's now. Say for each how it is made.")
            return redirect("form_sheet", model.commission_id)
    gone = [section.name for part, section in there.items() if part not in parts]
    context = {
        "place": "commissions",
        "commission": model.commission,
        "sheet": "form",
        "model": model,
        "form": form,
        "gone": gone,
    }
    return render(request, "jobs/model_use.html", context, status=422 if form.errors else 200)
