"""The price book as people read it."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio.access import MemberRequest, office_only


@office_only
@require_safe
def price_book(request: MemberRequest) -> HttpResponse:
    """Every item with today's prices."""
    return render(request, "materials/price_book.html", {"place": "stores"})
