"""What the worker does for a job pack: work every sheet, print them together, keep the result."""

import datetime
from collections.abc import Mapping, Sequence
from typing import Any

from django.utils import timezone

from jobs.documents.sheets import sheets_document
from jobs.models import Commission, JobPack
from jobs.quotes.sheets import sheet_head
from jobs.services.packs import keep_pack
from jobs.sheets.kind import Shown, show_subject
from jobs.sheets.known import Job
from jobs.sheets.registry import groups
from studio.tasks.models import Work
from studio.tasks.reporting import Cancelled, Failed, Report

TITLE = "Job pack"
# A guess that only moves the bar.
SECONDS_A_SHEET = 0.5


def print_pack(work: Work, report: Report) -> Mapping[str, Any]:
    """Handler of the kind "job pack"."""
    rows = JobPack.objects.select_related("commission").defer("pdf")
    pack = rows.filter(pk=work.about["pack"], work=work).first()
    if pack is None:
        # The commission is gone, or the pack was asked for anew since.
        raise Cancelled
    report(2, "Working the sheets", until=20, seconds=3)
    job = Job(pack.commission)
    sheets = [show_subject(each.kind, each.subject) for group in groups(job) for each in group.sheets]
    if not sheets:
        raise Failed("There is no sheet to print yet: describe the first section on the Form sheet.")
    report(20, f"Printing {len(sheets)} sheets", until=98, seconds=len(sheets) * SECONDS_A_SHEET)
    now = timezone.now()
    pdf = print_sheets(pack.commission, sheets, TITLE, timezone.localdate(now))
    report.check()
    keep_pack(pack=pack, pdf=pdf, sheets=len(sheets), at=now)
    return {"sheets": len(sheets)}


def print_sheets(commission: Commission, sheets: Sequence[Shown], title: str, on: datetime.date) -> bytes:
    """Sheets of a commission as one PDF, under the newest version of its quote that went out."""
    issued = commission.quotes.issued().first()
    head = sheet_head(
        commission,
        sheets[0].subject.job.house,
        revision=str(issued.version_number) if issued else "draft",
        on=on,
        drawn_by="",
    )
    return sheets_document(head, sheets, title=title)
