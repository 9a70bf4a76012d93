"""The sheet that a commissioner signs, with pictures and boxes."""

from collections.abc import Mapping

from django.template.loader import render_to_string

from jobs.documents.pictures import addressed, drawn
from jobs.figures.approval import ApprovalSheet
from studio.pdf import render_pdf


def sign_off_document(sheet: ApprovalSheet, *, digest: str, pictures: Mapping[str, bytes]) -> bytes:
    """The sheet as a PDF; ``pictures`` are its photos by their digest."""
    title = f"Sign-off {sheet.head.number}: {sheet.kind}"
    context = {
        "sheet": sheet,
        "head": sheet.head,
        "document_title": title,
        "kind": "Sign-off",
        "digest": digest,
        "photos": addressed(sheet.photos, pictures),
        **drawn(sheet.drawing_svg, sheet.head.title),
    }
    return render_pdf(render_to_string("documents/sign_off.html", context), title=title)
