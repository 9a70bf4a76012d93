"""A product's gel times, as its maker's data sheet has them."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from materials.forms.gel import GelTimesForm
from materials.models import Item
from materials.queries.gel import readings_of
from materials.services.gel import change_gel_times
from studio.access import MemberRequest, office_only
from studio.locking import Conflict


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def gel_times(request: MemberRequest, pk: int) -> HttpResponse:
    """Enter and correct the table."""
    item = get_object_or_404(Item, pk=pk)
    form, status = GelTimesForm(request.POST or None, item=item, there=readings_of(item)), 200
    context: dict[str, Any] = {"place": "stores", "item": item, "form": form}
    if request.method == "POST" and form.is_valid():
        try:
            change_gel_times(by=request.user, item=item, readings=form.readings, **form.particulars())
        except Conflict:
            now = Item.objects.get(pk=pk)
            context["there_now"] = form.catch_up(GelTimesForm(item=now, there=readings_of(now)))
            status = 409
        else:
            messages.success(request, f"The gel times of {item.name} are saved.")
            return redirect("item", pk)
    return render(request, "materials/gel_times.html", context, status=422 if form.errors else status)
