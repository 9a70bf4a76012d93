"""Workshop sheets as one PDF: a single sheet, or a pack of them with its contents."""

from collections.abc import Sequence

from django.template.loader import render_to_string

from jobs.figures.sheet import SheetHead
from jobs.sheets.kind import Shown
from studio.pdf import render_pdf


def sheets_document(head: SheetHead, sheets: Sequence[Shown], *, title: str) -> bytes:
    """The sheets as a PDF; the same sheets give the same bytes."""
    return render_pdf(sheets_html(head, sheets, title=title), title=f"{title} {head.number}: {head.title}")


def sheets_html(head: SheetHead, sheets: Sequence[Shown], *, title: str) -> str:
    """The sheets as the page that is made into a PDF."""
    context = {
        "head": head,
        "document_title": f"{title} {head.number}: {head.title}",
        "kind": title,
        "sheets": sheets,
        "units": head.units,
        "printed": True,
    }
    return render_to_string("documents/sheets.html", context)
