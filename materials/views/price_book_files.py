"""The price book as a file: out, and in after it has been shown what it would change."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from materials.forms.prices import FileForm
from materials.services.price_book_files.applying import (
    CannotBeCarried,
    Outdated,
    apply_import,
    read_signed,
    sign_plan,
)
from materials.services.price_book_files.planning import Plan, plan_import
from materials.services.price_book_files.reading import read_file
from materials.services.price_book_files.rows import COLUMNS
from materials.services.price_book_files.table import UnreadableFile
from materials.services.price_book_files.writing import csv_text, price_book_rows, workbook
from studio.access import MemberRequest, office_only
from studio.downloads import CSV, XLSX, as_file
from studio.office.queries import house


@office_only
@require_safe
def price_book_csv(request: MemberRequest) -> HttpResponse:
    """The whole price book as CSV."""
    text = csv_text(price_book_rows(), house().currency)
    return as_file(text, CSV, _name("csv"))


@office_only
@require_safe
def price_book_xlsx(request: MemberRequest) -> HttpResponse:
    """The whole price book as a workbook."""
    return as_file(workbook(price_book_rows(), house().currency), XLSX, _name("xlsx"))


def _name(ending: str) -> str:
    return f"price-book-{timezone.localdate()}.{ending}"


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def check_file(request: MemberRequest) -> HttpResponse:
    """Say what a file would change, line by line, and change nothing."""
    form = FileForm(request.POST, request.FILES) if request.method == "POST" else FileForm()
    if request.method == "POST" and form.is_valid():
        file = form.cleaned_data["file"]
        try:
            plan = plan_import(read_file(file.read()), house().currency)
            return _plan_page(request, plan, file.name)
        except (UnreadableFile, CannotBeCarried) as refusal:
            form.add_error("file", str(refusal))
    return _file_page(request, form)


@office_only
@require_POST
def take_in(request: MemberRequest) -> HttpResponse:
    """Take in the lines that were shown, if they would still do what was shown."""
    try:
        carried = read_signed(request.POST.get("lines", ""), request.user)
        done = apply_import(by=request.user, carried=carried, currency=house().currency)
    except CannotBeCarried as refusal:
        return _file_page(request, FileForm(), refusal=str(refusal))
    except Outdated as outdated:
        return _plan_page(request, outdated.plan, carried.file_name, outdated=True)
    added = f"{done.prices} new prices, {done.packs} new packs, {done.items} new items"
    messages.success(request, f"{carried.file_name} is taken in: {added}, {done.changed} lines changed.")
    return redirect("price_book")


def _file_page(request: MemberRequest, form: FileForm, refusal: str = "") -> HttpResponse:
    context = {"place": "stores", "form": form, "refusal": refusal, "columns": COLUMNS}
    return render(request, "materials/price_book_file.html", context, status=422 if form.errors or refusal else 200)


def _plan_page(request: MemberRequest, plan: Plan, file_name: str, *, outdated: bool = False) -> HttpResponse:
    changes = not plan.refused and bool(plan.new or plan.changed)
    context = {
        "place": "stores",
        "plan": plan,
        "file_name": file_name,
        "outdated": outdated,
        "lines": sign_plan(plan, file_name, request.user) if changes else "",
        "form": FileForm(),
    }
    status = 409 if outdated else 422 if plan.refused else 200
    return render(request, "materials/price_book_check.html", context, status=status)
