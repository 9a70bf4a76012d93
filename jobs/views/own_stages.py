"""The stages of one commission: which there are, and their own steps, holds and checks."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from jobs.forms.stages import AddStageForm, StageForm
from jobs.models import Commission
from jobs.queries.stages import stages_of
from jobs.services import stage_making
from jobs.services.stage_changes import change_stage
from jobs.services.stages import StageRefused
from jobs.views.keeping import try_to_keep
from jobs.views.stages import stage_under
from studio.access import MemberRequest, office_only

GET_OR_POST = require_http_methods(["GET", "HEAD", "POST"])


@office_only
@GET_OR_POST
def own_stages(request: MemberRequest, pk: int) -> HttpResponse:
    """Every stage of a commission, and a form to add one."""
    commission = get_object_or_404(Commission, pk=pk)
    form = AddStageForm(request.POST if request.method == "POST" else None, commission=commission)
    if request.method == "POST" and form.is_valid():
        try:
            made = stage_making.add_stage(by=request.user, commission=commission, **form.cleaned_data)
        except stage_making.StageNotAdded as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"{made} is added.")
            return redirect("change_stage", made.code)
    stages = list(stages_of([commission]))
    context = {"place": "commissions", "commission": commission, "sheet": "board", "stages": stages, "form": form}
    return render(request, "jobs/board/own_stages.html", context, status=422 if form.errors else 200)


@office_only
@GET_OR_POST
def change_own_stage(request: MemberRequest, code: str) -> HttpResponse:
    """Change one stage of a commission."""
    stage = stage_under(code)
    form = StageForm(request.POST if request.method == "POST" else None, row=stage)

    def change() -> None:
        change_stage(
            by=request.user,
            stage=stage,
            version=form.cleaned_data["version"],
            particulars=form.particulars(),
            steps=form.steps(),
            checks=form.check_lines(),
        )

    tried = try_to_keep(form, change, (StageRefused,), now=lambda: StageForm(row=stage_under(code)))
    if tried.kept:
        messages.success(request, f"{stage} is saved.")
        return redirect("stage_sheet", stage.code)
    context = {"place": "commissions", "commission": stage.commission, "sheet": "board", "stage": stage, "form": form}
    context["there_now"] = tried.there_now
    return render(request, "jobs/board/stage_change.html", context, status=tried.status)


@office_only
@GET_OR_POST
def remove_own_stage(request: MemberRequest, code: str) -> HttpResponse:
    """Ask once more, then remove a stage that nobody has worked on."""
    stage = stage_under(code)
    if request.method == "POST":
        try:
            stage_making.remove_stage(by=request.user, stage=stage)
        except stage_making.StageInUse as in_use:
            messages.error(request, str(in_use))
        else:
            messages.success(request, f"{stage} is removed.")
        return redirect("own_stages", stage.commission_id)
    context = {"place": "commissions", "commission": stage.commission, "sheet": "board", "stage": stage}
    return render(request, "jobs/board/stage_remove.html", context)
