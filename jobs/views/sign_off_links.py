"""What a sign-off's link opens: the sheet that was sent, and the form that answers it once."""

from typing import Any

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.approvals import shown_sheet
from jobs.files import kept_photo
from jobs.forms.sign_offs import AnswerForm
from jobs.links.access import by_link
from jobs.models import Link, LinkKind, SignOff
from jobs.services import sign_offs as services
from jobs.views.sealed import held_page
from jobs.views.sign_offs import sheet_name, sign_off_of
from studio.downloads import PDF, as_file
from studio.locking import Conflict


def _asked(link: Link, *wanted: str) -> SignOff:
    if link.sign_off_id is None:
        raise Http404
    return sign_off_of(link.sign_off_id, *wanted)


@by_link(LinkKind.SIGN_OFF, posts=True)
@require_http_methods(["GET", "HEAD", "POST"])
def answer_sign_off(request: HttpRequest, link: Link) -> HttpResponse:
    """Look at what is to be approved, and answer it once; afterwards it can still be read."""
    row = _asked(link)
    if request.method != "POST":
        return _page(request, link, row, AnswerForm(initial={"of_sha256": row.sha256}))
    form = AnswerForm(request.POST)
    if not form.is_valid():
        return _page(request, link, row, form, 422)
    try:
        services.answer(by=link, sign_off=row, signed=form.signed(timezone.localdate()), at=timezone.now())
    except services.AlreadyAnswered:
        return _page(request, link, _asked(link), form, 409)
    except Conflict:
        said = "This answer names another sheet than the one below. Nothing was recorded; open the link again."
        return _page(request, link, row, form, 409, refused=said)
    return redirect(request.path)


@by_link(LinkKind.SIGN_OFF)
@require_safe
def held_sheet(request: HttpRequest, link: Link) -> HttpResponse:
    """The sheet as it was sent, byte for byte."""
    row = _asked(link, "pdf")
    return as_file(bytes(row.pdf or b""), PDF, sheet_name(row), to_save=False)


@by_link(LinkKind.SIGN_OFF)
@require_safe
def held_photo(request: HttpRequest, link: Link, number: int) -> FileResponse:
    """A photo of the sheet, by its place there."""
    return kept_photo(shown_sheet(_asked(link)).photos, number)


def _page(
    request: HttpRequest, link: Link, row: SignOff, form: AnswerForm, status: int = 200, **more: Any
) -> HttpResponse:
    context = held_page(request.path, shown_sheet(row), "sheet.pdf") | {"link": link, "row": row, "form": form, **more}
    return render(request, "links/sign_off.html", context, status=status)
