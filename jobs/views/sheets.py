"""The Sheets of a commission: what can be printed, each sheet as a page and as a PDF, and the job pack."""

from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.models import Commission, JobPack
from jobs.quotes.sheets import safe_name
from jobs.services.kept_sheets import keep_answers
from jobs.services.packs import ask_for_pack
from jobs.sheets.kind import SheetKind, Shown, show, show_subject
from jobs.sheets.known import Job
from jobs.sheets.packing import TITLE, print_sheets
from jobs.sheets.registry import AT_STAGES, BY_KEY, groups, offered
from studio.access import MemberRequest, members
from studio.downloads import PDF, as_file


@members
@require_safe
def sheet_list(request: MemberRequest, pk: int) -> HttpResponse:
    """Everything that can be printed of a commission, by section and stage."""
    commission = get_object_or_404(Commission, pk=pk)
    context = {
        "place": "commissions",
        "commission": commission,
        "sheet": "sheets",
        "groups": groups(Job(commission)),
        "pack": JobPack.objects.select_related("work").defer("pdf").filter(commission=commission).first(),
    }
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
@require_POST
def keep_sheet(request: MemberRequest, pk: int, kind: str) -> HttpResponse:
    """Take what a sheet was worked with from now on; without an answer, begin again with what is known."""
    commission, known = get_object_or_404(Commission, pk=pk), _kind(kind)
    if not known.keeps:
        raise Http404
    shown = show(known, Job(commission), request.POST.dict())
    own = {field.name for field in shown.form.asking()}
    forgets = not own & set(request.POST)
    if shown.answer is None and not forgets:
        return _page(request, commission, shown, status=422)
    keep_answers(
        by=request.user,
        commission=commission,
        section=shown.subject.section,
        group=known.keeps,
        sheet=known.title,
        fields=own,
        answers={} if forgets else shown.form.answers(),
    )
    section = shown.subject.section
    return redirect(reverse("sheet", args=[pk, kind]) + (f"?section={section.pk}" if section else ""))


@members
@require_safe
def sheet_pdf(request: MemberRequest, pk: int, kind: str) -> HttpResponse:
    """The same sheet as a PDF; where it cannot be worked, the page that says why."""
    commission = get_object_or_404(Commission, pk=pk)
    shown = show(_kind(kind), Job(commission), request.GET.dict())
    if shown.answer is None:
        return _page(request, commission, shown, status=422)
    name = ", ".join(filter(None, (shown.kind.title, shown.subject.words)))
    return _pdf(commission, [shown], shown.kind.title, name)


@members
@require_POST
def print_job_pack(request: MemberRequest, pk: int) -> HttpResponse:
    """Have every sheet of a commission printed behind the pages."""
    commission = get_object_or_404(Commission, pk=pk)
    ask_for_pack(by=request.user, commission=commission, page=reverse("sheets", args=[pk]))
    return redirect("sheets", pk)


@members
@require_safe
def job_pack(request: MemberRequest, pk: int) -> HttpResponse:
    """The pack as it was printed last; or the sheets of one section, or of a stage, printed now."""
    commission = get_object_or_404(Commission, pk=pk)
    asked, stage = request.GET.get("section", ""), request.GET.get("stage", "")
    if asked or stage:
        return _part_of_pack(commission, asked, stage)
    pack = get_object_or_404(JobPack, commission=commission, pdf__isnull=False)
    return _answer(commission, bytes(pack.pdf or b""), TITLE)


def _part_of_pack(commission: Commission, asked: str, stage: str) -> HttpResponse:
    job = Job(commission)
    section = next((each for each in job.sections if str(each.pk) == asked), None)
    if (asked and section is None) or (stage and stage not in AT_STAGES):
        raise Http404
    sheets = [show_subject(each.kind, each.subject) for each in offered(job, section.pk if section else None, stage)]
    if not sheets:
        raise Http404
    return _pdf(commission, sheets, TITLE, ", ".join(filter(None, (TITLE, section.name if section else "", stage))))


def _pdf(commission: Commission, sheets: list[Shown], title: str, name: str) -> HttpResponse:
    return _answer(commission, print_sheets(commission, sheets, title, timezone.localdate()), name)


def _answer(commission: Commission, pdf: bytes, name: str) -> HttpResponse:
    return as_file(pdf, PDF, safe_name(f"{commission.number} {name}") + ".pdf", to_save=False)
