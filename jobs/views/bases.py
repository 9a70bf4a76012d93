"""The base that a commission stands on."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from jobs.forms.lifting import BaseForm
from jobs.models import Commission, CommissionBase
from jobs.services.bases import set_base
from jobs.views.keeping import try_to_keep
from materials.estimator.errors import EstimatorError
from studio.access import MemberRequest, office_only


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def base(request: MemberRequest, pk: int) -> HttpResponse:
    """Enter or change the plate, its holes and legs."""
    commission = get_object_or_404(Commission, pk=pk)
    rows = CommissionBase.objects.filter(commission=commission)
    form = BaseForm(request.POST if request.method == "POST" else None, row=rows.first())

    def keep() -> None:
        version = form.cleaned_data["version"]
        set_base(by=request.user, commission=commission, version=version, values=form.entered())

    tried = try_to_keep(form, keep, (EstimatorError,), now=lambda: BaseForm(row=rows.first()))
    if tried.kept:
        messages.success(request, "The base is saved.")
        return redirect("sheet", pk, "fixings")
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "sheets",
        "form": form,
        "there_now": tried.there_now,
    }
    return render(request, "jobs/sheets/base.html", context, status=tried.status)
