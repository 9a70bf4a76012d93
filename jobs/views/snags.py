"""Snags: found on a section and marked on its drawing, mended, closed."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.safestring import SafeString
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.forms.looks import PLACES, SnagForm
from jobs.models import Commission, Section, Snag
from jobs.pictures.outlines import drawing_of_section
from jobs.pictures.snags import POINTED_WIDTH, box_of, pointed_at, with_marks
from jobs.services import snags as services
from studio.access import MemberRequest, members
from studio.locking import Conflict
from studio.office.queries import house

_ACTS: dict[str, tuple[Callable[..., None], str]] = {
    "mend": (services.mend_snag, "is mended; somebody else closes it"),
    "close": (services.close_snag, "is closed"),
    "back": (services.open_snag_again, "is sent back"),
}


@members
@require_safe
def snags(request: MemberRequest, pk: int) -> HttpResponse:
    """Every snag of a commission, section by section, with its mark on the drawing."""
    commission = get_object_or_404(Commission, pk=pk)
    found = commission.snags.select_related("section", "found_by", "mended_by", "closed_by")
    units = house().units
    by_section: dict[Section, list[Snag]] = {}
    for snag in found.order_by("section__position", "found_at", "pk"):
        by_section.setdefault(snag.section, []).append(snag)
    context: dict[str, Any] = {
        "place": "commissions",
        "commission": commission,
        "sheet": "looks",
        "sections": [(section, own, with_marks(section, own, units)) for section, own in by_section.items()],
    }
    return render(request, "jobs/looks/snags.html", context)


@members
@require_http_methods(["GET", "HEAD", "POST"])
def new_snag(request: MemberRequest, pk: int) -> HttpResponse:
    """Write a snag down: by pointing at the drawing, which sends the form, or by choosing the place in words."""
    section = get_object_or_404(Section.objects.select_related("commission"), pk=pk)
    drawing = drawing_of_section(section, house().units)
    form = SnagForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        place = pointed_at(request.POST.get("at.x", ""), request.POST.get("at.y", ""), drawing)
        place = place or PLACES.get(form.cleaned_data["place"])
        found = services.Found(
            what=form.cleaned_data["what"],
            grade=form.cleaned_data["grade"],
            minutes=form.cleaned_data["minutes"],
            x=place[0] if place else None,
            y=place[1] if place else None,
        )
        services.add_snag(by=request.user, section=section, found=found)
        messages.success(request, "The snag is written down.")
        return redirect("snags", section.commission_id)
    box = box_of(drawing)
    context = {
        "place": "commissions",
        "commission": section.commission,
        "section": section,
        "sheet": "looks",
        "form": form,
        "width": POINTED_WIDTH,
        "height": round(POINTED_WIDTH * box[1] / box[0]) if box else 0,
    }
    return render(request, "jobs/looks/snag_new.html", context, status=422 if form.errors else 200)


@members
@require_safe
def section_drawing(request: MemberRequest, pk: int) -> HttpResponse:
    """A section's drawing as a picture of its own, to be pointed at."""
    section = get_object_or_404(Section, pk=pk)
    drawing = drawing_of_section(section, house().units)
    if box_of(drawing) is None:
        raise Http404
    if "xmlns=" not in drawing:
        drawing = SafeString(drawing.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1))
    return HttpResponse(drawing, content_type="image/svg+xml")


@members
@require_POST
def move_snag(request: MemberRequest, pk: int) -> HttpResponse:
    """Mend, close or send back."""
    snag = get_object_or_404(Snag.objects.select_related("commission", "mended_by", "closed_by"), pk=pk)
    act, said = _ACTS.get(request.POST.get("act", ""), (None, ""))
    version = request.POST.get("version", "")
    if act is None or not (version.isascii() and version.isdigit() and len(version) < 9):
        return redirect("snags", snag.commission_id)
    try:
        act(by=request.user, snag=snag, version=int(version))
        messages.success(request, f"“{snag.what}” {said}.")
    except services.SnagRefused as refused:
        messages.error(request, str(refused))
    except Conflict:
        messages.error(request, "Somebody has moved this snag on meanwhile; look at it again.")
    return redirect("snags", snag.commission_id)
