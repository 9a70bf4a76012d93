"""Hours by the week: one's own at the bench, everybody's in the office, and as files."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.exports import hours_csv, hours_xlsx
from jobs.forms.hours import KeyForm, new_key
from jobs.models import HourEntry
from jobs.queries.hours import DaySum, day_sums, entries_between
from jobs.services.hours import NotBooked, take_back
from jobs.weeks import Week, read_week, sheets, week_of
from studio.access import MemberRequest, members, sees_money
from studio.accounts.models import User
from studio.downloads import CSV, XLSX, as_file
from studio.once import KeyUsed


def _asked(request: MemberRequest) -> tuple[Week, list[DaySum]]:
    """The week in the address, and its sums as far as this person may see them."""
    week = read_week(request.GET.get("week", ""), timezone.localdate())
    only = None if sees_money(request.user) else request.user
    return week, day_sums(week.first, week.last, only)


@members
@require_safe
def weeks(request: MemberRequest) -> HttpResponse:
    """Everybody's week, or one's own."""
    week, sums = _asked(request)
    found = sheets(sums, week)
    context = {
        "place": "crew",
        "week": week,
        "sheets": found,
        "total": sum(sheet.total for sheet in found),
        "now": week_of(timezone.localdate()),
        "everybody": sees_money(request.user),
    }
    return render(request, "jobs/hours/weeks.html", context)


@members
@require_safe
def person_week(request: MemberRequest, pk: int) -> HttpResponse:
    """One person's week with every row of the ledger; the bench sees its own."""
    return render(request, "jobs/hours/person_week.html", _ledger(request, pk))


def _ledger(request: MemberRequest, pk: int) -> dict[str, object]:
    person = get_object_or_404(User, pk=pk)
    if person != request.user and not sees_money(request.user):
        raise PermissionDenied
    week = read_week(request.GET.get("week", ""), timezone.localdate())
    return {
        "place": "crew",
        "person": person,
        "week": week,
        "sheets": sheets(day_sums(week.first, week.last, person), week),
        "entries": entries_between(person, week.first, week.last),
        "key": new_key(),
    }


@members
@require_POST
def take_back_hours(request: MemberRequest, pk: int) -> HttpResponse:
    """Book the reversal of an entry."""
    entry = get_object_or_404(HourEntry.objects.select_related("person", "stage__section"), pk=pk)
    if entry.person != request.user and entry.booked_by != request.user and not sees_money(request.user):
        raise PermissionDenied
    form = KeyForm(request.POST)
    if form.is_valid():
        try:
            take_back(by=request.user, entry=entry, key=form.cleaned_data["key"])
        except (NotBooked, KeyUsed) as error:
            messages.error(request, str(error))
        else:
            messages.success(request, f"Taken back: {entry.stage}, {entry.work_date:%A}.")
    else:
        messages.error(request, "This page lost its place; take it back again.")
    if entry.person != request.user and not sees_money(request.user):
        return redirect("bench")
    week = week_of(entry.work_date)
    return redirect(f"{reverse('person_week', args=[entry.person_id])}?week={week.text}")


@members
@require_safe
def weeks_csv(request: MemberRequest) -> HttpResponse:
    """The week as CSV."""
    week, sums = _asked(request)
    return as_file(hours_csv(sums), CSV, f"hours-{week.text}.csv")


@members
@require_safe
def weeks_xlsx(request: MemberRequest) -> HttpResponse:
    """The week as a workbook."""
    week, sums = _asked(request)
    return as_file(hours_xlsx(sums), XLSX, f"hours-{week.text}.xlsx")
