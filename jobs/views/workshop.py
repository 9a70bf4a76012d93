"""The workshop at a glance."""

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.approvals import awaited_of
from jobs.glances import counted, glances
from jobs.hand_overs.record import unread_notes
from jobs.models import Commission
from studio.access import MemberRequest, members, sees_money

SHOWN = 24


@members
@require_safe
def workshop(request: MemberRequest) -> HttpResponse:
    """Every live commission: its outline, what waits for what, what is late, and who is on it today."""
    rows = list(Commission.objects.live().prefetch_related("sections")[: SHOWN + 1])
    live = rows[:SHOWN]
    cards = glances(live, timezone.now())
    in_hand = [card for card in cards if card.is_in_hand]
    awaited = awaited_of(live) if sees_money(request.user) else []
    context = {
        "place": "workshop",
        "counted": counted(in_hand, awaited=len(awaited), awaited_late=sum(bool(late) for _, late in awaited)),
        "in_hand": in_hand,
        "to_come": [card for card in cards if not card.is_in_hand],
        "more": len(rows) > SHOWN,
        "awaited": awaited,
        "notes": unread_notes() if sees_money(request.user) else [],
    }
    return render(request, "jobs/workshop.html", context)
