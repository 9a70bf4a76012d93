"""What the link of a variation opens: the change, its price and its day, and the one answer to it."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.forms.variations import HolderAnswerForm
from jobs.links.access import by_link
from jobs.models import Link, LinkKind, Variation, VariationDecision
from jobs.quotes.sheets import variation_file_name
from jobs.services.drafts import Refused
from jobs.services.variations import AlreadyAnswered, answer_variation
from jobs.variations.pages import shown_issued
from studio.downloads import PDF, as_file
from studio.locking import Conflict


def _variation(link: Link, *wanted: str) -> Variation:
    """The variation that the link is about; there is none where it never went out."""
    found = Variation.objects.light().filter(links=link, issued_at__isnull=False).first()
    if found is None:
        raise Http404
    if wanted:
        found.refresh_from_db(fields=list(wanted))
    return found


def _page(request: HttpRequest, link: Link, form: HolderAnswerForm, status: int = 200, **more: Any) -> HttpResponse:
    variation = _variation(link)
    context = {
        "link": link,
        "commission": variation.commission,
        "variation": variation,
        "state": variation.state_on(timezone.localdate()),
        "shown": shown_issued(variation),
        "form": form,
    }
    return render(request, "links/variation.html", {**context, **more}, status=status)


@by_link(LinkKind.VARIATION, posts=True)
@require_http_methods(["GET", "HEAD", "POST"])
def held_variation(request: HttpRequest, link: Link) -> HttpResponse:
    """Read a variation and answer it, once."""
    variation = _variation(link)
    if request.method != "POST":
        return _page(request, link, HolderAnswerForm(initial={"read": variation.pdf_sha256}))
    form = HolderAnswerForm(request.POST)
    if not form.is_valid():
        return _page(request, link, form, 422)
    try:
        answer_variation(
            by=None,
            variation=variation,
            decision=VariationDecision(form.cleaned_data["decision"]),
            said_by=form.cleaned_data["said_by"],
            role=form.cleaned_data["role"],
            note=form.cleaned_data["note"],
            pdf_sha256=form.cleaned_data["read"],
            at=timezone.now(),
        )
    except AlreadyAnswered:
        return _page(request, link, form)
    except Refused as refused:
        form.add_error(None, f"It cannot be accepted: {refused}")
        return _page(request, link, form, 409)
    except Conflict:
        form.add_error(None, "The page showed another document; load it again and read it before you answer.")
        return _page(request, link, form, 409)
    return _page(request, link, form, thanks=True)


@by_link(LinkKind.VARIATION)
@require_safe
def held_variation_pdf(request: HttpRequest, link: Link) -> HttpResponse:
    """The document, byte for byte."""
    variation = _variation(link, "pdf")
    return as_file(bytes(variation.pdf or b""), PDF, variation_file_name(variation))
