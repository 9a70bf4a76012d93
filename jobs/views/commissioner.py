"""The Commissioner sheet: who outside may see what, through which link."""

import datetime
from typing import Any

from django.contrib import messages
from django.db.models import F
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString
from django.views.decorators.http import require_POST, require_safe

from jobs.approvals import listed
from jobs.documents import code_svg
from jobs.forms.links import ProgressLinkForm, PublishForm
from jobs.forms.sign_offs import KindForm
from jobs.link_words import MAY_DO, subject_of, text_to_send
from jobs.models import Commission, Link, LinkKind
from jobs.services.links import LinkRefused, MadeLink, make_link, revoke_link, send_link
from jobs.services.published import publish
from jobs.variation_pages import variations_of
from studio.access import MemberRequest, office_only
from studio.locking import Conflict
from studio.office.queries import house
from studio.post import NotSent

USUAL_LIFE = datetime.timedelta(days=180)


def commissioner_sheet(request: MemberRequest, commission: Commission, status: int = 200, **more: Any) -> HttpResponse:
    """The whole sheet; ``more`` holds a form that has to be put right."""
    usual = timezone.localdate() + USUAL_LIFE
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "commissioner",
        "variations": [each for each in variations_of(commission, timezone.localdate()) if each.state == "issued"],
        "links": commission.links.select_related("made_by", "person").order_by(
            F("revoked_at").asc(nulls_first=True), "-pk"
        ),
        "form": ProgressLinkForm(
            initial={"receiver": commission.contact, "expires_on": usual, "send_to": commission.email}
        ),
        "published": (last := commission.publications.first()),
        "publish_form": PublishForm.after(last),
        "may_do": MAY_DO[LinkKind.PROGRESS],
        "sign_offs": listed(commission),
        "kinds": KindForm(),
    }
    return render(request, "jobs/commissioner/commissioner.html", {**context, **more}, status=status)


def show_made(request: MemberRequest, made: MadeLink, view_name: str, *, send_to: str = "") -> HttpResponse:
    """Show a new link's address, once, with a text to send; never redirect, for nothing keeps the token."""
    link, studio = made.link, house()
    address = request.build_absolute_uri(reverse(view_name, args=[made.token]))
    text = text_to_send(link, address, studio)
    not_sent = ""
    if send_to:
        try:
            send_link(by=request.user, link=link, to=send_to, subject=subject_of(link, studio), text=text)
        except NotSent as problem:
            not_sent = str(problem)
    context = {
        "place": "commissions",
        "commission": link.commission,
        "sheet": "commissioner",
        "link": link,
        "address": address,
        "text": text,
        "sent_to": send_to,
        "not_sent": not_sent,
        "may_do": MAY_DO[LinkKind(link.kind)],
        "code": SafeString(code_svg(address, title="Code for the piece")) if link.kind == LinkKind.PIECE else "",
    }
    return render(request, "jobs/commissioner/made.html", context)


@office_only
@require_safe
def commissioner(request: MemberRequest, pk: int) -> HttpResponse:
    """Every link of a commission, and what waits for its commissioner."""
    return commissioner_sheet(request, get_object_or_404(Commission, pk=pk))


@office_only
@require_POST
def new_progress_link(request: MemberRequest, pk: int) -> HttpResponse:
    """Make a progress link."""
    commission = get_object_or_404(Commission, pk=pk)
    form = ProgressLinkForm(request.POST)
    if form.is_valid():
        try:
            made = make_link(
                by=request.user,
                kind=LinkKind.PROGRESS,
                commission=commission,
                at=timezone.now(),
                **form.made_of(),
            )
        except LinkRefused as refused:
            form.add_error("expires_on", str(refused))
        else:
            return show_made(request, made, "progress", send_to=form.address)
    return commissioner_sheet(request, commission, status=422, form=form)


@office_only
@require_POST
def publish_days(request: MemberRequest, pk: int) -> HttpResponse:
    """Tell the commissioner which days are promised and expected, and a few words."""
    commission = get_object_or_404(Commission, pk=pk)
    form = PublishForm(request.POST)
    if not form.is_valid():
        return commissioner_sheet(request, commission, status=422, publish_form=form)
    follows = form.cleaned_data["version"]
    try:
        publish(by=request.user, commission=commission, follows=follows, at=timezone.now(), **form.entered())
    except Conflict:
        there_now = form.catch_up(PublishForm.after(commission.publications.first()))
        return commissioner_sheet(request, commission, status=409, publish_form=form, there_now=there_now)
    messages.success(request, "Whoever holds a progress link reads it from now on.")
    return redirect("commissioner", pk)


@office_only
@require_POST
def end_link(request: MemberRequest, pk: int) -> HttpResponse:
    """End one link at once."""
    link = get_object_or_404(Link.objects.select_related("commission"), pk=pk, commission__isnull=False)
    revoke_link(by=request.user, link=link, at=timezone.now())
    messages.success(request, f"The link for {link.receiver} opens nothing from now on.")
    return redirect("commissioner", link.commission_id)
