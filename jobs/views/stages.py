"""The page that a stage's label opens: its steps, holds and checks, and what moves it on."""

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.board import HOLD, state_of
from jobs.figures.moments import span_words
from jobs.forms.stages import CheckForm, MoveForm, StepForm
from jobs.models import SignOff, Stage, StageState
from jobs.queries.hours import booked_minutes
from jobs.queries.stages import cold_figures, makers, reasons_reopened
from jobs.services import stages as services
from jobs.services.stage_rules import is_open, lacks_to_be_ready, lacks_to_begin, lacks_to_pass
from jobs.sheets.known import Job
from jobs.sheets.registry import offered, query_of
from studio.access import MemberRequest, members
from studio.asking import number_asked

TICK_SAID = {"1": "is done", "0": "is taken back"}


def stage_under(code: str) -> Stage:
    """The stage whose label says this, or 404; labels are read aloud, so that small letters count as well."""
    rows = Stage.objects.select_related("commission", "section", "approval__sign_off__commission")
    return get_object_or_404(rows, code=code.upper())


@members
@require_safe
def stage_sheet(request: MemberRequest, code: str) -> HttpResponse:
    """One stage, big enough for a gloved hand."""
    return _sheet(request, stage_under(code))


@members
@require_POST
def move_stage(request: MemberRequest, code: str) -> HttpResponse:
    """Begin a stage, call it ready, pass it or reopen it."""
    stage, form, now = stage_under(code), MoveForm(request.POST), timezone.now()
    if not form.is_valid():
        return _sheet(request, stage, move=form, status=422)
    reason = form.cleaned_data["reason"]
    acts: dict[str, tuple[Callable[[], None], str]] = {
        "begin": (lambda: services.begin(by=request.user, stage=stage, at=now), "is in hand"),
        "ready": (lambda: services.ready_to_check(by=request.user, stage=stage, at=now), "is ready to check"),
        "pass": (lambda: services.pass_stage(by=request.user, stage=stage, at=now), "has passed"),
        "reopen": (lambda: services.reopen(by=request.user, stage=stage, reason=reason, at=now), "is reopened"),
    }
    act, said = acts[form.cleaned_data["act"]]
    return _done(request, stage, act, f"{stage} {said}.", form)


@members
@require_POST
def do_step(request: MemberRequest, code: str, pk: int) -> HttpResponse:
    """Mark a step done, or take it back."""
    stage, form, now = stage_under(code), StepForm(request.POST), timezone.now()
    step = get_object_or_404(stage.steps.select_related("stage__section"), pk=pk)
    if not form.is_valid():
        return _sheet(request, stage, step=form, status=422)
    done, typed = form.cleaned_data["done"], form.cleaned_data["temperature"]
    warmth = float(typed) if typed else None

    def act() -> None:
        if done == "1":
            services.do_step(by=request.user, step=step, at=now, temperature_c=warmth)
        else:
            services.take_step_back(by=request.user, step=step, at=now)

    return _done(request, stage, act, f"“{step.name}” {TICK_SAID[done]}.", form)


@members
@require_POST
def look_at_check(request: MemberRequest, code: str, pk: int) -> HttpResponse:
    """Tick a check, or take the tick back."""
    stage, form, now = stage_under(code), CheckForm(request.POST), timezone.now()
    check = get_object_or_404(stage.checks.select_related("stage__section"), pk=pk)
    if not form.is_valid():
        return _sheet(request, stage, step=form, status=422)
    seen = form.cleaned_data["seen"] == "1"
    return _done(request, stage, lambda: services.look_at(by=request.user, check=check, seen=seen, at=now), "", form)


def _done(request: MemberRequest, stage: Stage, act: Callable[[], None], said: str, form: forms.Form) -> HttpResponse:
    try:
        act()
    except services.StageRefused as refused:
        kept = {"move": form} if isinstance(form, MoveForm) else {}
        stage.refresh_from_db()
        return _sheet(request, stage, refused=str(refused), status=409, **kept)
    if said:
        messages.success(request, said)
    return redirect("stage_sheet", stage.code)


def _sheet(request: MemberRequest, stage: Stage, *, status: int = 200, **given: Any) -> HttpResponse:
    now = timezone.now()
    rows = Stage.objects.filter(pk=stage.pk)
    state, words, note = state_of(stage, reasons_reopened(rows).get(stage.pk, ""), now)
    steps = list(stage.steps.select_related("done_by"))
    next_step = next((step for step in steps if step.done_at is None), None)
    cold = cold_figures()
    cast = number_asked(request, "cast") or 0
    context = {
        "place": "commissions",
        "cast": cast if cast <= stage.casts else 0,
        "commission": stage.commission,
        "sheet": "board",
        "stage": stage,
        "state": state,
        "words": words,
        "note": note,
        "left": span_words(stage.hold_until - now) if state == HOLD and stage.hold_until else "",
        "booked": booked_minutes(rows).get(stage.pk, 0) / 60,
        "allowed": stage.allowed_minutes / 60,
        "on_it": makers(rows, timezone.localdate(now)).get(stage.pk, []),
        "steps": steps,
        "next_step": next_step,
        "last_done": next((step for step in reversed(steps) if step.done_at is not None), None),
        "checks": list(stage.checks.select_related("seen_by")),
        "lacks": _lacks(stage, now),
        "is_open": is_open(stage),
        "is_worked_on": stage.state in services.WORKED_ON,
        "moves": [(move, StageState(move.after).label) for move in stage.moves.select_related("by")],
        "cold": cold,
        "degrees": StepForm.DEGREES,
        "usual": f"{cold.usual_c:.0f}",
        "move": MoveForm(),
        "sheets": offered(Job(stage.commission), stage.section_id, stage.key),
        "pack_query": query_of(stage.section, stage.key),
        "asked": SignOff.objects.awaited().filter(stages=stage).first() if stage.lacks_sign_off else None,
        "wrong": [form for form in given.values() if isinstance(form, forms.Form) and form.errors],
        **given,
    }
    return render(request, "jobs/board/stage.html", context, status=status)


def _lacks(stage: Stage, now: Any) -> list[str]:
    if stage.state == StageState.NOT_BEGUN:
        return lacks_to_begin(stage)
    if stage.state == StageState.READY:
        return lacks_to_pass(stage, now)
    return lacks_to_be_ready(stage, now) if stage.state != StageState.PASSED else []
