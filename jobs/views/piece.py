"""What the code on a piece opens: its hand-over record, and what has happened to it since."""

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.files import kept_photo
from jobs.forms.hand_overs import NoteForm
from jobs.hand_overs.record import Piece, piece_of
from jobs.links.access import by_link
from jobs.models import Link, LinkKind
from jobs.services.hand_overs import HandOverRefused
from jobs.services.piece_notes import tell
from jobs.views.hand_overs import record_name, record_of
from jobs.views.sealed import held_page
from studio.downloads import PDF, as_file


def _piece(link: Link) -> Piece:
    found = piece_of(link.commission) if link.commission else None
    if found is None:
        raise Http404
    return found


@by_link(LinkKind.PIECE, posts=True)
@require_http_methods(["GET", "HEAD", "POST"])
def piece(request: HttpRequest, link: Link) -> HttpResponse:
    """The record that stands, the piece's life since, and a note for the studio, which alone reads it."""
    found, form = _piece(link), NoteForm(request.POST or None)
    told, status = False, 422 if form.errors else 200
    if request.method == "POST" and form.is_valid():
        try:
            tell(link=link, commission=found.row.commission, at=timezone.now(), **form.cleaned_data)
        except HandOverRefused as refused:
            form.add_error(None, str(refused))
            status = 409
        else:
            told, form = True, NoteForm()
    context = held_page(request.path, found.shown, "record.pdf") | {
        "form": form,
        "told": told,
        "link": link,
        "piece": found,
        "today": timezone.localdate(),
    }
    return render(request, "links/piece.html", context, status=status)


@by_link(LinkKind.PIECE)
@require_safe
def piece_record(request: HttpRequest, link: Link) -> HttpResponse:
    """The record as it was issued, byte for byte."""
    row = record_of(_piece(link).row.pk, "pdf")
    return as_file(bytes(row.pdf or b""), PDF, record_name(row), to_save=False)


@by_link(LinkKind.PIECE)
@require_safe
def piece_photo(request: HttpRequest, link: Link, number: int) -> FileResponse:
    """A photo of the record, by its place there."""
    return kept_photo(_piece(link).shown.photos, number)
