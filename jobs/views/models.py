"""Pricing from a model: sending it in, standing it up, its sheet, and the file itself."""

from typing import Any

from django.contrib import messages
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.forms.models import NewModelForm, StandForm
from jobs.model_sheet import fit_form, plane_forms, sheet_of, sizes_if
from jobs.models import Commission, CommissionModel
from jobs.services import models as services
from materials.mesh.formats.parsed import MAX_BYTES
from materials.queries.figures import studio_figures
from studio.access import MemberRequest, members, office_only
from studio.locking import Conflict
from studio.office.queries import house

# What the rest of the form adds to the file.
ROOM_BYTES = 64 * 1024


# The form is read only after its size is known; the check of its token, which reads it, comes after that.
@csrf_exempt
@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_model(request: MemberRequest, pk: int) -> HttpResponse:
    """Send a model in."""
    commission = get_object_or_404(Commission, pk=pk)
    if int(request.META.get("CONTENT_LENGTH") or 0) > MAX_BYTES + ROOM_BYTES:
        context = _around(commission) | {"form": NewModelForm(), "too_large": MAX_BYTES // 1_000_000}
        return render(request, "jobs/model_new.html", context, status=413)
    return _new_model(request, commission)


@csrf_protect
def _new_model(request: MemberRequest, commission: Commission) -> HttpResponse:
    form = NewModelForm(request.POST or None, request.FILES or None)
    if request.method == "POST":
        form = NewModelForm(request.POST, request.FILES)
        if form.is_valid():
            sent = form.cleaned_data["file"]
            try:
                model = services.add_model(
                    by=request.user,
                    commission=commission,
                    name=form.cleaned_data["name"],
                    file_name=sent.name,
                    chunks=sent.chunks(),
                    standing=form.standing(),
                )
            except ValueError as refused:
                form.add_error(None, str(refused))
            else:
                return redirect("model_sheet", model.pk)
    context = _around(commission) | {"form": form}
    return render(request, "jobs/model_new.html", context, status=422 if form.errors else 200)


@members
@require_safe
def model_sheet(request: MemberRequest, pk: int) -> HttpResponse:
    """Everything known of a model."""
    return model_page(request, _model(pk))


def model_page(request: MemberRequest, model: CommissionModel, status: int = 200, **given: Any) -> HttpResponse:
    """The model's sheet, with forms as they were typed where one was refused."""
    figures = studio_figures()
    context = (
        _around(model.commission)
        | {"forms": plane_forms(model), "fit": fit_form(figures)}
        | sheet_of(model, figures, house().units)
        | given
    )
    return render(request, "jobs/model.html", context, status=status)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def stand_model(request: MemberRequest, pk: int) -> HttpResponse:
    """Change size, which way is up, or which holes are closed."""
    model = _model(pk)
    form = StandForm(request.POST) if request.method == "POST" else StandForm.of(model)
    context = _around(model.commission) | {"model": model, "form": form, "sizes_if": sizes_if(model)}
    status = 200
    if request.method == "POST" and form.is_valid():
        try:
            services.stand_model(
                by=request.user, model=model, version=form.cleaned_data["version"] or 0, standing=form.standing()
            )
        except Conflict:
            model.refresh_from_db()
            context["there_now"], status = model, 409
        else:
            return redirect("model_sheet", pk)
    return render(request, "jobs/model_stand.html", context, status=422 if form.errors else status)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def remove_model(request: MemberRequest, pk: int) -> HttpResponse:
    """Ask once more, then remove."""
    model = _model(pk)
    if request.method == "POST":
        services.remove_model(by=request.user, model=model)
        messages.success(request, f"{model.name} is removed.")
        return redirect("form_sheet", model.commission_id)
    return render(request, "jobs/model_remove.html", _around(model.commission) | {"model": model})


@office_only
@require_POST
def measure_again(request: MemberRequest, pk: int) -> HttpResponse:
    """Ask once more for what was stopped or broke off."""
    model = _model(pk)
    services.try_again(by=request.user, model=model)
    return redirect("model_sheet", pk)


@members
@require_safe
def model_view(request: MemberRequest, pk: int) -> FileResponse:
    """The corners of the thinned model, for the turning view: float32, three to a corner, three corners to a face."""
    model = _model(pk)
    if not model.preview or not model.preview_path.exists():
        raise Http404
    return _bytes(FileResponse(model.preview_path.open("rb"), content_type="application/octet-stream"))


@office_only
@require_safe
def model_original(request: MemberRequest, pk: int) -> FileResponse:
    """The file as it was sent in."""
    model = _model(pk)
    if not model.file.path.exists():
        raise Http404
    answer = FileResponse(
        model.file.path.open("rb"),
        as_attachment=True,
        filename=model.file_name,
        content_type="application/octet-stream",
    )
    return _bytes(answer)


def _bytes(answer: FileResponse) -> FileResponse:
    # Whatever the bytes are, no browser may take them for a page of this site.
    answer["Content-Security-Policy"] = "sandbox; default-src 'none'"
    answer["X-Content-Type-Options"] = "nosniff"
    return answer


def _model(pk: int) -> CommissionModel:
    return get_object_or_404(CommissionModel.objects.select_related("commission", "file", "work"), pk=pk)


def _around(commission: Commission) -> dict[str, Any]:
    return {"place": "commissions", "commission": commission, "sheet": "form"}
