"""Norms of work: hours of each step by grade of finish."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from materials.estimator.catalogue import STEPS
from materials.forms.figures import NormForm
from materials.models import WorkNorm
from materials.services.figures import change_norm
from studio.access import MemberRequest, office_only
from studio.locking import Conflict

PER = {
    "m2": "m²",
    "m2_layer": "m² and layer",
    "m2_coat": "m² and coat",
    "m_seam": "metre of seam",
    "piece": "mould piece",
    "kg": "kg of steel",
    "object": "cast",
}


@dataclass(frozen=True, slots=True)
class StepShown:
    """One step with its norms, grade A first."""

    name: str
    per: str
    norms: tuple[WorkNorm, ...]


def _by_stage(rows: Iterable[WorkNorm]) -> dict[str, list[StepShown]]:
    found: dict[tuple[str, str], list[WorkNorm]] = {}
    for row in rows:
        found.setdefault((row.stage, row.step), []).append(row)
    return {
        stage: [
            StepShown(name, PER[norms[0].per], tuple(norms))
            for step, name in steps.items()
            if (norms := found.get((stage, step)))
        ]
        for stage, steps in STEPS.items()
    }


@office_only
@require_safe
def norms(request: MemberRequest) -> HttpResponse:
    """Every norm by stage and step."""
    stages = _by_stage(WorkNorm.objects.order_by("grade"))
    return render(request, "materials/norms.html", {"place": "office", "office_sheet": "norms", "stages": stages})


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def norm(request: MemberRequest, pk: int) -> HttpResponse:
    """Change the hours of one step for one grade."""
    row = get_object_or_404(WorkNorm, pk=pk)
    form, status = NormForm(request.POST if request.method == "POST" else None, norm=row), 200
    step = STEPS[row.stage][row.step]
    context = {"place": "office", "office_sheet": "norms", "norm": row, "step": step, "per": PER[row.per], "form": form}
    if request.method == "POST" and form.is_valid():
        entered = form.cleaned_data
        hours = {name: float(entered[name]) for name in ("low", "likely", "high")}
        try:
            change_norm(
                by=request.user, norm=row, version=entered["version"], checked_on=entered["checked_on"], **hours
            )
        except Conflict:
            context["there_now"] = form.catch_up(NormForm(norm=WorkNorm.objects.get(pk=pk)))
            status = 409
        else:
            messages.success(request, f"{step}, grade {row.grade}: saved.")
            return redirect("norms")
    return render(request, "materials/norm.html", context, status=422 if form.errors else status)
