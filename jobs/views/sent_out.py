"""Sent-out work of a commission: what and when for everybody, prices for the office."""

from collections.abc import Sequence

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.forms.issues import LotForm
from jobs.forms.sent_out import SentOutForm
from jobs.models import Commission, SentOutWork
from jobs.services.sent_out import SentOutError, change, order, send_material
from materials.models import Item, Lot
from materials.queries.stock import lots_held, stock
from materials.stock.errors import StoresError
from studio.access import MemberRequest, members, office_only, sees_money
from studio.asking import number_asked
from studio.forms import Difference
from studio.locking import Conflict
from studio.office.queries import house
from studio.once import KeyUsed


@members
@require_safe
def sent_out_list(request: MemberRequest, pk: int) -> HttpResponse:
    """Every piece of sent-out work of a commission."""
    commission = get_object_or_404(Commission, pk=pk)
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "stores",
        "today": timezone.localdate(),
        "works": commission.sent_out.select_related("stage__section").prefetch_related("went_with_it__lot__item"),
        "rows": f"jobs/stores/_sent_out_{'office' if sees_money(request.user) else 'bench'}.html",
    }
    return render(request, "jobs/stores/sent_out.html", context)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_sent_out(request: MemberRequest, pk: int) -> HttpResponse:
    """Write an order down."""
    commission = get_object_or_404(Commission, pk=pk)
    currency = house().currency
    begin = {"ordered_on": timezone.localdate(), "version": 0}
    form = SentOutForm(commission, currency, request.POST or None, initial=begin)
    if request.method == "POST" and form.is_valid():
        try:
            order(by=request.user, commission=commission, particulars=form.particulars(), currency=currency)
        except SentOutError as refusal:
            form.add_error(refusal.field, str(refusal))
        else:
            messages.success(request, "The order is written down.")
            return redirect("sent_out", pk)
    return _page(request, form, commission, title="Order sent-out work", act="Write the order down")


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def edit_sent_out(request: MemberRequest, pk: int) -> HttpResponse:
    """Change an order: it went, it came back, it was charged."""
    work = _work(pk)
    form = SentOutForm.of(work, request.POST or None)
    there_now: Sequence[Difference] | None = None
    if request.method == "POST" and form.is_valid():
        try:
            change(by=request.user, work=work, version=form.cleaned_data["version"], particulars=form.particulars())
        except SentOutError as refusal:
            form.add_error(refusal.field, str(refusal))
        except Conflict:
            there_now = form.catch_up(SentOutForm.of(_work(pk)))
        else:
            messages.success(request, "The order is saved.")
            return redirect("sent_out", work.commission_id)
    return _page(request, form, work.commission, title="Sent-out work", act="Save", work=work, there_now=there_now)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def material_with(request: MemberRequest, pk: int) -> HttpResponse:
    """Material of the studio's that goes with the work: choose it, then from which lot and how much."""
    work = _work(pk)
    asked = number_asked(request, "item")
    context = {"place": "commissions", "commission": work.commission, "sheet": "stores", "work": work}
    if asked is None:
        return render(request, "jobs/stores/material_choose.html", {**context, "rows": stock()})
    item = get_object_or_404(Item, pk=asked)
    rows = lots_held(Lot.objects.filter(item=item))
    if not rows:
        messages.error(request, f"None of {item.name} is in stock.")
        return redirect("material_with", work.pk)
    form = LotForm(item, rows, timezone.localdate(), request.POST or None)
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            send_material(by=request.user, work=work, lot=form.chosen(), quantity=data["quantity"], key=data["key"])
        except StoresError as refusal:
            form.add_error(refusal.field, str(refusal))
        except KeyUsed as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"{item.name} goes with it.")
            return redirect("sent_out", work.commission_id)
    status = 422 if form.errors else 200
    return render(request, "jobs/stores/material.html", {**context, "item": item, "form": form}, status=status)


def _work(pk: int) -> SentOutWork:
    return get_object_or_404(SentOutWork.objects.select_related("commission", "stage__section"), pk=pk)


def _page(
    request: MemberRequest,
    form: SentOutForm,
    commission: Commission,
    *,
    title: str,
    act: str,
    work: SentOutWork | None = None,
    there_now: Sequence[Difference] | None = None,
) -> HttpResponse:
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "stores",
        "form": form,
        "work": work,
        "title": title,
        "act": act,
        "there_now": there_now,
    }
    status = 422 if form.errors else 409 if there_now is not None else 200
    return render(request, "jobs/stores/sent_out_edit.html", context, status=status)
