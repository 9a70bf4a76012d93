"""The workshop at a glance."""

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.approvals import awaited_of
from jobs.board import charts
from jobs.hand_overs import unread_notes
from jobs.models import Commission, CommissionState
from jobs.pictures import drawing_of_commission
from jobs.queries.plans import expected_days
from studio.access import MemberRequest, members, sees_money
from studio.office.queries import house

SHOWN = 24


@members
@require_safe
def workshop(request: MemberRequest) -> HttpResponse:
    """Every live commission: its outline, what waits for what, what is late, and who is on it today."""
    rows = list(Commission.objects.live().prefetch_related("sections")[: SHOWN + 1])
    live = rows[:SHOWN]
    found, units, planned = charts(live, timezone.now()), house().units, expected_days()
    cards = [
        (
            commission,
            found[commission.pk],
            drawing_of_commission(commission, list(commission.sections.all()), units, found[commission.pk].reached),
            planned.get(commission.pk),
        )
        for commission in live
    ]
    context = {
        "place": "workshop",
        "in_hand": [card for card in cards if card[0].state == CommissionState.ACCEPTED],
        "to_come": [card for card in cards if card[0].state != CommissionState.ACCEPTED],
        "more": len(rows) > SHOWN,
        "awaited": awaited_of(live) if sees_money(request.user) else [],
        "notes": unread_notes() if sees_money(request.user) else [],
    }
    return render(request, "jobs/workshop.html", context)
