"""Entering and correcting items and their packs."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from materials.forms.catalogue import EditItemForm, EditPackForm, NewItemForm, NewPackForm
from materials.models import Item, Pack
from materials.services.catalogue import CatalogueError, add_item, add_pack, change_item, change_pack
from materials.views.entry import Facts, entry_page
from studio.access import MemberRequest, office_only
from studio.locking import Conflict
from studio.office.queries import house


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_item(request: MemberRequest) -> HttpResponse:
    """Add an item to the catalogue."""
    form = NewItemForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            item = add_item(by=request.user, key=form.cleaned_data["key"], particulars=form.particulars())
        except CatalogueError as refusal:
            form.add_error(refusal.field, str(refusal))
        else:
            messages.success(request, f"{item.name} is in the catalogue. Add its packs and prices.")
            return redirect("item", item.pk)
    return entry_page(request, form, title="New item", act="Add the item")


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def edit_item(request: MemberRequest, pk: int) -> HttpResponse:
    """Change what is known of an item."""
    item = get_object_or_404(Item, pk=pk)
    form = EditItemForm(request.POST) if request.method == "POST" else EditItemForm.of(item)
    there_now: Facts = ()
    if request.method == "POST" and form.is_valid():
        version, particulars = form.cleaned_data["version"], form.particulars()
        try:
            change_item(by=request.user, item=item, version=version, particulars=particulars)
        except CatalogueError as refusal:
            form.add_error(refusal.field, str(refusal))
        except Conflict:
            item.refresh_from_db()
            there_now = _facts_of_item(item)
        else:
            messages.success(request, f"{item.name} is saved.")
            return redirect("item", pk)
    return entry_page(request, form, title="Particulars", act="Save the item", item=item, there_now=there_now)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_pack(request: MemberRequest, pk: int) -> HttpResponse:
    """Add a size in which an item is sold, and its price if that is known."""
    item = get_object_or_404(Item, pk=pk)
    currency = house().currency
    form = NewPackForm(item, currency, timezone.localdate(), request.POST or None)
    if request.method == "POST" and form.is_valid():
        label, quantity = form.cleaned_data["label"], form.cleaned_data["quantity"]
        first_price = form.first_price()
        try:
            add_pack(
                by=request.user,
                item=item,
                label=label,
                quantity=quantity,
                first_price=first_price,
                currency=currency,
            )
        except CatalogueError as refusal:
            form.add_error(refusal.field, str(refusal))
        else:
            messages.success(request, f"The pack “{label}” is saved.")
            return redirect("item", pk)
    return entry_page(request, form, title="New pack", act="Add the pack", item=item)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def edit_pack(request: MemberRequest, pk: int) -> HttpResponse:
    """Correct what a pack is called or holds."""
    pack = get_object_or_404(Pack.objects.select_related("item"), pk=pk)
    form = EditPackForm(pack.item, request.POST) if request.method == "POST" else EditPackForm.of(pack)
    there_now: Facts = ()
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            change_pack(
                by=request.user, pack=pack, version=data["version"], label=data["label"], quantity=data["quantity"]
            )
        except CatalogueError as refusal:
            form.add_error(refusal.field, str(refusal))
        except Conflict:
            pack = get_object_or_404(Pack.objects.select_related("item"), pk=pk)
            there_now = [("Pack", pack.label), ("Holds", f"{pack.quantity.normalize():f} {pack.item.unit}")]
        else:
            messages.success(request, f"The pack “{pack.label}” is saved.")
            return redirect("item", pack.item_id)
    return entry_page(request, form, title="Pack", act="Save the pack", item=pack.item, there_now=there_now)


def _facts_of_item(item: Item) -> Facts:
    density = "" if item.density_kg_m3 is None else f"{item.density_kg_m3:g} kg/m3"
    shelf_life = "does not spoil" if item.shelf_life_days is None else f"{item.shelf_life_days} days"
    return [
        ("Name", item.name),
        ("Kind", item.get_kind_display()),
        ("Counted in", item.get_unit_display()),
        ("Density", density or "not given"),
        ("Supplier", item.supplier or "not given"),
        ("Order to delivery", f"{item.lead_days} days"),
        ("Shelf life", shelf_life),
    ]
