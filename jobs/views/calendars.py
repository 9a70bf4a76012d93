"""Calendars to subscribe to: one's own, and the whole studio's."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.calendars.entries import entries_of
from jobs.calendars.feed import feed
from jobs.forms.links import LinkForm
from jobs.links.access import by_link
from jobs.links.words import MAY_DO
from jobs.models import Link, LinkKind
from jobs.services.links import revoke_link
from jobs.views.commissioner import USUAL_LIFE
from jobs.views.made_links import make_and_show
from studio.access import MemberRequest, members, office_only, sees_money
from studio.accounts.models import User
from studio.office.queries import house


@members
@require_http_methods(["GET", "HEAD", "POST"])
def my_calendar(request: MemberRequest) -> HttpResponse:
    """The links to one's own calendar, and one more."""
    own = Link.objects.filter(kind=LinkKind.CALENDAR, person=request.user)
    return _calendars(request, own, person=request.user, page="my_calendar")


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def calendars(request: MemberRequest) -> HttpResponse:
    """Every link to a calendar, and one more to the studio's."""
    found = Link.objects.filter(kind=LinkKind.CALENDAR)
    return _calendars(request, found, person=None, page="calendars")


def _calendars(request: MemberRequest, links: Any, *, person: User | None, page: str) -> HttpResponse:
    usual = timezone.localdate() + 2 * USUAL_LIFE
    start = {"receiver": request.user.shown_name, "expires_on": usual, "send_to": request.user.email}
    form = LinkForm(request.POST if request.method == "POST" else None, initial=start)
    made = make_and_show(request, form, LinkKind.CALENDAR, None, person=person)
    if made is not None:
        return made
    context = {
        "links": links.select_related("person", "made_by"),
        "form": form,
        "may_do": MAY_DO[LinkKind.CALENDAR],
        "own": person is not None,
        "place": "" if person else "office",
        "office_sheet": "calendars",
    }
    return render(request, f"jobs/calendars/{page}.html", context, status=422 if form.errors else 200)


@members
@require_POST
def end_calendar(request: MemberRequest, pk: int) -> HttpResponse:
    """End one's own calendar link; the office ends any."""
    found = Link.objects.filter(kind=LinkKind.CALENDAR)
    if not sees_money(request.user):
        found = found.filter(person=request.user)
    link = get_object_or_404(found, pk=pk)
    revoke_link(by=request.user, link=link, at=timezone.now())
    messages.success(request, f"The calendar for {link.receiver} opens nothing from now on.")
    return redirect("my_calendar" if link.person_id == request.user.pk else "calendars")


@by_link(LinkKind.CALENDAR)
@require_safe
def calendar_feed(request: HttpRequest, link: Link) -> HttpResponse:
    """The calendar itself."""
    now = timezone.now()
    name = f"{house().name}, your stages" if link.person else house().name
    content = feed(entries_of(link.person, now), name=name, host=request.get_host(), at=now)
    return HttpResponse(content, content_type="text/calendar; charset=utf-8")
