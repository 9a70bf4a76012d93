"""The studio's own settings: read by the office, changed by the owner."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from studio.access import MemberRequest, office_only, owner_only
from studio.locking import Conflict
from studio.office.forms import WEEKDAYS, DocumentsForm, HouseForm, MoneyForm, PaymentsForm, WeekForm
from studio.office.public_holidays import coming, countries
from studio.office.queries import house as read_house
from studio.office.services import change_house

HOLIDAYS_SHOWN = 10


@office_only
@require_safe
def house(request: MemberRequest) -> HttpResponse:
    """Everything that is set for the studio, and the public holidays ahead."""
    row = read_house()
    context = {
        "place": "office",
        "office_sheet": "house",
        "country": dict(countries()).get(row.country, row.country),
        "working_days": [WEEKDAYS[number] for number in row.working_days],
        "holidays": coming(row.country, row.region, timezone.localdate(), HOLIDAYS_SHOWN),
        "texts": DocumentsForm(house=row),
    }
    return render(request, "office/house.html", context)


def _change(
    request: MemberRequest, kind: type[HouseForm], part: str, template: str = "office/house_part.html"
) -> HttpResponse:
    row = read_house()
    form = kind(request.POST if request.method == "POST" else None, house=row)
    context = {"place": "office", "office_sheet": "house", "part": part, "form": form}
    status = 200
    if request.method == "POST" and form.is_valid():
        try:
            change_house(
                by=request.user, house=row, version=form.cleaned_data["version"], part=part, values=form.entered()
            )
        except Conflict:
            context["there_now"], status = form.catch_up(kind(house=read_house())), 409
        else:
            messages.success(request, f"{part}: saved.")
            return redirect("house")
    return render(request, template, context, status=422 if form.errors else status)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def house_money(request: MemberRequest) -> HttpResponse:
    """Change the name, the address, and how prices are counted."""
    return _change(request, MoneyForm, "Name and money")


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def house_week(request: MemberRequest) -> HttpResponse:
    """Change the working week and where public holidays are taken from."""
    return _change(request, WeekForm, "Week and holidays")


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def house_documents(request: MemberRequest) -> HttpResponse:
    """Change the texts that a new quote begins with."""
    return _change(request, DocumentsForm, "Documents and terms")


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def house_payments(request: MemberRequest) -> HttpResponse:
    """Change the stage payments that a new quote begins with."""
    return _change(request, PaymentsForm, "Payment stages", "office/payments.html")
