"""Photos of the work: taking them, looking at them, marking them for the commissioner."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import FileResponse, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.files import picture
from jobs.forms.looks import PhotoForm
from jobs.models import Commission, Photo
from jobs.services.photos import add_photo, show_to_commissioner
from studio.access import MemberRequest, members, office_only

A_PAGE = 24


@members
@require_http_methods(["GET", "HEAD", "POST"])
def photos(request: MemberRequest, pk: int) -> HttpResponse:
    """The photos of a commission, newest first, and one more."""
    commission = get_object_or_404(Commission, pk=pk)
    stages = commission.stages.select_related("section")
    sent = request.method == "POST"
    form = PhotoForm(stages, request.POST, request.FILES) if sent else PhotoForm(stages)
    if sent and form.is_valid():
        add_photo(
            by=request.user,
            commission=commission,
            stage=form.cleaned_data["stage"],
            pictures=form.cleaned_data["photo"],
            caption=form.cleaned_data["caption"],
        )
        messages.success(request, "The photo is kept.")
        return redirect("photos", pk)
    found = commission.photos.select_related("stage__section", "by")
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "looks",
        "form": form,
        "page": Paginator(found, A_PAGE).get_page(request.GET.get("page")),
    }
    return render(request, "jobs/looks/photos.html", context, status=422 if form.errors else 200)


@members
@require_safe
def photo_file(request: MemberRequest, pk: int, size: str) -> FileResponse:
    """The picture itself."""
    return picture(get_object_or_404(Photo, pk=pk), size)


@office_only
@require_POST
def mark_photo(request: MemberRequest, pk: int) -> HttpResponse:
    """Show a photo to the commissioner, or keep it in the house."""
    photo = get_object_or_404(Photo.objects.select_related("commission"), pk=pk)
    show_to_commissioner(by=request.user, photo=photo, shown=request.POST.get("shown") == "yes")
    return redirect("photos", photo.commission_id)
