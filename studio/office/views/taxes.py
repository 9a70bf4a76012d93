"""Tax categories and their rates, each from a day on."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from studio.access import MemberRequest, office_only
from studio.office.forms import TaxCategoryForm, TaxRateForm
from studio.office.models import TaxCategory
from studio.office.queries import tax_table
from studio.office.services import NameTaken, add_tax_category, set_tax_rate


@office_only
@require_safe
def taxes(request: MemberRequest) -> HttpResponse:
    """Every category with the rate of today, and those before and after."""
    context = {"place": "office", "office_sheet": "tax", "categories": tax_table(timezone.localdate())}
    return render(request, "office/taxes.html", context)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_tax_category(request: MemberRequest) -> HttpResponse:
    """Add a category with its first rate."""
    form = TaxCategoryForm(
        request.POST if request.method == "POST" else None, initial={"valid_from": timezone.localdate()}
    )
    if request.method == "POST" and form.is_valid():
        try:
            category = add_tax_category(by=request.user, **form.cleaned_data)
        except NameTaken as error:
            form.add_error("name", str(error))
        else:
            messages.success(request, f"{category} is added.")
            return redirect("taxes")
    context = {"place": "office", "office_sheet": "tax", "form": form}
    return render(request, "office/tax_category_new.html", context, status=422 if form.errors else 200)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def tax_rate(request: MemberRequest, pk: int) -> HttpResponse:
    """Add a rate to a category, or correct the one that begins on the same day."""
    category = get_object_or_404(TaxCategory, pk=pk)
    form = TaxRateForm(request.POST if request.method == "POST" else None, initial={"valid_from": timezone.localdate()})
    if request.method == "POST" and form.is_valid():
        set_tax_rate(by=request.user, category=category, **form.cleaned_data)
        messages.success(request, f"The rate of {category} is saved.")
        return redirect("taxes")
    context = {
        "place": "office",
        "office_sheet": "tax",
        "category": category,
        "rates": category.rates.all(),
        "form": form,
    }
    return render(request, "office/tax_rate.html", context, status=422 if form.errors else 200)
