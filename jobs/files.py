"""Pictures as answers."""

from collections.abc import Sequence

from django.http import FileResponse, Http404

from jobs.figures.sealed import ShownPhoto
from jobs.models import Photo
from jobs.services.photos import photo_path

SIZES = ("small", "full")


def picture(photo: Photo, size: str) -> FileResponse:
    """A photo in one of its sizes; what it shows never changes, so the browser may keep it for itself."""
    if size not in SIZES:
        raise Http404
    response = _jpeg(photo.sha256, small=size == "small")
    response["Cache-Control"] = "private, max-age=86400"
    return response


def kept_photo(photos: Sequence[ShownPhoto], number: int) -> FileResponse:
    """A photo of a sealed sheet by its place there, the first is 1; nothing may keep it."""
    if not 0 < number <= len(photos):
        raise Http404
    return _jpeg(photos[number - 1].sha256, small=False)


def _jpeg(sha256: str, *, small: bool) -> FileResponse:
    try:
        file = photo_path(sha256, small=small).open("rb")
    except FileNotFoundError:
        raise Http404 from None
    return FileResponse(file, content_type="image/jpeg")
