"""What to buy, on a page and as a file."""

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.stores.buying import buying_file, to_buy
from studio.access import MemberRequest, office_only
from studio.downloads import CSV, as_file
from studio.office.queries import house


@office_only
@require_safe
def what_to_buy(request: MemberRequest) -> HttpResponse:
    """What accepted commissions need beyond what was issued and what is in stock, by supplier."""
    today, currency = timezone.localdate(), house().currency
    groups = to_buy(today, currency)
    context = {
        "place": "stores",
        "stores_sheet": "buy",
        "today": today,
        "groups": groups,
        "total_minor": sum(group.cost_minor for group in groups),
        "unpriced": sum(each.cost_minor is None for group in groups for each in group.purchases),
    }
    return render(request, "jobs/stores/buying.html", context)


@office_only
@require_safe
def what_to_buy_csv(request: MemberRequest) -> HttpResponse:
    """The same list as CSV."""
    today, currency = timezone.localdate(), house().currency
    content = buying_file(to_buy(today, currency), currency)
    return as_file(content, CSV, f"what-to-buy-{today}.csv")
