"""The Form sheet: a commission's sections, what they look like and what they take."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.forms.sections import SectionForm, ShapeForm
from jobs.models import Commission, Section, Shape
from jobs.pictures.outlines import drawing_of_commission, drawing_of_section
from jobs.services import sections as services
from jobs.takeoffs import commission_figures, section_figures, section_rows
from materials.estimator.shapes import SHAPES
from materials.queries.figures import item_names, studio_figures
from studio.access import MemberRequest, members, office_only
from studio.locking import Conflict
from studio.office.queries import house


@members
@require_safe
def form_sheet(request: MemberRequest, pk: int) -> HttpResponse:
    """Every section with its measures, the drawing, and what the whole takes."""
    commission = get_object_or_404(Commission, pk=pk)
    sections = list(commission.sections.select_related("mould_lay_up", "cast_lay_up", "paint_system"))
    worked = commission_figures(commission, sections, studio_figures(), item_names())
    units = house().units
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "form",
        "sections": sections,
        "worked": worked,
        "drawing": drawing_of_commission(commission, sections, units),
        "rows": section_rows(sections, worked, units),
        "models": commission.models.only("name", "file_name", "commission"),
    }
    return render(request, "jobs/form.html", context)


def _worked(section: Section) -> dict[str, Any]:
    return {
        "section": section,
        "worked": section_figures(section, studio_figures(), item_names()),
        "drawing": drawing_of_section(section, house().units),
    }


@members
@require_safe
def section_sheet(request: MemberRequest, pk: int) -> HttpResponse:
    """One section: its outline, its measures, and every line with its working."""
    section = get_object_or_404(
        Section.objects.select_related("commission", "mould_lay_up", "cast_lay_up", "paint_system"), pk=pk
    )
    context = {"place": "commissions", "commission": section.commission, "sheet": "form", **_worked(section)}
    return render(request, "jobs/section.html", context)


def _shape(request: MemberRequest, default: str = Shape.FRUSTUM) -> str:
    asked = (request.POST if request.method == "POST" else request.GET).get("shape", default)
    return asked if asked in SHAPES else default


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_section(request: MemberRequest, pk: int) -> HttpResponse:
    """Describe a new section; choosing another shape asks for its dimensions."""
    commission = get_object_or_404(Commission, pk=pk)
    shape = _shape(request)
    figures = studio_figures()
    initial = {"pieces": 2, "pulls": 1, "count": 1, "crated": True, "pattern_method": "carved"}
    form = SectionForm(shape, figures, request.POST or None, initial=initial)
    if request.method == "POST" and form.is_valid():
        try:
            section = services.add_section(by=request.user, commission=commission, values=form.values())
        except services.NameTaken as taken:
            form.add_error("name", str(taken))
        else:
            messages.success(request, f"{section.name} is added. Its outline and take-off are here.")
            return redirect("section_sheet", section.pk)
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "form",
        "form": form,
        "shapes": ShapeForm(initial={"shape": shape}),
    }
    return render(request, "jobs/section_edit.html", context, status=422 if form.errors else 200)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def change_section(request: MemberRequest, pk: int) -> HttpResponse:
    """Change a section, its shape included."""
    section = get_object_or_404(Section.objects.select_related("commission"), pk=pk)
    shape = _shape(request, section.shape)
    figures = studio_figures()
    context: dict[str, Any] = {
        "place": "commissions",
        "commission": section.commission,
        "sheet": "form",
        "section": section,
    }
    status = 200
    if request.method == "POST":
        form = SectionForm(shape, figures, request.POST, kept=section.dimensions if shape == Shape.MESH else None)
        if form.is_valid():
            try:
                services.change_section(
                    by=request.user, section=section, version=form.cleaned_data["version"] or 0, values=form.values()
                )
            except services.NameTaken as taken:
                form.add_error("name", str(taken))
            except Conflict:
                section.refresh_from_db()
                context["there_now"], status = section, 409
            else:
                messages.success(request, f"{section.name} is saved.")
                return redirect("section_sheet", section.pk)
    else:
        form = SectionForm.of(section, figures, shape)
    context |= {"form": form, "shapes": ShapeForm(initial={"shape": shape})}
    return render(request, "jobs/section_edit.html", context, status=422 if form.errors else status)


@office_only
@require_POST
def try_section(request: MemberRequest, pk: int) -> HttpResponse:
    """Work out a section as it is being typed, for the fragment beside the form; nothing is kept."""
    commission = get_object_or_404(Commission, pk=pk)
    form = SectionForm(_shape(request), studio_figures(), request.POST)
    if not form.is_valid():
        return render(request, "jobs/_section_wanting.html", {"form": form})
    section = Section(commission=commission, **form.values())
    return render(request, "jobs/_section_figures.html", {**_worked(section), "trying": True})


@office_only
@require_POST
def move_up(request: MemberRequest, pk: int) -> HttpResponse:
    """Put a section before the one above it."""
    section = get_object_or_404(Section.objects.select_related("commission"), pk=pk)
    services.move_section_up(by=request.user, section=section)
    return redirect("form_sheet", section.commission_id)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def remove_section(request: MemberRequest, pk: int) -> HttpResponse:
    """Ask once more, then remove."""
    section = get_object_or_404(Section.objects.select_related("commission"), pk=pk)
    if request.method == "POST":
        try:
            services.remove_section(by=request.user, section=section)
        except services.SectionInUse as in_use:
            messages.error(request, str(in_use))
        else:
            messages.success(request, f"{section.name} is removed.")
        return redirect("form_sheet", section.commission_id)
    context = {"place": "commissions", "commission": section.commission, "sheet": "form", "section": section}
    return render(request, "jobs/section_remove.html", context)
