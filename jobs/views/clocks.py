"""Starting and stopping clocks."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from jobs.bench import length_text
from jobs.forms.hours import ClockForm, StartForm, StopForm
from jobs.services.clocks import drop, start, stop
from jobs.services.hours import NotBooked
from jobs.views.bench import bench_address, page_context
from studio.access import MemberRequest, members


@members
@require_POST
def start_clock(request: MemberRequest) -> HttpResponse:
    """Start somebody's clock on the stage that was tapped."""
    form = StartForm(request.POST)
    if form.is_valid():
        person = form.cleaned_data["person"]
        try:
            clock = start(person=person, stage=form.cleaned_data["stage"], at=timezone.now())
        except NotBooked as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"The clock runs on {clock.stage}.")
            today = timezone.localdate()
            return redirect(bench_address(person, today, today))
    return _again(request, form)


@members
@require_POST
def stop_clock(request: MemberRequest) -> HttpResponse:
    """Stop a clock and book its time."""
    form = StopForm(request.POST)
    if form.is_valid():
        given = form.cleaned_data
        try:
            entry = stop(
                by=request.user,
                person=given["person"],
                clock_id=given["clock"],
                at=timezone.now(),
                left_at=given["left_at"],
            )
        except NotBooked as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"Booked {length_text(entry.minutes)} on {entry.stage}.")
            return redirect(bench_address(entry.person, entry.work_date, timezone.localdate(), booked=entry.key))
    return _again(request, form)


@members
@require_POST
def drop_clock(request: MemberRequest) -> HttpResponse:
    """Take a clock away that was started by mistake."""
    form = StopForm(request.POST)
    if form.is_valid():
        person = form.cleaned_data["person"]
        try:
            drop(by=request.user, person=person, clock_id=form.cleaned_data["clock"])
        except NotBooked as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, "The clock is thrown away; nothing was booked.")
            today = timezone.localdate()
            return redirect(bench_address(person, today, today))
    return _again(request, form)


def _again(request: MemberRequest, form: ClockForm) -> HttpResponse:
    return render(request, "jobs/bench/bench.html", page_context(request, form), status=422)
