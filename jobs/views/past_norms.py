"""Norms from the studio's own past, beside those in use, and taking them over."""

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from jobs.figures.past_norms import scaled
from jobs.norms import PER_WORDS, PastNorm, past_norms, stamp_of
from jobs.queries.past_stages import norm_value, norms_in_use, passed_stages
from jobs.services.norms_taken import take_over
from materials.estimator.catalogue import STEPS
from materials.models import WorkNorm
from studio.access import MemberRequest, office_only, owner_only
from studio.accounts.models import Role
from studio.locking import Conflict

OFFICE = {"place": "office", "office_sheet": "norms"}


@dataclass(frozen=True, slots=True)
class Change:
    """One step's hours as they are, and as they would be."""

    step: str
    now: WorkNorm
    low: float
    likely: float
    high: float

    @property
    def per(self) -> str:
        """What the hours are counted by, in words."""
        return PER_WORDS[self.now.per]


@office_only
@require_safe
def past_norms_sheet(request: MemberRequest) -> HttpResponse:
    """Every stage and grade that has been finished at least once."""
    past = passed_stages(norms_in_use())
    stages: dict[str, list[PastNorm]] = {}
    for each in past_norms(past.stages):
        stages.setdefault(each.stage, []).append(each)
    return render(request, "jobs/standing/past_norms.html", {**OFFICE, "stages": stages, "past": past})


@office_only
@require_safe
def past_norm(request: MemberRequest, stage: str, grade: str) -> HttpResponse:
    """What taking one over would change, step by step."""
    return render(request, "jobs/standing/past_norm.html", _context(request, stage, grade))


@owner_only
@require_POST
def take_over_norm(request: MemberRequest, stage: str, grade: str) -> HttpResponse:
    """Put what was shown into use, unless the past or the norms are others by now."""
    context = _context(request, stage, grade)
    past: PastNorm = context["past"]
    factor = past.factor
    if factor is not None and past.differs and request.POST.get("stamp") == context["stamp"]:
        try:
            take_over(by=request.user, norms=context["norms"], factor=factor, stages=past.count)
        except Conflict:
            context = _context(request, stage, grade)
        else:
            messages.success(request, f"{stage.capitalize()}, grade {grade}: the norms are {factor:g} times as before.")
            return redirect("past_norms")
    return render(request, "jobs/standing/past_norm.html", {**context, "changed_meanwhile": True}, status=409)


def _context(request: MemberRequest, stage: str, grade: str) -> dict[str, Any]:
    norms = norms_in_use()
    found = [each for each in past_norms(passed_stages(norms).stages) if (each.stage, each.grade) == (stage, grade)]
    if not found:
        raise Http404
    (past,) = found
    own = [row for row in norms if (row.stage, row.grade) == (stage, grade)]
    factor = past.factor if past.differs else None
    changes = [_change(row, factor) for row in own] if factor else []
    return {
        **OFFICE,
        "past": past,
        "norms": own,
        "changes": changes,
        "stamp": stamp_of(past, own),
        "is_owner": request.user.role == Role.OWNER,
    }


def _change(row: WorkNorm, factor: float) -> Change:
    norm = scaled(norm_value(row), factor)
    return Change(STEPS[row.stage][row.step], row, norm.low, norm.likely, norm.high)
