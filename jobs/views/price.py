"""The Price sheet: what a commission comes to, and the terms it is priced on."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.forms.quotes import TermsForm
from jobs.models import Commission
from jobs.quotes.buildups import groups_of
from jobs.quotes.versions import versions_of
from jobs.quotes.workings import worked
from jobs.services.drafts import Refused, drafted, save_terms
from jobs.services.pricing import METHOD
from jobs.variations.pages import variations_of
from studio.access import MemberRequest, office_only
from studio.locking import Conflict


def commission_of(pk: int) -> Commission:
    """The commission with its tax, or 404."""
    return get_object_or_404(Commission.objects.select_related("tax_category"), pk=pk)


@office_only
@require_safe
def price_sheet(request: MemberRequest, pk: int) -> HttpResponse:
    """The build-up of the draft, and the versions that went out."""
    commission = commission_of(pk)
    today = timezone.localdate()
    seen = drafted(commission)
    found = worked(seen, today)
    priced = found.working.priced if found.working else None
    versions = versions_of(commission, today)
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "price",
        "seen": seen,
        "found": found,
        "priced": priced,
        "groups": groups_of(priced.built.lines) if priced else (),
        "versions": versions,
        "variations": variations_of(commission, today),
        "accepted": next((version for version in versions if version.state == "accepted"), None),
        "method": METHOD,
        "today": today,
    }
    return render(request, "jobs/price/price.html", context)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def quote_terms(request: MemberRequest, pk: int) -> HttpResponse:
    """Read and change the terms of the draft."""
    commission = commission_of(pk)
    seen = drafted(commission)
    form = TermsForm(request.POST or None, draft=seen.draft)
    context: dict[str, Any] = {"place": "commissions", "commission": commission, "sheet": "price", "seen": seen}
    status = 200
    if request.method == "POST" and form.is_valid():
        try:
            version, terms = form.cleaned_data["version"], form.entered()
            save_terms(by=request.user, commission=commission, version=version, terms=terms)
        except Refused as refused:
            form.add_error(None, str(refused))
        except Conflict:
            now = drafted(commission_of(pk))
            context["there_now"] = form.catch_up(TermsForm(draft=now.draft))
            status = 409
        else:
            messages.success(request, "The terms are saved.")
            return redirect("price", pk)
    return render(request, "jobs/price/terms.html", {**context, "form": form}, status=422 if form.errors else status)
