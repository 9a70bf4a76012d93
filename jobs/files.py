"""Files as answers: pictures that are kept, and documents to keep."""

from django.http import FileResponse, Http404, HttpResponse
from django.utils.http import content_disposition_header

from jobs.models import Photo
from jobs.services.photos import photo_path

SIZES = ("small", "full")


def picture(photo: Photo, size: str) -> FileResponse:
    """A photo in one of its sizes; what it shows never changes, so the browser may keep it for itself."""
    if size not in SIZES:
        raise Http404
    try:
        file = photo_path(photo.sha256, small=size == "small").open("rb")
    except FileNotFoundError:
        raise Http404 from None
    response = FileResponse(file, content_type="image/jpeg")
    response["Cache-Control"] = "private, max-age=86400"
    return response


def document(content: bytes | str, kind: str, name: str) -> HttpResponse:
    """A file to keep, under a name."""
    disposition = content_disposition_header(True, name)
    return HttpResponse(content, content_type=kind, headers={"Content-Disposition": disposition})
