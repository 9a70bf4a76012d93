"""Labels: choosing and printing them, and where each one leads."""

from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe

from jobs.delivery.label_codes import CAST, read_code
from jobs.documents.labels import LabelPage, label_pages, labels_document
from jobs.forms.labels import LabelsForm
from jobs.labels import Label, labels_of
from jobs.models import Commission, Section
from jobs.queries.labels import sheet_of, stage_now
from jobs.sheets.known import Job
from materials.estimator.errors import EstimatorError
from studio.access import MemberRequest, members
from studio.downloads import PDF, as_file


@dataclass(frozen=True, slots=True)
class Asked:
    """The form as it was sent, and the sheets it makes; none where it is in need of something."""

    form: LabelsForm
    problem: str = ""
    pages: tuple[LabelPage, ...] = ()
    labels: tuple[Label, ...] = ()


def _asked(request: MemberRequest, commission: Commission) -> Asked:
    job = Job(commission)
    form = LabelsForm(commission.sections.all(), request.GET, units=job.units)
    if not job.sections:
        return Asked(form, "The commission has no section yet; describe the first on its Form sheet.")
    if not form.is_valid():
        return Asked(form)

    def address_of(code: str) -> str:
        return request.build_absolute_uri(reverse("labelled", args=[code]))

    try:
        found = labels_of(job, set(form.cleaned_data["sections"]), form.cleaned_data["kinds"], address_of)
    except EstimatorError as error:
        return Asked(form, str(error))
    if not found:
        form.add_error("kinds", "There is nothing of this kind to label on these sections. Choose another kind.")
        return Asked(form)
    try:
        pages = label_pages(sheet_of(form.cleaned_data["stock"]), int(form.cleaned_data["first"]), found)
    except EstimatorError as error:
        form.add_error(None, str(error))
        return Asked(form)
    return Asked(form, pages=pages, labels=tuple(found))


@members
@require_safe
def labels(request: MemberRequest, pk: int) -> HttpResponse:
    """Choose labels and see them."""
    commission = get_object_or_404(Commission, pk=pk)
    return _shown(request, commission, _asked(request, commission))


def _shown(request: MemberRequest, commission: Commission, asked: Asked) -> HttpResponse:
    context: dict[str, Any] = {
        "place": "commissions",
        "commission": commission,
        "sheet": "sheets",
        "form": asked.form,
        "problem": asked.problem,
        "labels": asked.labels,
        "drawn": [SafeString(page.svg) for page in asked.pages],
        "begins": request.build_absolute_uri("/"),
        "query": request.GET.urlencode(),
    }
    return render(request, "jobs/labels/labels.html", context, status=422 if asked.form.errors else 200)


@members
@require_safe
def labels_pdf(request: MemberRequest, pk: int) -> HttpResponse:
    """The labels chosen, ready to print; what cannot be printed is said on the page."""
    commission = get_object_or_404(Commission, pk=pk)
    asked = _asked(request, commission)
    if not asked.pages:
        return _shown(request, commission, asked)
    title = f"Labels {commission.number}: {commission.title}"
    made = labels_document(sheet_of(asked.form.cleaned_data["stock"]), asked.pages, title=title)
    return as_file(made, PDF, f"{commission.number}-labels.pdf", to_save=False)


@members
@require_safe
def labelled(request: MemberRequest, code: str) -> HttpResponseRedirect:
    """What a label's code opens: the stage that the thing has come to, or its section where there is none yet."""
    try:
        thing = read_code(code)
    except EstimatorError as error:
        raise Http404(str(error)) from None
    section = get_object_or_404(Section, pk=thing.section)
    stage = stage_now(section, thing)
    if stage is None:
        return redirect("section_sheet", section.pk)
    address = reverse("stage_sheet", args=[stage.code])
    return redirect(f"{address}?cast={thing.number}" if thing.kind == CAST and stage.casts > 1 else address)
