"""A form that is sent twice is answered once, whatever it does, with nothing added to any page.

Every page masks its token against forgery anew, so that two posts alike to the
last letter, token and all, were pressed on one page: the second is a finger
that tapped twice. It gets the answer of the first, and does nothing.
"""

import base64
import hashlib
import secrets
import time
from collections.abc import Callable
from datetime import timedelta
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.crypto import salted_hmac

from studio.accounts.models import SentForm
from studio.once import fingerprint

TOKEN = "csrfmiddlewaretoken"  # noqa: S105 - the name of the field
KEPT_FOR = timedelta(days=1)
PATIENCE_S, PAUSE_S = 20.0, 0.05
"""How long the second waits for the answer of the first, and how often it looks."""


class AnsweredOnce:
    """The middleware, for forms of people who have signed in; what holders of links send is kept once by itself."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Keep where the answer leads, done or refused there; what only shows a page may be sent again."""
        response = self.get_response(request)
        row: SentForm | None = getattr(request, "sent_form", None)
        if row is not None and response.status_code in (302, 303):
            SentForm.objects.filter(pk=row.pk).update(leads_to=response["Location"])
        elif row is not None:
            row.delete()
        return response

    def process_view(self, request: HttpRequest, view: Any, args: Any, kwargs: Any) -> HttpResponse | None:
        """Let the first through; a second waits for the first, and is led where that was."""
        if request.method != "POST" or getattr(view, "csrf_exempt", False) or not _is_counted(request):
            return None
        until, digest = time.monotonic() + PATIENCE_S, fingerprint(_content(request))
        while True:
            row, is_first = SentForm.objects.get_or_create(digest=digest)
            if is_first:
                SentForm.objects.filter(at__lt=timezone.now() - KEPT_FOR).delete()
                request.sent_form = row  # type: ignore[attr-defined]
                return None
            if row.leads_to:
                return redirect(row.leads_to)
            if time.monotonic() > until:
                return render(request, "errors/409.html", status=409)
            time.sleep(PAUSE_S)


def token_of(request: HttpRequest) -> str:
    """43 letters that nobody can guess; the same form, sent again from the same page, has the same."""
    if TOKEN not in request.POST:
        return secrets.token_urlsafe(32)
    content = fingerprint({**_content(request), "for": "a token"})
    mac = salted_hmac("studio.answers", content, algorithm="sha256").digest()
    return base64.urlsafe_b64encode(mac).decode().rstrip("=")


def _is_counted(request: HttpRequest) -> bool:
    return TOKEN in request.POST and request.user.is_authenticated


def _content(request: HttpRequest) -> dict[str, object]:
    """Who sent what to where; files by their bytes."""
    files = sorted((name, [_digest(file) for file in sent]) for name, sent in request.FILES.lists())
    fields = sorted(request.POST.lists())
    return {"by": request.user.pk, "to": request.get_full_path(), "fields": fields, "files": files}


def _digest(file: Any) -> str:
    found = hashlib.file_digest(file, "sha256").hexdigest()
    file.seek(0)
    return f"{file.name} {found}"
