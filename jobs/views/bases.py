"""The base that a commission stands on."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from jobs.forms.lifting import BaseForm
from jobs.models import Commission, CommissionBase
from jobs.services.lifting import set_base
from jobs.views.keeping import is_kept
from materials.estimator.errors import EstimatorError
from studio.access import MemberRequest, office_only
from studio.locking import Conflict


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def base(request: MemberRequest, pk: int) -> HttpResponse:
    """Enter or change the plate, its holes and legs."""
    commission = get_object_or_404(Commission, pk=pk)
    rows, status = CommissionBase.objects.filter(commission=commission), 200
    form = BaseForm(request.POST if request.method == "POST" else None, row=rows.first())
    context: dict[str, Any] = {"place": "commissions", "commission": commission, "sheet": "sheets", "form": form}

    def keep() -> None:
        version = form.cleaned_data["version"]
        set_base(by=request.user, commission=commission, version=version, values=form.entered())

    try:
        if is_kept(form, keep, (EstimatorError,)):
            messages.success(request, "The base is saved.")
            return redirect("sheet", pk, "fixings")
    except Conflict:
        context["there_now"] = form.catch_up(BaseForm(row=rows.first()))
        status = 409
    return render(request, "jobs/sheets/base.html", context, status=422 if form.errors else status)
