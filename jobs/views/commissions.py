"""The list of commissions, and one commission's own particulars and record."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.forms.commissions import CommissionForm
from jobs.models import Commission
from jobs.services.commissions import change_particulars, open_commission
from studio.access import MemberRequest, members, office_only, sees_money
from studio.accounts.models import AuditEntry
from studio.htmx import render_page
from studio.locking import Conflict

A_PAGE = 50


@members
@require_safe
def commission_list(request: MemberRequest) -> HttpResponse:
    """Every commission, newest first, with a search."""
    wanted = request.GET.get("q", "").replace("\0", "")[:100]
    found = Commission.objects.matching(wanted)
    page = Paginator(found, A_PAGE).get_page(request.GET.get("page"))
    context = {"place": "commissions", "page": page, "wanted": wanted}
    return render_page(request, "jobs/commissions.html", "jobs/_commission_rows.html", context)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_commission(request: MemberRequest) -> HttpResponse:
    """Open a commission."""
    form = CommissionForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        commission = open_commission(by=request.user, on=timezone.localdate(), particulars=form.particulars())
        messages.success(request, f"{commission} is open. Now describe its sections.")
        return redirect("form_sheet", commission.pk)
    context = {"place": "commissions", "form": form}
    return render(request, "jobs/new_commission.html", context, status=422 if form.errors else 200)


@members
@require_http_methods(["GET", "HEAD", "POST"])
def particulars(request: MemberRequest, pk: int) -> HttpResponse:
    """Read the particulars; the office changes them here too."""
    commission = get_object_or_404(Commission, pk=pk)
    context = {"place": "commissions", "commission": commission, "sheet": "particulars"}
    if not sees_money(request.user):
        return render(request, "jobs/particulars_read.html", context, status=403 if request.method == "POST" else 200)
    posted = request.method == "POST"
    form = CommissionForm(request.POST, days_varied=commission.days_varied) if posted else CommissionForm.of(commission)
    status = 200
    if posted and form.is_valid():
        try:
            change_particulars(
                by=request.user,
                commission=commission,
                version=form.cleaned_data["version"] or 0,
                particulars=form.particulars(),
            )
        except Conflict:
            commission.refresh_from_db()
            context["there_now"] = commission
            status = 409
        else:
            messages.success(request, "The particulars are saved.")
            return redirect("particulars", pk)
    return render(request, "jobs/particulars.html", {**context, "form": form}, status=422 if form.errors else status)


@members
@require_safe
def commission_record(request: MemberRequest, pk: int) -> HttpResponse:
    """Who changed what, newest first; the bench does not see entries that hold money."""
    commission = get_object_or_404(Commission, pk=pk)
    entries = AuditEntry.objects.about(commission.subject)
    if not sees_money(request.user):
        entries = entries.filter(has_money=False)
    page = Paginator(entries, A_PAGE).get_page(request.GET.get("page"))
    context = {"place": "commissions", "commission": commission, "sheet": "record", "page": page}
    return render(request, "jobs/record.html", context)
