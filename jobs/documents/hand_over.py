"""The record that is handed over with the piece."""

from collections.abc import Mapping

from django.template.loader import render_to_string

from jobs.documents.pictures import description_of, jpeg_address, svg_address
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
        "photos": [(photo, jpeg_address(pictures[photo.sha256])) for photo in sheet.photos],
        "drawing": svg_address(sheet.drawing_svg),
        "drawing_alt": f"{sheet.head.title}. {description_of(sheet.drawing_svg)}",
    }
    return render_pdf(render_to_string("documents/hand_over.html", context), title=title)
