"""The bench: booking hours with a thumb, also where the network comes and goes."""

import datetime
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode
from django.views.decorators.http import require_POST, require_safe

from jobs.bench import Bench, bench, every_length, last_working_day, length_text, running, usual_lengths
from jobs.forms.hours import BookForm, UndoForm, new_key
from jobs.models import HourEntry
from jobs.queries.hours import clock_of, entry_under
from jobs.services.hours import DAYS_BACK, NotBooked, book, hours_text, take_back
from jobs.worker_file import hatch_patterns, worker_script
from studio.access import MemberRequest, anyone, members
from studio.accounts.models import User
from studio.office.queries import house
from studio.once import KeyUsed

UNDO_FOR = datetime.timedelta(seconds=30)
AWAY = "bench_away"


@members
@require_safe
def bench_page(request: MemberRequest) -> HttpResponse:
    """What did you work on, and how long?"""
    return render(request, "jobs/bench/bench.html", page_context(request))


def page_context(request: MemberRequest, form: BookForm | Any = None) -> dict[str, Any]:
    """The whole page for one person and one day; also what is shown again with a form that was refused."""
    now, today = timezone.now(), timezone.localdate()
    sent = form.data if form is not None else request.GET
    day = _day(str(sent.get("work_date") or sent.get("day") or ""), today)
    before = last_working_day(today, house().working_days)
    read = bench({day, today, before or today}, today)
    person = _person(read.people, str(sent.get("person", "")), request.user)
    of_late = read.lately.get(person.pk, [])
    chosen = _whole(str(sent.get("stage", "")))
    below = 0 if any(tile.id == chosen for tile in of_late) else chosen
    return {
        "place": "crew",
        "person": person,
        "others": [other for other in read.people if other != person],
        "day": day,
        "today": today,
        "yesterday": today - datetime.timedelta(days=1),
        "lately": of_late,
        "groups": read.groups,
        "usual": usual_lengths(),
        "lengths": every_length(),
        "booked": hours_text(read.minutes.get((person.pk, day), 0)),
        "booked_minutes": read.minutes.get((person.pk, day), 0),
        "empty_day": _empty_day(request, read, person, before),
        "running": running(clock_of(person), now),
        "fresh": _fresh(str(request.GET.get("booked", "")), now),
        "key": new_key(),
        "undo_key": new_key(),
        "form": form,
        "chosen": chosen,
        "chosen_below": below,
        "open_group": next((group for group in read.groups if any(tile.id == below for tile in group.tiles)), None),
        "chosen_minutes": _whole(str(sent.get("minutes", ""))),
        "hatches": hatch_patterns(),
    }


def _day(typed: str, today: datetime.date) -> datetime.date:
    try:
        day = datetime.date.fromisoformat(typed)
    except ValueError:
        return today
    return day if today - datetime.timedelta(days=DAYS_BACK) <= day <= today else today


def _whole(typed: str) -> int:
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 19 else 0


def _person(people: list[User], typed: str, signed_in: User) -> User:
    return next((person for person in people if str(person.pk) == typed), signed_in)


def _empty_day(request: MemberRequest, read: Bench, person: User, before: datetime.date | None) -> datetime.date | None:
    """The working day before today, where this person has nothing on it and has not said why."""
    if before is None or read.minutes.get((person.pk, before), 0):
        return None
    return None if f"{person.pk} {before}" in request.session.get(AWAY, []) else before


def _fresh(typed: str, now: datetime.datetime) -> HourEntry | None:
    """The entry just booked, for as long as its Undo stands there."""
    form = UndoForm({"key": typed, "of": typed})
    entry = entry_under(form.cleaned_data["of"]) if form.is_valid() else None
    if entry is None or entry.minutes < 0 or now - entry.booked_at > UNDO_FOR or hasattr(entry, "reversed_by"):
        return None
    return entry


def bench_address(person: User, day: datetime.date, today: datetime.date, **more: object) -> str:
    """The bench page for this person and day."""
    asked = {"person": str(person.pk)} | {name: str(value) for name, value in more.items()}
    if day != today:
        asked["day"] = str(day)
    return f"{reverse('bench')}?{urlencode(asked)}"


@members
@require_POST
def book_hours(request: MemberRequest) -> HttpResponse:
    """Book what was tapped; a phone's queue gets a line of JSON, a plain form the page."""
    form = BookForm(request.POST)
    today = timezone.localdate()
    if form.is_valid():
        given = {name: form.cleaned_data[name] for name in ("person", "stage", "work_date", "minutes", "key")}
        try:
            entry = book(by=request.user, at=timezone.now(), **given)
        except (NotBooked, KeyUsed) as error:
            form.add_error(None, str(error))
        else:
            if _is_queue(request):
                return JsonResponse({"booked": str(entry.key)})
            messages.success(request, f"Booked {length_text(entry.minutes)} on {entry.stage}.")
            return redirect(bench_address(entry.person, entry.work_date, today, booked=entry.key))
    if _is_queue(request):
        return _refused(form)
    return render(request, "jobs/bench/bench.html", page_context(request, form), status=422)


@members
@require_POST
def undo_hours(request: MemberRequest) -> HttpResponse:
    """Take back what was booked under a key."""
    form = UndoForm(request.POST)
    entry = entry_under(form.cleaned_data["of"]) if form.is_valid() else None
    if form.is_valid() and entry is None:
        form.add_error(None, "There is nothing booked under this tap, so there is nothing to take back.")
    if entry is not None:
        try:
            take_back(by=request.user, entry=entry, key=form.cleaned_data["key"])
        except (NotBooked, KeyUsed) as error:
            form.add_error(None, str(error))
    if _is_queue(request):
        return _refused(form) if form.errors else JsonResponse({"taken_back": str(form.cleaned_data["of"])})
    if form.errors:
        return render(request, "jobs/bench/bench.html", page_context(request, form), status=422)
    assert entry is not None
    messages.success(request, f"Taken back: {hours_text(entry.minutes)} on {entry.stage}.")
    return redirect(bench_address(entry.person, entry.work_date, timezone.localdate()))


def _is_queue(request: HttpRequest) -> bool:
    return request.headers.get("Accept") == "application/json"


def _refused(form: Any) -> JsonResponse:
    told = dict.fromkeys(sentence for found in form.errors.values() for sentence in found)
    return JsonResponse({"refused": " ".join(told)}, status=422)


@members
@require_POST
def away(request: MemberRequest) -> HttpResponse:
    """Somebody was not at work on the day asked about; it is asked no more while they are signed in."""
    today = timezone.localdate()
    day = _day(request.POST.get("day", ""), today)
    person = _person(bench([], today).people, request.POST.get("person", ""), request.user)
    request.session[AWAY] = [*request.session.get(AWAY, []), f"{person.pk} {day}"][-50:]
    return redirect(bench_address(person, today, today))


@members
@require_safe
def bench_tiles(request: MemberRequest) -> HttpResponse:
    """What a phone keeps so that it can book without the network: tiles and names, no figures of money."""
    today = timezone.localdate()
    read = bench([today], today)
    tile = {each.id: each for group in read.groups for each in group.tiles}
    return JsonResponse(
        {
            "csrf": get_token(request),
            "me": request.user.pk,
            "today": str(today),
            "people": [
                {
                    "id": person.pk,
                    "name": str(person),
                    "lately": [each.id for each in read.lately.get(person.pk, [])],
                    "minutes": read.minutes.get((person.pk, today), 0),
                }
                for person in read.people
            ],
            "groups": [
                {"number": group.number, "title": group.title, "stages": [each.id for each in group.tiles]}
                for group in read.groups
            ],
            "tiles": {
                str(each.id): {
                    "section": each.section,
                    "stage": each.stage,
                    "commission": each.commission,
                    "hatch": each.hatch,
                    "state": each.state,
                }
                for each in tile.values()
            },
        }
    )


@anyone
@require_safe
def bench_shell(request: HttpRequest) -> HttpResponse:
    """The page without anybody's data, which a phone keeps for when there is no network."""
    context = {"usual": usual_lengths(), "lengths": every_length(), "hatches": hatch_patterns()}
    return render(request, "jobs/bench/shell.html", context)


@anyone
@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    """The script that answers for the bench when there is no network."""
    return HttpResponse(worker_script(), content_type="text/javascript")
