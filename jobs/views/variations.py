"""Variations as the office reads them: what each comes to, sending it out, and how it ended."""

import datetime
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.forms.links import LinkForm
from jobs.forms.variations import OfficeAnswerForm
from jobs.models import LinkKind, Variation, VariationDecision
from jobs.quotes.sheets import variation_file_name
from jobs.services.drafts import Refused
from jobs.services.variation_pricing import asked_of
from jobs.services.variations import AlreadyAnswered, answer_variation
from jobs.variations.pages import Listed, done_again, risk_of, shown_draft, shown_issued, variations_of
from jobs.variations.sheets import raised_from
from jobs.variations.workings import issue_as_shown, seal, worked_variation
from jobs.views.made_links import make_and_show
from jobs.views.price import commission_of
from jobs.views.variation_drafts import variation_of
from studio.access import MemberRequest, office_only
from studio.downloads import PDF, as_file
from studio.locking import Conflict
from studio.office.queries import house


@office_only
@require_safe
def variation_list(request: MemberRequest, pk: int) -> HttpResponse:
    """Every variation of a commission."""
    commission = commission_of(pk)
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "price",
        "variations": variations_of(commission, timezone.localdate()),
        "may_raise": commission.state == "accepted",
    }
    return render(request, "jobs/variations/list.html", context)


def _drafted(variation: Variation, request: MemberRequest, today: datetime.date) -> dict[str, Any]:
    """A draft as it is worked out today."""
    found = worked_variation(asked_of(variation), today)
    context: dict[str, Any] = {"found": found, "items": variation.items.select_related("item", "stage__section")}
    if found.varied is not None:
        varied, currency = found.varied, found.varied.currency
        chosen = {stage.code for stage in varied.reopened}
        risk, risk_minor = risk_of(variation, varied.touched, currency)
        context |= {
            "shown": shown_draft(varied, by=request.user),
            "seal": seal(varied),
            "again": done_again(variation.commission, varied.offered, chosen, today, currency),
            "touched": varied.touched,
            "risk": risk,
            "risk_minor": risk_minor,
        }
    return context


def _frozen(variation: Variation, today: datetime.date) -> dict[str, Any]:
    """One that went out, with how its stages stand by now."""
    stages = list(variation.commission.stages.select_related("section", "budget"))
    touched = [stage for stage in stages if stage.code in variation.touches]
    reopened = [stage for stage in stages if stage.code in (variation.reopens or [])]
    currency = house().currency
    risk, risk_minor = risk_of(variation, touched, currency)
    return {
        "shown": shown_issued(variation),
        "again": done_again(variation.commission, reopened, variation.reopens or [], today, currency),
        "touched": touched,
        "risk": risk,
        "risk_minor": risk_minor,
        "links": variation.links.select_related("made_by"),
    }


def _page(request: MemberRequest, variation: Variation, status: int = 200, **more: Any) -> HttpResponse:
    today = timezone.localdate()
    context = {
        "place": "commissions",
        "commission": variation.commission,
        "sheet": "price",
        "variation": variation,
        "raised_from": raised_from(variation),
        "version": Listed(variation, variation.state_on(today)),
        "answer_form": OfficeAnswerForm(variation=variation),
        "link_form": LinkForm(initial={"receiver": variation.commission.contact, "expires_on": variation.valid_until}),
    }
    context |= _drafted(variation, request, today) if variation.issued_at is None else _frozen(variation, today)
    return render(request, "jobs/variations/variation.html", {**context, **more}, status=status)


@office_only
@require_safe
def variation_page(request: MemberRequest, pk: int, serial: int) -> HttpResponse:
    """One variation: the draft as it is worked out today, or what was frozen."""
    return _page(request, variation_of(pk, serial))


@office_only
@require_POST
def issue(request: MemberRequest, pk: int, serial: int) -> HttpResponse:
    """Freeze a draft as the page showed it."""
    variation = variation_of(pk, serial)
    try:
        issue_as_shown(
            by=request.user,
            variation=variation,
            agreed=request.POST.get("seal", ""),
            on=timezone.localdate(),
            at=timezone.now(),
        )
    except Refused as refused:
        return _page(request, variation, 409, refused=str(refused))
    except Conflict:
        return _page(request, variation_of(pk, serial), 409, changed_meanwhile=True)
    messages.success(request, f"Variation {variation} is issued and frozen. Send a link, or the PDF on paper.")
    return redirect("variation", pk, serial)


@office_only
@require_POST
def record_answer(request: MemberRequest, pk: int, serial: int) -> HttpResponse:
    """Record how a variation ended, as it reached the office."""
    variation = variation_of(pk, serial)
    form = OfficeAnswerForm(request.POST, variation=variation)
    if not form.is_valid():
        return _page(request, variation, 422, answer_form=form, form=form)
    try:
        answer_variation(
            by=request.user,
            variation=variation,
            decision=VariationDecision(form.cleaned_data["decision"]),
            said_by=form.cleaned_data["said_by"],
            role=form.cleaned_data["role"],
            note=form.cleaned_data["note"],
            pdf_sha256=form.cleaned_data["read"],
            at=timezone.now(),
        )
    except AlreadyAnswered:
        messages.success(request, "It was answered before; what was said stands below.")
    except (Refused, Conflict) as refused:
        form.add_error(None, str(refused) or "The page was of another state of it; look at it again.")
        return _page(request, variation_of(pk, serial), 409, answer_form=form, form=form)
    else:
        messages.success(request, f"Variation {variation} is {form.cleaned_data['decision']}.")
    return redirect("variation", pk, serial)


@office_only
@require_POST
def new_link(request: MemberRequest, pk: int, serial: int) -> HttpResponse:
    """Make a link through which one receiver answers."""
    variation = variation_of(pk, serial)
    if variation.issued_at is None or variation.answered is not None:
        messages.error(request, "A link is for a variation that went out and waits for its answer.")
        return redirect("variation", pk, serial)
    form = LinkForm(request.POST)
    made = make_and_show(request, form, LinkKind.VARIATION, variation.commission, variation=variation)
    return made or _page(request, variation, 422, link_form=form, form=form)


@office_only
@require_safe
def variation_pdf(request: MemberRequest, pk: int, serial: int) -> HttpResponse:
    """The document as it went out, byte for byte."""
    variation = variation_of(pk, serial, "pdf")
    if variation.issued_at is None:
        raise Http404
    return as_file(bytes(variation.pdf or b""), PDF, variation_file_name(variation))
