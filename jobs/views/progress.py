"""What a progress link opens."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from jobs.link_access import by_link
from jobs.models import Link, LinkKind


@by_link(LinkKind.PROGRESS)
@require_safe
def progress(request: HttpRequest, link: Link) -> HttpResponse:
    """Where the work stands, for who ordered it."""
    return render(request, "links/progress.html", {"link": link, "commission": link.commission})
