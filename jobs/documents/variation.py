"""A variation as the commissioner receives it."""

from typing import Any

from django.template.loader import render_to_string

from jobs.figures.variation_sheet import VariationSheet, moved_day
from studio.pdf import render_pdf


def variation_document(sheet: VariationSheet) -> bytes:
    """The variation as a PDF; the same sheet gives the same bytes."""
    return render_pdf(variation_html(sheet), title=_title(sheet))


def variation_html(sheet: VariationSheet) -> str:
    """The variation as the page that is made into a PDF."""
    return render_to_string("documents/variation.html", _context(sheet))


def _title(sheet: VariationSheet) -> str:
    return f"Variation {sheet.head.number} / {sheet.head.revision}: {sheet.title}"


def _context(sheet: VariationSheet) -> dict[str, Any]:
    before = sheet.said.before
    return {
        "sheet": sheet,
        "head": sheet.head,
        "document_title": _title(sheet),
        "kind": "Variation",
        "price": sheet.price,
        "said": sheet.said,
        "due_after": moved_day(before.due_by, sheet.days),
        "gross_after": before.gross_minor + sheet.price.gross_minor,
    }
