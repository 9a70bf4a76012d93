"""Extras of a commission: what no section's take-off gives."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from jobs.forms.extras import ExtraForm
from jobs.models import Extra
from jobs.services.drafts import Refused
from jobs.services.extras import add_extra, remove_extra
from jobs.views.price import commission_of
from studio.access import MemberRequest, office_only


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def extra_list(request: MemberRequest, pk: int) -> HttpResponse:
    """The extras there are, and one more."""
    commission = commission_of(pk)
    form = ExtraForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            extra = add_extra(by=request.user, commission=commission, **form.cleaned_data)
        except Refused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"{extra.label} is in the price.")
            return redirect("extras", pk)
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "price",
        "form": form,
        "extras": commission.extras.select_related("item"),
    }
    return render(request, "jobs/price/extras.html", context, status=422 if form.errors else 200)


@office_only
@require_POST
def remove(request: MemberRequest, pk: int, extra: int) -> HttpResponse:
    """Take one out; a second time there is nothing left to do."""
    commission = commission_of(pk)
    row = Extra.objects.select_related("commission", "item").filter(commission=commission, pk=extra).first()
    if row is None:
        messages.success(request, "It was taken out of the price before.")
        return redirect("extras", pk)
    try:
        remove_extra(by=request.user, extra=row)
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{row.label} is out of the price.")
    return redirect("extras", pk)
