"""The Commissioner sheet: who outside may see what, through which link."""

import datetime
from typing import Any

from django.contrib import messages
from django.db.models import F
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.approvals import listed
from jobs.forms.links import ProgressLinkForm, PublishForm
from jobs.forms.sign_offs import KindForm
from jobs.links.words import MAY_DO
from jobs.models import Commission, Link, LinkKind
from jobs.queries.plans import expected_on
from jobs.services.links import revoke_link
from jobs.services.published import publish
from jobs.variations.pages import variations_of
from jobs.views.made_links import make_and_show
from jobs.views.sealed import of_commissioner
from studio.access import MemberRequest, office_only
from studio.locking import Conflict

USUAL_LIFE = datetime.timedelta(days=180)


def commissioner_sheet(request: MemberRequest, commission: Commission, status: int = 200, **more: Any) -> HttpResponse:
    """The whole sheet; ``more`` holds a form that has to be put right."""
    usual = timezone.localdate() + USUAL_LIFE
    context = of_commissioner(commission) | {
        "variations": [each for each in variations_of(commission, timezone.localdate()) if each.state == "issued"],
        "links": commission.links.select_related("made_by", "person").order_by(
            F("revoked_at").asc(nulls_first=True), "-pk"
        ),
        "form": ProgressLinkForm(
            initial={"receiver": commission.contact, "expires_on": usual, "send_to": commission.email}
        ),
        "published": (last := commission.publications.first()),
        "publish_form": PublishForm.after(last),
        "planned": expected_on(commission),
        "may_do": MAY_DO[LinkKind.PROGRESS],
        "sign_offs": listed(commission),
        "kinds": KindForm(),
    }
    return render(request, "jobs/commissioner/commissioner.html", {**context, **more}, status=status)


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
    made = make_and_show(request, form, LinkKind.PROGRESS, commission)
    return made or commissioner_sheet(request, commission, status=422, form=form)


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
