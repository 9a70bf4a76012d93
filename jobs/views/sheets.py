"""The Sheets of a commission: what can be printed, each sheet as a page and as a PDF, and the job pack."""

from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.documents.sheets import sheets_document
from jobs.models import Commission
from jobs.quote_sheets import safe_name, sheet_head
from jobs.sheets.kind import SheetKind, Shown, show, show_subject
from jobs.sheets.known import Job
from jobs.sheets.registry import BY_KEY, groups, offered
from materials.estimator.lines import STAGES
from studio.access import MemberRequest, members
from studio.downloads import as_file


@members
@require_safe
def sheet_list(request: MemberRequest, pk: int) -> HttpResponse:
    """Everything that can be printed of a commission, by section and stage."""
    commission = get_object_or_404(Commission, pk=pk)
    context = {"place": "commissions", "commission": commission, "sheet": "sheets", "groups": groups(Job(commission))}
    return render(request, "jobs/sheets/sheets.html", context)


def _kind(key: str) -> SheetKind:
    if key not in BY_KEY:
        raise Http404
    return BY_KEY[key]


def _page(request: MemberRequest, commission: Commission, shown: Shown, *, status: int) -> HttpResponse:
    context: dict[str, Any] = {
        "place": "commissions",
        "commission": commission,
        "sheet": "sheets",
        "shown": shown,
        "form": shown.form,
        "units": shown.subject.job.units,
        "query": urlencode(shown.form.address()),
    }
    return render(request, "jobs/sheets/sheet.html", context, status=status)


def _status(request: MemberRequest, shown: Shown) -> int:
    """A sheet that a link opens says on its page why it cannot be worked; what was asked of it is refused."""
    asked = set(request.GET) & {field.name for field in shown.form.asking()}
    return 422 if shown.form.errors or (shown.refused and asked) else 200


@members
@require_safe
def sheet(request: MemberRequest, pk: int, kind: str) -> HttpResponse:
    """One sheet, with what may be asked of it."""
    commission = get_object_or_404(Commission, pk=pk)
    shown = show(_kind(kind), Job(commission), request.GET.dict())
    return _page(request, commission, shown, status=_status(request, shown))


@members
@require_safe
def sheet_pdf(request: MemberRequest, pk: int, kind: str) -> HttpResponse:
    """The same sheet as a PDF; where it cannot be worked, the page that says why."""
    commission = get_object_or_404(Commission, pk=pk)
    shown = show(_kind(kind), Job(commission), request.GET.dict())
    if shown.answer is None:
        return _page(request, commission, shown, status=422)
    name = ", ".join(filter(None, (shown.kind.title, shown.subject.words)))
    return _pdf(request, commission, [shown], shown.kind.title, name)


@members
@require_safe
def job_pack(request: MemberRequest, pk: int) -> HttpResponse:
    """Every sheet of a commission in one PDF with its contents, or those of one section and stage."""
    commission = get_object_or_404(Commission, pk=pk)
    job, asked, stage = Job(commission), request.GET.get("section", ""), request.GET.get("stage", "")
    section = next((each for each in job.sections if str(each.pk) == asked), None)
    if (asked and section is None) or (stage and stage not in STAGES):
        raise Http404
    sheets = [show_subject(each.kind, each.subject) for each in offered(job, section.pk if section else None, stage)]
    if not sheets:
        raise Http404
    name = ", ".join(filter(None, ("Job pack", section.name if section else "", stage)))
    return _pdf(request, commission, sheets, "Job pack", name)


def _pdf(request: MemberRequest, commission: Commission, sheets: list[Shown], title: str, name: str) -> HttpResponse:
    issued = commission.quotes.issued().first()
    head = sheet_head(
        commission,
        sheets[0].subject.job.house,
        revision=str(issued.version_number) if issued else "draft",
        on=timezone.localdate(),
        drawn_by="",
    )
    content = sheets_document(head, sheets, title=title)
    return as_file(content, "application/pdf", safe_name(f"{commission.number} {name}") + ".pdf", to_save=False)
