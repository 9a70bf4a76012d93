"""Making a link by a form, and showing its address: once, for nothing keeps the token."""

from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString

from jobs.documents import code_svg
from jobs.forms.links import LinkForm
from jobs.links.words import may_do, subject_of, text_to_send
from jobs.models import Commission, LinkKind
from jobs.services.links import LinkRefused, MadeLink, make_link, send_link
from jobs.views.sealed import of_commissioner
from studio.access import MemberRequest
from studio.answers import token_of
from studio.office.queries import house
from studio.post import NotSent

OPENS = {
    LinkKind.PROGRESS: "progress",
    LinkKind.SIGN_OFF: "answer_sign_off",
    LinkKind.VARIATION: "held_variation",
    LinkKind.STATEMENT: "held_statement",
    LinkKind.PIECE: "piece",
    LinkKind.CALENDAR: "calendar_feed",
}
"""The view that a link of each kind opens."""


def make_and_show(
    request: MemberRequest, form: LinkForm, kind: LinkKind, commission: Commission | None, **about: Any
) -> HttpResponse | None:
    """Make the link that a form asks for and show it; None where the form has to be put right."""
    if not form.is_valid():
        return None
    try:
        given = {**about, **form.made_of(), "token": token_of(request)}
        made = make_link(by=request.user, kind=kind, commission=commission, at=timezone.now(), **given)
    except LinkRefused as refused:
        form.add_error("expires_on", str(refused))
        return None
    return _show(request, made, form.address)


def _show(request: MemberRequest, made: MadeLink, send_to: str) -> HttpResponse:
    """The address with a text to send. This page is never redirected to."""
    link, studio, kind = made.link, house(), LinkKind(made.link.kind)
    address = request.build_absolute_uri(reverse(OPENS[kind], args=[made.token]))
    text = text_to_send(link, address, studio)
    not_sent = ""
    if send_to and not made.is_new:
        not_sent = "It was pressed twice. The Record says whether the text has gone by mail."
    elif send_to:
        try:
            send_link(by=request.user, link=link, to=send_to, subject=subject_of(link, studio), text=text)
        except NotSent as problem:
            not_sent = str(problem)
    context = of_commissioner(link.commission) | {
        "link": link,
        "address": address,
        "text": text,
        "sent_to": send_to,
        "not_sent": not_sent,
        "may_do": may_do(link),
        "code": SafeString(code_svg(address, title="Code for the piece")) if kind == LinkKind.PIECE else "",
    }
    return render(request, "jobs/commissioner/made.html", context)
