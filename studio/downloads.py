"""A file as an answer: what it is called on whatever machine it is saved."""

from django.http import HttpResponse
from django.utils.http import content_disposition_header

PDF = "application/pdf"
CSV = "text/csv; charset=utf-8"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def as_file(content: bytes | str, kind: str, name: str, *, to_save: bool = True) -> HttpResponse:
    """Content of a kind under a name; ``to_save`` or else to be looked at in the browser."""
    disposition = content_disposition_header(to_save, name)
    return HttpResponse(content, content_type=kind, headers={"Content-Disposition": disposition})
