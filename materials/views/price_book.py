"""The price book as people read it, and one item with everything known of it."""

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from materials.estimator.gel import GelTable, doubts
from materials.forms.prices import DayForm
from materials.models import Item
from materials.queries.gel import grid_of, readings_of
from materials.queries.prices import history_of, items_matching, prices_on, unpriced_on
from studio.access import MemberRequest, office_only
from studio.htmx import render_page

A_PAGE = 100


@office_only
@require_safe
def price_book(request: MemberRequest) -> HttpResponse:
    """Every item by kind, with its packs' prices of a day."""
    today = timezone.localdate()
    form = DayForm({"q": request.GET.get("q", ""), "on": request.GET.get("on") or today.isoformat()})
    form.is_valid()
    # A day that cannot be read shows today's prices beneath its error.
    day, wanted = form.cleaned_data.get("on") or today, form.cleaned_data.get("q", "")
    found = items_matching(wanted)
    page = Paginator(found, A_PAGE).get_page(request.GET.get("page"))
    context = {
        "place": "stores",
        "form": form,
        "day": day,
        "today": today,
        "wanted": wanted,
        "page": page,
        "rows": prices_on(day, list(page.object_list)),
        "unpriced": unpriced_on(day, found),
    }
    status = 422 if form.errors else 200
    return render_page(request, "materials/price_book.html", "materials/_price_rows.html", context, status=status)


@office_only
@require_safe
def item_sheet(request: MemberRequest, pk: int) -> HttpResponse:
    """One item: particulars, packs, and every price there was."""
    item = get_object_or_404(Item, pk=pk)
    today = timezone.localdate()
    readings = readings_of(item)
    percents, times = grid_of(readings)
    context = {
        "place": "stores",
        "item": item,
        "today": today,
        "packs": history_of(item, today),
        "percents": percents,
        "times": times,
        "doubts": doubts(GelTable(item.name, readings)) if readings else (),
    }
    return render(request, "materials/item.html", context)
