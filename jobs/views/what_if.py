"""Trying a change on a draft: the difference line by line, before anything is kept."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.figures.compare import compare
from jobs.forms.what_if import WhatIfForm
from jobs.quotes.buildups import totals_of
from jobs.quotes.workings import worked
from jobs.services.drafts import Drafted, Refused, drafted
from jobs.services.what_if import keep_change, tried
from jobs.views.price import commission_of
from studio.access import MemberRequest, office_only
from studio.htmx import render_page
from studio.locking import Conflict

PAGE, FRAGMENT = "jobs/price/what_if.html", "jobs/price/_difference.html"


def _context(seen: Drafted, form: WhatIfForm) -> dict[str, Any]:
    """The page's figures: what is, what would be, and between them the difference."""
    today = timezone.localdate()
    was = worked(seen, today)
    context: dict[str, Any] = {
        "place": "commissions",
        "commission": seen.commission,
        "sheet": "price",
        "seen": seen,
        "form": form,
        "was": was,
        "empty": True,
    }
    if not form.is_bound or not form.is_valid() or form.trial().is_empty:
        return context
    would = worked(tried(seen, form.trial()), today)
    context |= {"would": would, "empty": False}
    if was.working and was.working.priced and would.working and would.working.priced:
        before, after = was.working.priced, would.working.priced
        context["difference"] = compare(before.built.lines, after.built.lines)
        context["totals"] = totals_of(before, after, was.working.house.tax_name)
    return context


@office_only
@require_safe
def what_if(request: MemberRequest, pk: int) -> HttpResponse:
    """Try a change; the address holds it, so it can be kept as a bookmark or sent on."""
    seen = drafted(commission_of(pk))
    form = WhatIfForm(request.GET or None, sections=seen.sections)
    context = _context(seen, form)
    return render_page(request, PAGE, FRAGMENT, context, status=422 if form.errors else 200)


@office_only
@require_POST
def keep(request: MemberRequest, pk: int) -> HttpResponse:
    """Keep what was tried, unless the draft is another by now."""
    commission = commission_of(pk)
    seen = drafted(commission)
    form = WhatIfForm(request.POST, sections=seen.sections)
    context: dict[str, Any] = {}
    if not form.is_valid():
        return render_page(request, PAGE, FRAGMENT, _context(seen, form), status=422)
    try:
        kept = keep_change(
            by=request.user, commission=commission, stamp=request.POST.get("stamp", ""), trial=form.trial()
        )
    except Refused as refused:
        context["refused"] = str(refused)
    except Conflict:
        context["changed_meanwhile"] = True
    else:
        messages.success(request, "The change is kept." if kept else "That change was kept before.")
        return redirect("price", pk)
    return render_page(request, PAGE, FRAGMENT, {**_context(seen, form), **context}, status=409)
