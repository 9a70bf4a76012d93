"""Which batch went into which cast, asked years later."""

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from jobs.queries.stores import issues_from, sent_without_stage
from jobs.stores.sheet import batch_rows
from materials.models import Lot
from materials.queries.stock import batches_matching
from studio.access import MemberRequest, members
from studio.htmx import render_page

A_PAGE = 50


@members
@require_safe
def batches(request: MemberRequest) -> HttpResponse:
    """Lots by their batch number, with the stages they went into."""
    wanted = request.GET.get("q", "").replace("\0", "").strip()[:60]
    page = Paginator(batches_matching(wanted), A_PAGE).get_page(request.GET.get("page"))
    lots = list(page.object_list)
    went: dict[int, list[object]] = {}
    for row in batch_rows(issues_from(lots)):
        went.setdefault(row.lot.pk, []).append(row)
    context = {
        "place": "stores",
        "stores_sheet": "batches",
        "wanted": wanted,
        "page": page,
        "rows": [(lot, went.get(lot.pk, ())) for lot in lots],
    }
    return render_page(request, "jobs/stores/batches.html", "jobs/stores/_batch_rows.html", context)


@members
@require_safe
def batch(request: MemberRequest, pk: int) -> HttpResponse:
    """One lot: every stage it went into."""
    lot = get_object_or_404(Lot.objects.select_related("item"), pk=pk)
    context = {
        "place": "stores",
        "stores_sheet": "batches",
        "lot": lot,
        "rows": batch_rows(issues_from([lot])),
        "sent": sent_without_stage(lot),
    }
    return render(request, "jobs/stores/batch.html", context)
