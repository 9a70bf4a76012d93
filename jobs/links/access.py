"""Letting holders of a link in: the one word above a view that somebody without a sign-in may open.

``@by_link(LinkKind.PROGRESS)`` above ``def progress(request, link, …)``, at an
address that begins with ``l/<str:token>/``. The headers of such pages are set by
``studio.middleware.held_pages``.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.utils import timezone

from jobs.models import LinkKind
from jobs.services.links import TRIES_WINDOW, count_wrong_try, note_opening, open_link, too_many_tries
from studio.access import View, holders
from studio.callers import caller


def by_link(kind: LinkKind, *, posts: bool = False) -> Callable[[View], View]:
    """Declare a view open to whoever holds a link of a kind; ``posts`` where its page holds a form."""

    def declare(view: View) -> View:
        @wraps(view)
        def guarded(request: HttpRequest, token: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
            at, address = timezone.now(), caller(request)
            if too_many_tries(address, at):
                return _wait(request)
            link = open_link(token=token, kind=kind, at=at)
            if link is None:
                count_wrong_try(address=address, at=at)
                return _nothing_here(request)
            if _is_a_look(request, kind):
                note_opening(link=link, at=at)
            try:
                response = view(request, link, *args, **kwargs)
            except Http404:
                return _nothing_here(request)
            if posts:
                # Without an origin the browser's own form would be refused.
                response["Referrer-Policy"] = "strict-origin"
            return response

        return holders(guarded)

    return declare


def _is_a_look(request: HttpRequest, kind: LinkKind) -> bool:
    """Whether a person looks: what scans or fetches ahead does not say that it opens a document for somebody."""
    purpose = request.headers.get("Sec-Purpose", "") + request.headers.get("Purpose", "")
    if request.method != "GET" or "prefetch" in purpose:
        return False
    # A calendar is always fetched by a program.
    return kind == LinkKind.CALENDAR or request.headers.get("Sec-Fetch-Dest") == "document"


def _nothing_here(request: HttpRequest) -> HttpResponse:
    return render(request, "links/nothing_here.html", status=404)


def _wait(request: HttpRequest) -> HttpResponse:
    response = render(request, "links/wait.html", status=429)
    response["Retry-After"] = str(int(TRIES_WINDOW.total_seconds()))
    return response
