"""The statement of account: the office's page, its files, and what a link shows of it."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.documents import statement_document
from jobs.figures.statement import Statement
from jobs.figures.statement_sheet import StatementSheet
from jobs.forms.links import LinkForm
from jobs.forms.statements import MarkForm, RetentionForm
from jobs.links.access import by_link
from jobs.models import AccountEntry, Commission, Link, LinkKind, Retention
from jobs.quotes.sheets import commissioner_of, safe_name, sheet_head
from jobs.services.drafts import Refused
from jobs.services.statements import keep_back, mark_payment, take_entry_back
from jobs.statements import statement_file, statement_of
from jobs.views.made_links import make_and_show
from jobs.views.price import commission_of
from studio.access import MemberRequest, office_only
from studio.downloads import CSV, PDF, as_file
from studio.locking import Conflict
from studio.office.queries import house


def _owed(commission: Commission) -> Statement:
    """The statement, or 404 before anything is agreed."""
    statement = statement_of(commission)
    if statement is None:
        raise Http404
    return statement


def _entries(commission: Commission) -> list[AccountEntry]:
    rows = commission.account.select_related("by", "reverses", "reversed_by")
    return list(rows.order_by("-on", "-pk"))


def _page(request: MemberRequest, commission: Commission, status: int = 200, **more: Any) -> HttpResponse:
    statement = statement_of(commission)
    context: dict[str, Any] = {"place": "commissions", "commission": commission, "sheet": "price"}
    if statement is not None:
        retention = Retention.objects.filter(commission=commission).first()
        begins = {"payment": request.GET.get("payment", ""), "on": timezone.localdate()}
        context |= {
            "statement": statement,
            "currency": statement.currency,
            "entries": _entries(commission),
            "marking": begins["payment"],
            "mark_form": MarkForm(statement=statement, initial=begins),
            "retention_form": RetentionForm(retention=retention),
            "link_form": LinkForm(initial={"receiver": commission.contact}),
        }
    return render(request, "jobs/statement/statement.html", {**context, **more}, status=status)


@office_only
@require_safe
def statement_page(request: MemberRequest, pk: int) -> HttpResponse:
    """What was agreed, what is due of it, and what was paid."""
    return _page(request, commission_of(pk))


@office_only
@require_POST
def mark(request: MemberRequest, pk: int) -> HttpResponse:
    """Mark a payment as asked for or paid."""
    commission = commission_of(pk)
    statement = _owed(commission)
    form = MarkForm(request.POST, statement=statement)
    if form.is_valid():
        try:
            entry = mark_payment(
                by=request.user,
                commission=commission,
                statement=statement,
                mark=form.mark(),
                key=form.cleaned_data["key"],
            )
        except Refused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"{entry}.")
            return redirect("statement", pk)
    return _page(request, commission, 422, mark_form=form, form=form)


@office_only
@require_POST
def take_back(request: MemberRequest, pk: int, entry: int) -> HttpResponse:
    """Take an entry back."""
    row = get_object_or_404(AccountEntry.objects.select_related("commission"), commission=pk, pk=entry)
    try:
        take_entry_back(by=request.user, entry=row, key=uuid.uuid4())
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"Taken back: {row}.")
    return redirect("statement", pk)


@office_only
@require_POST
def retention(request: MemberRequest, pk: int) -> HttpResponse:
    """Set what is kept back of every payment."""
    commission = commission_of(pk)
    _owed(commission)
    there = Retention.objects.filter(commission=commission).first()
    form = RetentionForm(request.POST, retention=there)
    if not form.is_valid():
        return _page(request, commission, 422, retention_form=form, form=form)
    try:
        keep_back(
            by=request.user,
            commission=commission,
            version=form.cleaned_data["version"],
            share=form.cleaned_data["share"],
        )
    except Refused as refused:
        form.add_error(None, str(refused))
        return _page(request, commission, 409, retention_form=form, form=form)
    except Conflict:
        now = RetentionForm(retention=Retention.objects.filter(commission=commission).first())
        return _page(request, commission, 409, retention_form=form, form=form, there_now=form.catch_up(now))
    messages.success(request, "What is kept back is saved.")
    return redirect("statement", pk)


@office_only
@require_POST
def new_link(request: MemberRequest, pk: int) -> HttpResponse:
    """Make a link through which one receiver reads the statement."""
    commission = commission_of(pk)
    _owed(commission)
    form = LinkForm(request.POST)
    made = make_and_show(request, form, LinkKind.STATEMENT, commission)
    return made or _page(request, commission, 422, link_form=form, form=form)


def _printed(commission: Commission, statement: Statement) -> HttpResponse:
    row, last = house(), statement.agreed[-1]
    revision = last.number.rpartition("/")[2].strip()
    head = sheet_head(commission, row, revision=revision, on=timezone.localdate(), drawn_by="")
    sheet = StatementSheet(head, commissioner_of(commission), statement, row.tax_name)
    name = f"{safe_name(f'{commission.number} Statement')}.pdf"
    return as_file(statement_document(sheet), PDF, name)


@office_only
@require_safe
def statement_pdf(request: MemberRequest, pk: int) -> HttpResponse:
    """The statement of today as a document."""
    commission = commission_of(pk)
    return _printed(commission, _owed(commission))


@office_only
@require_safe
def statement_csv(request: MemberRequest, pk: int) -> HttpResponse:
    """The statement as a table for the bookkeeper."""
    commission = commission_of(pk)
    content = statement_file(commission, _owed(commission), _entries(commission)[::-1])
    return as_file(content, CSV, f"{safe_name(f'{commission.number} Statement')}.csv")


def _held(link: Link) -> tuple[Commission, Statement]:
    if link.commission is None:
        raise Http404
    return link.commission, _owed(link.commission)


@by_link(LinkKind.STATEMENT)
@require_safe
def held_statement(request: HttpRequest, link: Link) -> HttpResponse:
    """The statement, for whoever holds its link."""
    commission, statement = _held(link)
    context = {"link": link, "commission": commission, "statement": statement, "currency": statement.currency}
    return render(request, "links/statement.html", {**context, "today": timezone.localdate()})


@by_link(LinkKind.STATEMENT)
@require_safe
def held_statement_pdf(request: HttpRequest, link: Link) -> HttpResponse:
    """The statement of today as a document."""
    return _printed(*_held(link))
