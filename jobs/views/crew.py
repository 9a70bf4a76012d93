"""When the crew works and when somebody is away."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.forms.crew import AbsenceForm, HoursForm
from jobs.models import Absence, CrewMember
from jobs.queries.plans import absences, crew_members, people_at_work
from jobs.services import crew as services
from jobs.services.planning.crew import usual_hours
from jobs.views.keeping import try_to_keep
from studio.access import MemberRequest, members, office_only
from studio.accounts.models import User
from studio.office.forms import WEEKDAYS
from studio.office.queries import house


@members
@require_safe
def crew(request: MemberRequest) -> HttpResponse:
    """Everybody's week, and who is away; why is for the office and for the person alone."""
    own, usual = crew_members(), usual_hours(house())
    people = []
    for person in people_at_work():
        member = own.get(person.pk)
        stages = [str(stage) for stage in member.stages.all()] if member else []
        people.append((person, member.hours if member else usual, stages))
    context = {
        "place": "crew",
        "weekdays": [name[:3] for name in WEEKDAYS],
        "people": people,
        "absences": absences(timezone.localdate()),
    }
    return render(request, "jobs/crew/crew.html", context)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def person_hours(request: MemberRequest, pk: int) -> HttpResponse:
    """Change what somebody works and can do."""
    person = _person(pk)
    form = _hours_form(person, request.POST if request.method == "POST" else None)

    def change() -> None:
        services.set_hours(
            by=request.user,
            person=person,
            version=form.cleaned_data["version"],
            hours=form.hours(),
            stages=form.cleaned_data["stages"],
        )

    tried = try_to_keep(form, change, now=lambda: _hours_form(person))
    if tried.kept:
        messages.success(request, f"The hours of {person} are saved; the next plan reckons with them.")
        return redirect("crew")
    context = {"place": "crew", "person": person, "form": form, "there_now": tried.there_now}
    return render(request, "jobs/crew/person.html", context, status=tried.status)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_absence(request: MemberRequest, pk: int) -> HttpResponse:
    """Write down that somebody is away."""
    person = _person(pk)
    form = AbsenceForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        try:
            services.add_absence(by=request.user, person=person, **form.cleaned_data)
        except services.NotAway as refused:
            form.add_error("first", str(refused))
        else:
            messages.success(request, f"{person} is away; the next plan reckons with it.")
            return redirect("crew")
    context: dict[str, Any] = {"place": "crew", "person": person, "form": form}
    return render(request, "jobs/crew/absence.html", context, status=422 if form.errors else 200)


@office_only
@require_POST
def drop_absence(request: MemberRequest, pk: int) -> HttpResponse:
    """Take an absence back."""
    absence = get_object_or_404(Absence.objects.select_related("person"), pk=pk)
    services.remove_absence(by=request.user, absence=absence)
    messages.success(request, f"{absence.person} is there after all.")
    return redirect("crew")


def _person(pk: int) -> User:
    return get_object_or_404(User, pk=pk, is_active=True)


def _hours_form(person: User, data: Any = None) -> HoursForm:
    member = CrewMember.objects.filter(person=person).prefetch_related("stages").first()
    return HoursForm(data, member=member, usual=usual_hours(house()))
