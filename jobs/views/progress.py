"""What a progress link opens: where the work stands, the photos that were shown, and the quote if it was granted."""

import datetime
from typing import Any

from django.core.paginator import Paginator
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.files import picture
from jobs.links.access import by_link
from jobs.models import Commission, Decision, Link, LinkKind, Quote
from jobs.pictures.outlines import drawing_of_commission, hatches
from jobs.progress import progress_of
from jobs.quotes.sheets import file_name
from studio.access import MemberRequest, office_only
from studio.downloads import PDF, as_file
from studio.office.queries import house

A_PAGE = 24


def _standing_quote(commission: Commission, today: datetime.date) -> Quote | None:
    """The version that was accepted, or else the newest while it can still be answered."""
    issued = commission.quotes.issued()
    accepted = issued.filter(decision__decision=Decision.ACCEPTED).first()
    newest = issued.filter(decision__isnull=True, valid_until__gte=today).first()
    return accepted or (newest if newest == issued.first() else None)


@by_link(LinkKind.PROGRESS)
@require_safe
def progress(request: HttpRequest, link: Link) -> HttpResponse:
    """Where the work stands, for who ordered it."""
    found = _told(request, _commission(link), since=link.visit_before_at, with_documents=link.shows_documents)
    return render(request, "links/progress.html", {**found, "link": link})


@office_only
@require_safe
def progress_preview(request: MemberRequest, pk: int) -> HttpResponse:
    """The same sheet for the office, before anybody outside reads it."""
    commission = get_object_or_404(Commission, pk=pk)
    found = _told(request, commission, since=None, with_documents=True)
    return render(request, "links/progress.html", {**found, "preview": True})


def _told(
    request: HttpRequest, commission: Commission, *, since: datetime.datetime | None, with_documents: bool
) -> dict[str, Any]:
    now, today = timezone.now(), timezone.localdate()
    told = progress_of(commission, since=since, now=now)
    return {
        "commission": commission,
        "told": told,
        "photos": Paginator(told.photos, A_PAGE).get_page(request.GET.get("page")),
        "today": today,
        "quote": _standing_quote(commission, today) if with_documents else None,
        "hatches": hatches("key"),
        "drawing": drawing_of_commission(commission, list(commission.sections.all()), house().units, told.reached),
    }


@by_link(LinkKind.PROGRESS)
@require_safe
def progress_photo(request: HttpRequest, link: Link, pk: int, size: str) -> FileResponse:
    """A photo of this commission that was shown to its commissioner."""
    return picture(get_object_or_404(_commission(link).photos.filter(for_commissioner=True), pk=pk), size)


@by_link(LinkKind.PROGRESS)
@require_safe
def progress_quote(request: HttpRequest, link: Link) -> HttpResponse:
    """The quote that stands, as it went out, where the studio granted it."""
    quote = _standing_quote(_commission(link), timezone.localdate()) if link.shows_documents else None
    if quote is None:
        raise Http404
    quote.commission = _commission(link)
    return as_file(bytes(quote.pdf or b""), PDF, file_name(quote, ".pdf"))


def _commission(link: Link) -> Commission:
    if link.commission is None:
        raise Http404
    return link.commission
