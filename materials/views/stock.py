"""What lies in the stores, as everybody sees it; costs for the office alone."""

from decimal import Decimal

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from materials.models import Item, Lot
from materials.queries import stock as queries
from studio.access import MemberRequest, members, sees_money
from studio.htmx import render_page
from studio.office.queries import house

A_PAGE = 50


@members
@require_safe
def stock(request: MemberRequest) -> HttpResponse:
    """Every item that is held, with its nearest last day."""
    wanted = request.GET.get("q", "").replace("\0", "")[:100]
    today = timezone.localdate()
    rows = queries.matching(queries.stock(), wanted)
    context = {
        "place": "stores",
        "stores_sheet": "stock",
        "today": today,
        "wanted": wanted,
        "rows": rows,
        "expiring": [(row, row.expired(today)) for row in queries.expiring(today)],
        "soon": queries.SOON.days,
    }
    return render_page(request, "materials/stock/stock.html", f"materials/stock/{_of(request)}_rows.html", context)


@members
@require_safe
def item_stock(request: MemberRequest, pk: int) -> HttpResponse:
    """One item: its lots, what moved, and for the office what it is worth and by which working."""
    item = get_object_or_404(Item, pk=pk)
    rows = queries.ledger(item)
    today = timezone.localdate()
    context = {
        "place": "stores",
        "stores_sheet": "stock",
        "today": today,
        "item": item,
        "lots": [(row, row.expired(today)) for row in queries.lots_held(Lot.objects.filter(item=item))],
        "held": queries.held_now(rows),
        "average": queries.average_of(queries.held_now(rows), item.unit),
        "currency": rows[0].movement.lot.currency if rows else house().currency,
        "page": Paginator(rows, A_PAGE).get_page(request.GET.get("page")),
        "ledger": f"materials/stock/{_of(request)}_ledger.html",
    }
    return render(request, "materials/stock/item.html", context)


@members
@require_safe
def lot_sheet(request: MemberRequest, pk: int) -> HttpResponse:
    """One lot: what it holds, and every movement of it."""
    lot = get_object_or_404(Lot.objects.select_related("item"), pk=pk)
    movements = list(lot.movements.select_related("by"))
    row = queries.LotRow(lot, sum((movement.quantity for movement in movements), Decimal(0)))
    today = timezone.localdate()
    context = {
        "place": "stores",
        "stores_sheet": "stock",
        "lot": lot,
        "row": row,
        "expired": row.expired(today),
        "movements": movements,
        "today": today,
    }
    return render(request, "materials/stock/lot.html", context)


def _of(request: MemberRequest) -> str:
    """Pages with costs and pages without are templates of their own."""
    return "_office" if sees_money(request.user) else "_bench"
