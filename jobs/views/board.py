"""The board of a commission, as it hangs in the workshop."""

import hashlib

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_safe

from jobs.board import charts
from jobs.models import Commission
from jobs.pictures.outlines import drawing_of_commission, hatches
from studio.access import MemberRequest, members
from studio.htmx import wants_fragment
from studio.office.queries import house


@members
@require_safe
def board(request: MemberRequest, pk: int) -> HttpResponse:
    """Sections by stages; asked again by the page itself, it answers with nothing where nothing has changed."""
    commission = get_object_or_404(Commission, pk=pk)
    chart = charts([commission], timezone.now())[commission.pk]
    seen = hashlib.sha256(f"{chart!r} {commission.version}".encode()).hexdigest()[:16]
    fragment = wants_fragment(request)
    if fragment and request.GET.get("seen") == seen:
        response = HttpResponse(status=204)
    else:
        sections = list(commission.sections.all())
        context = {
            "place": "commissions",
            "commission": commission,
            "sheet": "board",
            "chart": chart,
            "seen": seen,
            "hatches": hatches("bar"),
            "drawing": drawing_of_commission(commission, sections, house().units, chart.reached),
        }
        response = render(request, "jobs/board/_board.html" if fragment else "jobs/board/board.html", context)
    patch_vary_headers(response, ["HX-Request"])
    return response
