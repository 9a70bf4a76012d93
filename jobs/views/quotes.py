"""Issuing a quote, reading what was issued, and recording the answer."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.figures.compare import compare
from jobs.figures.price import TaxLine
from jobs.forms.quotes import AnswerForm
from jobs.models import Decision, Quote
from jobs.models.quotes import HEAVY
from jobs.quotes.buildups import groups_of
from jobs.quotes.issuing import issue_as_agreed
from jobs.quotes.lines_file import lines_file
from jobs.quotes.sheets import file_name, printed_take_off, seal
from jobs.quotes.versions import versions_of
from jobs.quotes.workings import worked
from jobs.services.drafts import Refused, drafted
from jobs.services.freezing import lines_of
from jobs.services.quotes import AlreadyDone, answer
from jobs.views.price import commission_of
from studio.access import MemberRequest, office_only
from studio.downloads import CSV, PDF, as_file
from studio.locking import Conflict


def _version(pk: int, version: int, *wanted: str) -> Quote:
    """One version that went out, with the large fields that are wanted, or 404."""
    commission = commission_of(pk)
    found = commission.quotes.issued().filter(version_number=version)
    quote = found.defer(None).defer(*(set(HEAVY) - set(wanted))).first()
    if quote is None:
        raise Http404
    quote.commission = commission
    return quote


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def issue_quote(request: MemberRequest, pk: int) -> HttpResponse:
    """Look at what will be frozen, then freeze it."""
    commission, today = commission_of(pk), timezone.localdate()
    context: dict[str, Any] = {"place": "commissions", "commission": commission, "sheet": "price"}
    if request.method == "POST":
        wanted = request.POST.get("version_number", "")
        try:
            quote = issue_as_agreed(
                by=request.user,
                commission=commission,
                version_number=int(wanted) if wanted.isdecimal() and len(wanted) < 6 else 0,
                agreed=request.POST.get("seal", ""),
                on=today,
                at=timezone.now(),
            )
        except AlreadyDone as done:
            messages.success(request, f"Quote {done.quote} was issued before; here it is.")
            return redirect("quote", pk, done.quote.version_number)
        except Refused as refused:
            context["refused"] = str(refused)
        except Conflict:
            context["changed_meanwhile"] = True
        else:
            messages.success(request, f"Quote {quote} is issued and frozen.")
            return redirect("quote", pk, quote.version_number)
    seen = drafted(commission)
    found = worked(seen, today)
    context |= {"seen": seen, "found": found, "last_day": seen.draft.last_day(today)}
    if found.working:
        context["seal"] = seal(seen, found.working)
    return render(request, "jobs/price/issue.html", context, status=409 if request.method == "POST" else 200)


def _taxes(quote: Quote) -> list[TaxLine]:
    """The tax of a version; all of a commission is taxed alike."""
    part = quote.parts.all()[0]
    return [TaxLine(part.tax_category, part.tax_rate, quote.net_minor or 0, quote.tax_minor or 0)]


def _sheet(request: MemberRequest, quote: Quote, form: AnswerForm, status: int) -> HttpResponse:
    versions = versions_of(quote.commission, timezone.localdate())
    own = next(version for version in versions if version.quote.pk == quote.pk)
    before = next((each.quote for each in versions if each.quote.version_number < quote.version_number), None)
    lines = lines_of(quote)
    context = {
        "place": "commissions",
        "commission": quote.commission,
        "sheet": "price",
        "quote": quote,
        "version": own,
        "newest": versions[0].quote,
        "groups": groups_of(lines),
        "taxes": _taxes(quote),
        "before": before,
        "difference": compare(lines_of(before), lines) if before else None,
        "form": form,
    }
    return render(request, "jobs/price/quote.html", context, status=status)


@office_only
@require_safe
def quote_sheet(request: MemberRequest, pk: int, version: int) -> HttpResponse:
    """One issued version: what it came to, what changed since the one before, and the answer."""
    return _sheet(request, _version(pk, version), AnswerForm(), 200)


@office_only
@require_POST
def record_answer(request: MemberRequest, pk: int, version: int) -> HttpResponse:
    """Record what the commissioner answered; once."""
    quote = _version(pk, version, "take_off")
    form = AnswerForm(request.POST)
    if not form.is_valid():
        return _sheet(request, quote, form, 422)
    try:
        answer(
            by=request.user,
            quote=quote,
            decision=Decision(form.cleaned_data["decision"]),
            said_by=form.cleaned_data["said_by"],
            note=form.cleaned_data["note"],
            on=timezone.localdate(),
        )
    except AlreadyDone:
        messages.success(request, "The answer to this version was recorded before; it stands below.")
    except Refused as refused:
        form.add_error(None, str(refused))
        return _sheet(request, quote, form, 409)
    else:
        messages.success(request, f"Quote {quote} is {form.cleaned_data['decision']}.")
    return redirect("quote", pk, version)


@office_only
@require_safe
def quote_pdf(request: MemberRequest, pk: int, version: int) -> HttpResponse:
    """The document as it went out, byte for byte."""
    quote = _version(pk, version, "pdf")
    return as_file(bytes(quote.pdf or b""), PDF, file_name(quote, ".pdf"))


@office_only
@require_safe
def take_off_pdf(request: MemberRequest, pk: int, version: int) -> HttpResponse:
    """The internal take-off with its prices, printed from what was frozen."""
    quote = _version(pk, version, "take_off", "price_book")
    return as_file(
        printed_take_off(quote),
        PDF,
        file_name(quote, " take-off.pdf"),
    )


@office_only
@require_safe
def lines_csv(request: MemberRequest, pk: int, version: int) -> HttpResponse:
    """Parts, payments and build-up as a table for other programs."""
    quote = _version(pk, version)
    return as_file(
        lines_file(quote),
        CSV,
        file_name(quote, " lines.csv"),
    )
