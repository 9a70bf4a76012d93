"""Pictures as answers."""

from django.http import FileResponse, Http404

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
