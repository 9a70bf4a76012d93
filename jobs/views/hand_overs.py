"""The hand-over record as the office works on it, and what happens to the piece afterwards."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.forms.hand_overs import EventForm, HandOverForm, PieceLinkForm, SettleForm
from jobs.hand_overs.record import begun_record, issue_as_agreed, piece_of, printed_record, shown_record
from jobs.links.words import MAY_DO
from jobs.models import Commission, HandOver, LinkKind, PieceNote
from jobs.services import hand_overs as services
from jobs.services.piece_notes import settle
from jobs.views.keeping import try_to_keep
from jobs.views.made_links import make_and_show
from jobs.views.sealed import of_commissioner, own_page
from studio.access import MemberRequest, office_only
from studio.downloads import PDF, as_file
from studio.locking import Conflict

GET_OR_POST = require_http_methods(["GET", "HEAD", "POST"])


def record_of(pk: int, *wanted: str) -> HandOver:
    """One version of the record, or 404; the PDF stays behind unless it is wanted."""
    rows = HandOver.objects.select_related("commission", "issued_by")
    return get_object_or_404(rows if "pdf" in wanted else rows.defer("pdf"), pk=pk)


def record_name(row: HandOver) -> str:
    """What its PDF is called."""
    return f"{row.commission.number} hand-over record {row.number}.pdf"


@office_only
@require_safe
def hand_over(request: MemberRequest, pk: int) -> HttpResponse:
    """The versions of the record, the link that stays with the piece, and what happened to it."""
    return _overview(request, get_object_or_404(Commission, pk=pk))


@office_only
@GET_OR_POST
def new_record(request: MemberRequest, pk: int) -> HttpResponse:
    """Begin the record, or its next version."""
    commission = get_object_or_404(Commission, pk=pk)
    initial = begun_record(commission, timezone.localdate()) | {"version": 0}
    form = HandOverForm(request.POST or None, commission=commission, initial=initial)
    if request.method == "POST" and form.is_valid():
        try:
            made = services.draft(by=request.user, commission=commission, given=form.particulars())
        except services.HandOverRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, "The record is drafted. Look at it as it will be handed over.")
            return redirect("one_record", made.pk)
    context = of_commissioner(commission) | {"form": form}
    return render(request, "jobs/hand_overs/edit.html", context, status=422 if form.errors else 200)


@office_only
@require_safe
def one_record(request: MemberRequest, pk: int) -> HttpResponse:
    """One version: a draft as it would be issued, or what was issued."""
    return _record(request, record_of(pk))


@office_only
@GET_OR_POST
def change_record(request: MemberRequest, pk: int) -> HttpResponse:
    """Change the draft."""
    row = record_of(pk)
    form = HandOverForm.of(row, request.POST or None)

    def change() -> None:
        services.change(by=request.user, row=row, version=form.cleaned_data["version"], given=form.particulars())

    tried = try_to_keep(form, change, (services.HandOverRefused,), now=lambda: HandOverForm.of(record_of(pk)))
    if tried.kept:
        messages.success(request, "The draft is saved.")
        return redirect("one_record", pk)
    context = of_commissioner(row.commission) | {"row": row, "form": form, "there_now": tried.there_now}
    return render(request, "jobs/hand_overs/edit.html", context, status=tried.status)


@office_only
@require_POST
def issue_record(request: MemberRequest, pk: int) -> HttpResponse:
    """Freeze what was looked at."""
    row = record_of(pk)
    try:
        issue_as_agreed(
            by=request.user,
            row=row,
            agreed=request.POST.get("agreed", ""),
            closes=request.POST.get("closes") == "yes",
            at=timezone.now(),
        )
    except services.HandOverRefused as refused:
        return _record(request, record_of(pk), 409, refused=str(refused))
    except Conflict:
        said = "Something of it was changed meanwhile. Nothing was issued; look at it again, then issue it."
        return _record(request, record_of(pk), 409, refused=said)
    messages.success(request, "The record is issued and frozen.")
    return redirect("hand_over", row.commission_id)


@office_only
@require_safe
def record_pdf(request: MemberRequest, pk: int) -> HttpResponse:
    """The record as it was issued, byte for byte; a draft as it would be."""
    row = record_of(pk, "pdf")
    content = bytes(row.pdf) if row.pdf else printed_record(shown_record(row))
    return as_file(content, PDF, record_name(row), to_save=False)


@office_only
@require_POST
def new_event(request: MemberRequest, pk: int) -> HttpResponse:
    """Write down what happened to the piece."""
    commission, form = get_object_or_404(Commission, pk=pk), EventForm(request.POST)
    if form.is_valid():
        try:
            services.note_event(by=request.user, commission=commission, at=timezone.now(), **form.event())
        except services.HandOverRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, "It is written down, and stands on the piece's page.")
            return redirect("hand_over", pk)
    return _overview(request, commission, 422, event=form)


@office_only
@require_POST
def settle_note(request: MemberRequest, pk: int) -> HttpResponse:
    """Write down what somebody told about the piece, or set it aside."""
    note, form = get_object_or_404(PieceNote.objects.select_related("commission"), pk=pk), SettleForm(request.POST)
    if not form.is_valid():
        return _overview(request, note.commission, 422, settling=form)
    keep = form.cleaned_data["act"] == "keep"
    try:
        settle(by=request.user, note=note, keep=keep, at=timezone.now())
    except services.HandOverRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, "The note stands on the piece's page." if keep else "The note is set aside.")
    return redirect("hand_over", note.commission_id)


@office_only
@require_POST
def new_piece_link(request: MemberRequest, pk: int) -> HttpResponse:
    """Make the link that stays with the piece, and its code."""
    commission, form = get_object_or_404(Commission, pk=pk), PieceLinkForm(request.POST)
    if piece_of(commission) is None:
        form.add_error(None, "Issue the record first; the link opens what was issued.")
    made = make_and_show(request, form, LinkKind.PIECE, commission)
    return made or _overview(request, commission, 422, link_form=form)


def _overview(request: MemberRequest, commission: Commission, status: int = 200, **given: Any) -> HttpResponse:
    context = of_commissioner(commission) | {
        "draft": commission.hand_overs.filter(issued_at=None).defer("pdf").first(),
        "issued": commission.hand_overs.issued().select_related("issued_by"),
        "piece": piece_of(commission),
        "links": commission.links.filter(kind=LinkKind.PIECE).select_related("made_by", "person"),
        "notes": commission.piece_notes.filter(settled_at=None),
        "settling": SettleForm(),
        "event": EventForm(initial={"on": timezone.localdate()}),
        "link_form": PieceLinkForm(initial={"receiver": "Whoever looks after the piece"}),
        "may_do": MAY_DO[LinkKind.PIECE],
        "today": timezone.localdate(),
        **given,
    }
    context["wrong"] = [form for form in (context["event"], context["link_form"], context["settling"]) if form.errors]
    return render(request, "jobs/hand_overs/overview.html", context, status=status)


def _record(request: MemberRequest, row: HandOver, status: int = 200, **given: Any) -> HttpResponse:
    is_draft = row.issued_at is None
    may_close = is_draft and services.may_close(row.commission)
    context = own_page(row, shown_record(row), is_draft=is_draft) | {"may_close": may_close, **given}
    return render(request, "jobs/hand_overs/record.html", context, status=status)
