"""Entering and correcting prices."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from materials.forms.prices import EditPriceForm, PriceForm
from materials.models import Pack, Price
from materials.services.catalogue import CatalogueError
from materials.services.prices import add_price, change_price
from materials.views.entry import Facts, entry_page
from studio.access import MemberRequest, office_only
from studio.locking import Conflict
from studio.money import format_minor
from studio.office.queries import house


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_price(request: MemberRequest, pk: int) -> HttpResponse:
    """Add what a pack costs from a day on."""
    pack = get_object_or_404(Pack.objects.select_related("item"), pk=pk)
    currency = house().currency
    form = PriceForm(currency, request.POST or None, initial={"valid_from": timezone.localdate().isoformat()})
    if request.method == "POST" and form.is_valid():
        day, amount = form.cleaned_data["valid_from"], form.cleaned_data["amount"]
        try:
            add_price(by=request.user, pack=pack, valid_from=day, amount_minor=amount, currency=currency)
        except CatalogueError as refusal:
            form.add_error(refusal.field, str(refusal))
        else:
            messages.success(request, f"The price of “{pack.label}” is saved.")
            return redirect("item", pack.item_id)
    return entry_page(request, form, title=f"New price of {pack.label}", act="Add the price", item=pack.item)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def edit_price(request: MemberRequest, pk: int) -> HttpResponse:
    """Correct a price that was written down wrong."""
    price = get_object_or_404(Price.objects.select_related("pack__item"), pk=pk)
    currency = house().currency
    form = EditPriceForm(currency, request.POST) if request.method == "POST" else EditPriceForm.of(price, currency)
    there_now: Facts = ()
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            change_price(
                by=request.user,
                price=price,
                version=data["version"],
                valid_from=data["valid_from"],
                amount_minor=data["amount"],
                currency=currency,
            )
        except CatalogueError as refusal:
            form.add_error(refusal.field, str(refusal))
        except Conflict:
            price = get_object_or_404(Price.objects.select_related("pack__item"), pk=pk)
            there_now = [
                ("Price", format_minor(price.amount_minor, currency)),
                ("It holds from", f"{price.valid_from:%Y-%m-%d}"),
            ]
        else:
            messages.success(request, f"The price of “{price.pack.label}” is saved.")
            return redirect("item", price.pack.item_id)
    title = f"Price of {price.pack.label}"
    return entry_page(request, form, title=title, act="Save the price", item=price.pack.item, there_now=there_now)
