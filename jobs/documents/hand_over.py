"""The record that is handed over with the piece."""

from collections.abc import Mapping

from django.template.loader import render_to_string

from jobs.documents.pictures import addressed, drawn
from jobs.figures.hand_over import HandOverSheet
from studio.pdf import render_pdf


def hand_over_document(sheet: HandOverSheet, *, digest: str, pictures: Mapping[str, bytes]) -> bytes:
    """The record as a PDF; ``pictures`` are its photos by their digest."""
    title = f"Hand-over record {sheet.head.number} / {sheet.head.revision}: {sheet.head.title}"
    context = {
        "sheet": sheet,
        "head": sheet.head,
        "document_title": title,
        "kind": "Hand-over record",
        "digest": digest,
        "photos": addressed(sheet.photos, pictures),
        **drawn(sheet.drawing_svg, sheet.head.title),
    }
    return render_pdf(render_to_string("documents/hand_over.html", context), title=title)
