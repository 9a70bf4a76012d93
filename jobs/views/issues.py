"""What a commission has had of the stores, and issuing to its stages and back. Quantities only."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.forms.issues import LotForm, ReturnForm
from jobs.models import Commission, Stage
from jobs.queries.stores import issues_of, names_of_items, needs_of, open_stages
from jobs.services.issues import give_back, had_of, issue, issued_lots
from jobs.stores.sheet import batch_rows, materials_by_stage
from materials.models import Item, Lot
from materials.queries.stock import lots_held, matching, stock
from materials.stock.errors import StoresError
from studio.access import MemberRequest, members
from studio.asking import number_asked
from studio.once import KeyUsed


@members
@require_safe
def commission_stores(request: MemberRequest, pk: int) -> HttpResponse:
    """Stage by stage what the take-off needs and what was issued, and which batch went where."""
    commission = get_object_or_404(Commission, pk=pk)
    batches = batch_rows(issues_of(commission))
    stages = list(
        Stage.objects.filter(commission=commission)
        .select_related("section")
        .order_by("section__position", "section", "position")
    )
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "stores",
        "stages": materials_by_stage(stages, needs_of([commission]), batches, names_of_items()),
        "batches": batches,
        "sent_out": commission.sent_out.select_related("stage__section"),
    }
    return render(request, "jobs/stores/commission.html", context)


@members
@require_http_methods(["GET", "HEAD", "POST"])
def issue_to_stage(request: MemberRequest, code: str) -> HttpResponse:
    """Choose what is issued, then from which lot and how much."""
    stage = _stage(code)
    asked, cast = number_asked(request, "item"), number_asked(request, "cast")
    if asked is None:
        return _choose_item(request, stage, cast)
    item = get_object_or_404(Item, pk=asked)
    rows = lots_held(Lot.objects.filter(item=item))
    if not rows:
        messages.error(request, f"None of {item.name} is in stock. The office takes deliveries in.")
        return redirect("issue_to_stage", stage.code)
    form = LotForm(
        item,
        rows,
        timezone.localdate(),
        request.POST or None,
        lot=number_asked(request, "lot"),
        casts=stage.casts,
        initial={"cast": cast},
    )
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            issue(by=request.user, stage=stage, lot=form.chosen(), **_what(data))
        except StoresError as refusal:
            form.add_error(refusal.field, str(refusal))
        except KeyUsed as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"{item.name} is issued to {stage.named(data.get('cast'))}.")
            return _back(stage, data.get("cast"))
    context = {"place": "stores", "stage": stage, "item": item, "form": form, "title": f"Issue {item.name}"}
    return render(request, "jobs/stores/issue.html", context, status=422 if form.errors else 200)


def _choose_item(request: MemberRequest, stage: Stage, cast: int | None) -> HttpResponse:
    wanted = request.GET.get("q", "").replace("\0", "")[:100]
    held = matching(stock(), wanted)
    batches = [row for row in batch_rows(issues_of(stage.commission)) if row.stage.pk == stage.pk]
    needs = [found for found in needs_of([stage.commission]) if found.stage and found.stage.pk == stage.pk]
    needed = materials_by_stage([stage], needs, batches, names_of_items())
    rows = needed[0].rows if needed else ()
    in_stock = {row.item.pk: row for row in held}
    context = {
        "place": "stores",
        "stage": stage,
        "wanted": wanted,
        "needed": [(row, in_stock.get(row.item.pk)) for row in rows],
        "others": [row for row in held if row.item.pk not in {each.item.pk for each in rows}],
        "issued": [
            (each, stage.named(each.cast)) for each in issued_lots(stage) if cast is None or each.cast in (cast, None)
        ],
        "cast": cast,
        "about": stage.named(cast) if stage.casts > 1 else str(stage),
    }
    return render(request, "jobs/stores/choose.html", context)


@members
@require_http_methods(["GET", "HEAD", "POST"])
def return_from_stage(request: MemberRequest, code: str, lot: int) -> HttpResponse:
    """Take back what a stage did not use."""
    stage = _stage(code)
    row = get_object_or_404(Lot.objects.select_related("item"), pk=lot)
    cast = number_asked(request, "cast")
    had = had_of(stage, row, cast)
    form = ReturnForm(row.item, request.POST or None)
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            give_back(by=request.user, stage=stage, lot=row, cast=cast, **_what(data))
        except StoresError as refusal:
            form.add_error(refusal.field, str(refusal))
        except KeyUsed as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"{row.item.name} is back in its lot.")
            return _back(stage, cast)
    context = {
        "place": "stores",
        "stage": stage,
        "item": row.item,
        "lot": row,
        "had": had.quantity if had else None,
        "about": stage.named(cast),
        "form": form,
        "title": f"Return {row.item.name}",
    }
    return render(request, "jobs/stores/return.html", context, status=422 if form.errors else 200)


@members
@require_safe
def issue_lot(request: MemberRequest, pk: int) -> HttpResponse:
    """From a lot: choose the stage it goes to."""
    lot = get_object_or_404(Lot.objects.select_related("item"), pk=pk)
    context = {"place": "stores", "stores_sheet": "stock", "lot": lot, "stages": open_stages()}
    return render(request, "jobs/stores/choose_stage.html", context)


def _stage(code: str) -> Stage:
    return get_object_or_404(Stage.objects.select_related("commission", "section"), code=code)


def _back(stage: Stage, cast: int | None) -> HttpResponse:
    address = reverse("issue_to_stage", args=[stage.code])
    return redirect(f"{address}?cast={cast}" if cast else address)


def _what(data: dict[str, Any]) -> dict[str, Any]:
    return {name: data[name] for name in ("quantity", "key", "cast") if name in data}
