"""Taking deliveries in, counting lots, and writing off what cannot be used."""

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from materials.forms.stores import CountForm, ReceiveForm, WriteOffForm
from materials.models import Item, Lot, MovementKind
from materials.services.stores import NOT_KEPT, balance_of, count, receive, take_out
from materials.stock.errors import StoresError
from studio.access import MemberRequest, office_only
from studio.office.queries import house
from studio.once import KeyUsed


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def receive_lot(request: MemberRequest, pk: int) -> HttpResponse:
    """Take in a delivery of an item."""
    item = get_object_or_404(Item.objects.exclude(kind__in=NOT_KEPT), pk=pk)
    begin = {"received": timezone.localdate().isoformat(), "supplier": item.supplier}
    form = ReceiveForm(item, house().currency, request.POST or None, initial=begin)
    if request.method == "POST" and form.is_valid():
        try:
            receive(by=request.user, item=item, delivery=form.delivery(), key=form.cleaned_data["key"])
        except StoresError as refusal:
            form.add_error(refusal.field, str(refusal))
        except KeyUsed as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"The delivery of {item.name} is in the stores.")
            return redirect("item_stock", item.pk)
    return _page(request, form, item, title="Receive a delivery", act="Take it in")


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def count_lot(request: MemberRequest, pk: int) -> HttpResponse:
    """Set what a lot holds to what was counted."""
    lot = get_object_or_404(Lot.objects.select_related("item"), pk=pk)
    item, expected = lot.item, balance_of(lot)
    form = CountForm(item.unit, item.get_unit_display(), request.POST or None, initial={"expected": expected})
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            moved = count(
                by=request.user,
                lot=lot,
                counted=data["counted"],
                expected=data["expected"],
                note=data["note"] or "",
                key=data["key"],
            )
        except StoresError as refusal:
            form.add_error(refusal.field, str(refusal))
            form.expect(balance_of(lot))
        except KeyUsed as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The count is booked." if moved else "The count agrees; nothing was moved.")
            return redirect("lot", lot.pk)
    return _page(request, form, item, title="Count a lot", act="Book the count", lot=lot)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def write_off(request: MemberRequest, pk: int) -> HttpResponse:
    """Take out what cannot be used any more."""
    lot = get_object_or_404(Lot.objects.select_related("item"), pk=pk)
    item = lot.item
    form = WriteOffForm(item.unit, item.get_unit_display(), request.POST or None)
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            take_out(
                by=request.user,
                lot=lot,
                quantity=data["quantity"],
                note=data["note"],
                key=data["key"],
                kind=MovementKind.WRITTEN_OFF,
            )
        except StoresError as refusal:
            form.add_error(refusal.field, str(refusal))
        except KeyUsed as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "It is written off.")
            return redirect("lot", lot.pk)
    return _page(request, form, item, title="Write off", act="Write it off", lot=lot)


def _page(
    request: MemberRequest, form: forms.Form, item: Item, *, title: str, act: str, lot: Lot | None = None
) -> HttpResponse:
    context = {
        "place": "stores",
        "stores_sheet": "stock",
        "form": form,
        "item": item,
        "title": title,
        "act": act,
        "lot": lot,
        "holds": balance_of(lot) if lot else None,
    }
    return render(request, "materials/stock/entry.html", context, status=422 if form.errors else 200)
