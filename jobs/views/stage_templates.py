"""The studio's own stages: what each commission is given when its quote is accepted."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from jobs.forms.stages import StageTemplateForm
from jobs.models import StageTemplate
from jobs.services import stage_templates as services
from jobs.views.keeping import try_to_keep
from studio.access import MemberRequest, office_only

GET_OR_POST = require_http_methods(["GET", "HEAD", "POST"])
IN_OFFICE: dict[str, Any] = {"place": "office", "office_sheet": "stages"}


@office_only
@require_safe
def stage_templates(request: MemberRequest) -> HttpResponse:
    """Every stage in its order, with its steps and holds."""
    rows = StageTemplate.objects.prefetch_related("steps", "checks")
    return render(request, "jobs/board/stage_templates.html", {**IN_OFFICE, "rows": rows})


@office_only
@GET_OR_POST
def new_stage_template(request: MemberRequest) -> HttpResponse:
    """Add a stage."""
    form = StageTemplateForm(request.POST if request.method == "POST" else None, place=services.next_place())
    if request.method == "POST" and form.is_valid():
        try:
            row = services.add_template(
                by=request.user, particulars=form.particulars(), steps=form.steps(), checks=form.check_lines()
            )
        except services.TemplateTaken as taken:
            form.add_error(None, str(taken))
        else:
            messages.success(request, f"{row} is added; commissions accepted from now on are given it.")
            return redirect("stage_templates")
    status = 422 if form.errors else 200
    return render(request, "jobs/board/stage_template.html", {**IN_OFFICE, "form": form}, status=status)


@office_only
@GET_OR_POST
def stage_template(request: MemberRequest, pk: int) -> HttpResponse:
    """Change a stage."""
    row = get_object_or_404(StageTemplate, pk=pk)
    form = StageTemplateForm(request.POST if request.method == "POST" else None, row=row)

    def change() -> None:
        services.change_template(
            by=request.user,
            template=row,
            version=form.cleaned_data["version"],
            particulars=form.particulars(),
            steps=form.steps(),
            checks=form.check_lines(),
        )

    def now() -> StageTemplateForm:
        return StageTemplateForm(row=StageTemplate.objects.get(pk=pk))

    tried = try_to_keep(form, change, (services.TemplateTaken,), now=now)
    if tried.kept:
        messages.success(request, f"{row} is saved; commissions that have their stages keep them as they are.")
        return redirect("stage_templates")
    context = {**IN_OFFICE, "row": row, "form": form, "there_now": tried.there_now}
    return render(request, "jobs/board/stage_template.html", context, status=tried.status)


@office_only
@GET_OR_POST
def remove_stage_template(request: MemberRequest, pk: int) -> HttpResponse:
    """Ask once more, then remove."""
    row = get_object_or_404(StageTemplate, pk=pk)
    if request.method == "POST":
        services.remove_template(by=request.user, template=row)
        messages.success(request, f"{row} is removed; commissions that have it keep it.")
        return redirect("stage_templates")
    return render(request, "jobs/board/stage_template_remove.html", {**IN_OFFICE, "row": row})
