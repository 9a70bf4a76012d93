"""Sign-offs as the office works on them: drafted, sent, answered on paper, withdrawn."""

import datetime
from typing import Any

from django.contrib import messages
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.approvals import begun_with, listed, printed, reminder, send_as_agreed, shown_sheet
from jobs.forms.links import LinkForm
from jobs.forms.sign_offs import KindForm, PaperForm, ReasonForm, ReminderForm, SignOffForm
from jobs.links.words import MAY_DO
from jobs.models import Commission, HoldPoint, LinkKind, SignOff
from jobs.services import sign_offs as services
from jobs.services.scans import KINDS, keep_scan, scan_path
from jobs.views.keeping import try_to_keep
from jobs.views.made_links import make_and_show
from jobs.views.sealed import of_commissioner, own_page
from studio.access import MemberRequest, office_only
from studio.downloads import PDF, as_file
from studio.locking import Conflict
from studio.office.queries import house
from studio.post import NotSent, can_send

# An answered link stays readable for a year.
READABLE = datetime.timedelta(days=365)
GET_OR_POST = require_http_methods(["GET", "HEAD", "POST"])


def sign_off_of(pk: int, *wanted: str) -> SignOff:
    """One sign-off, or 404; the PDF stays behind unless it is wanted."""
    rows = SignOff.objects.select_related("commission", "sent_by", "answer__recorded_by")
    return get_object_or_404(rows if "pdf" in wanted else rows.defer("pdf"), pk=pk)


def sheet_name(row: SignOff) -> str:
    """What its PDF is called."""
    return f"{row.commission.number}-S{row.number} sign-off.pdf"


@office_only
@require_safe
def sign_offs(request: MemberRequest, pk: int) -> HttpResponse:
    """Every sign-off of a commission, and which kind comes next."""
    commission = get_object_or_404(Commission, pk=pk)
    form = KindForm(request.GET if "point" in request.GET else None)
    if form.is_bound and form.is_valid():
        return redirect("new_sign_off", pk, form.cleaned_data["point"])
    context = of_commissioner(commission) | {"rows": listed(commission), "form": form, "today": timezone.localdate()}
    return render(request, "jobs/sign_offs/list.html", context, status=422 if form.errors else 200)


@office_only
@GET_OR_POST
def new_sign_off(request: MemberRequest, pk: int, point: str) -> HttpResponse:
    """Begin a sign-off of one kind."""
    commission = get_object_or_404(Commission, pk=pk)
    if point not in HoldPoint.values or not point:
        raise Http404
    waiting = list(commission.stages.filter(sign_off=point, approval=None).select_related("section"))
    chosen = [stage for stage in waiting if stage.code == request.GET.get("stage")] or waiting
    initial = begun_with(commission, point, chosen, timezone.localdate()) | {"version": 0}
    form = SignOffForm(request.POST or None, commission=commission, point=point, initial=initial)
    if request.method == "POST" and form.is_valid():
        made = services.draft(by=request.user, commission=commission, point=point, given=form.particulars())
        messages.success(request, f"{made} is drafted. Look at it as it will be sent.")
        return redirect("sign_off", made.pk)
    context = of_commissioner(commission) | {"form": form, "kind": HoldPoint(point).label}
    return render(request, "jobs/sign_offs/edit.html", context, status=422 if form.errors else 200)


@office_only
@require_safe
def sign_off(request: MemberRequest, pk: int) -> HttpResponse:
    """One sign-off: a draft as it would be sent, or what was sent with its answer."""
    return _sheet(request, sign_off_of(pk))


@office_only
@GET_OR_POST
def change_sign_off(request: MemberRequest, pk: int) -> HttpResponse:
    """Change a draft."""
    row = sign_off_of(pk)
    form = SignOffForm.of(row, request.POST or None)

    def change() -> None:
        version, given = form.cleaned_data["version"], form.particulars()
        services.change(by=request.user, sign_off=row, version=version, given=given)

    tried = try_to_keep(form, change, (services.SignOffRefused,), now=lambda: SignOffForm.of(sign_off_of(pk)))
    if tried.kept:
        messages.success(request, f"{row} is saved.")
        return redirect("sign_off", pk)
    context = of_commissioner(row.commission) | {"row": row, "kind": row.get_point_display()}
    context |= {"form": form, "there_now": tried.there_now}
    return render(request, "jobs/sign_offs/edit.html", context, status=tried.status)


@office_only
@require_POST
def discard_sign_off(request: MemberRequest, pk: int) -> HttpResponse:
    """Throw a draft away."""
    row = sign_off_of(pk)
    try:
        services.discard(by=request.user, sign_off=row)
    except services.SignOffRefused as refused:
        return _sheet(request, row, 409, refused=str(refused))
    messages.success(request, "The draft is thrown away.")
    return redirect("sign_offs", row.commission_id)


@office_only
@require_POST
def send_sign_off(request: MemberRequest, pk: int) -> HttpResponse:
    """Freeze what was looked at, so that it can be answered."""
    row = sign_off_of(pk)
    try:
        send_as_agreed(by=request.user, sign_off=row, agreed=request.POST.get("agreed", ""), at=timezone.now())
    except services.SignOffRefused as refused:
        return _sheet(request, row, 409, refused=str(refused))
    except Conflict:
        said = "Something of it was changed meanwhile. Nothing was sent; look at it again, then send it."
        return _sheet(request, sign_off_of(pk), 409, refused=said)
    messages.success(request, f"{row} is frozen. Make a link for whoever answers, or print the sheet.")
    return redirect("sign_off", pk)


@office_only
@require_POST
def new_sign_off_link(request: MemberRequest, pk: int) -> HttpResponse:
    """Make a link for whoever answers."""
    row, form = sign_off_of(pk), LinkForm(request.POST)
    if row.sent_at is None or row.given is not None:
        return _sheet(request, row, 409, refused="A link is made for what was sent and is not answered yet.")
    made = make_and_show(request, form, LinkKind.SIGN_OFF, row.commission, sign_off=row)
    return made or _sheet(request, row, 422, link_form=form)


@office_only
@require_POST
def file_answer(request: MemberRequest, pk: int) -> HttpResponse:
    """File the answer that came on a signed sheet."""
    row = sign_off_of(pk)
    form = _paper_form(row, request.POST, request.FILES)
    if row.sent_at is None or not form.is_valid():
        return _sheet(request, row, 422, paper=form)
    kind, data = form.cleaned_data["scan"]
    signed = form.signed(form.cleaned_data["answered_on"], scan=(keep_scan(kind, data), kind))
    try:
        closed = services.answer(by=request.user, sign_off=row, signed=signed, at=timezone.now())
    except (services.SignOffRefused, Conflict) as refused:
        said = str(refused) or "The answer names another sheet than this one; load the page again."
        return _sheet(request, sign_off_of(pk), 409, paper=form, refused=said)
    for sentence in closed:
        messages.warning(request, sentence)
    messages.success(request, f"The answer to {row} is filed.")
    return redirect("sign_off", pk)


@office_only
@require_POST
def send_reminder(request: MemberRequest, pk: int) -> HttpResponse:
    """Send the reminder by the studio's mail server."""
    row, form = sign_off_of(pk), ReminderForm(request.POST)
    text = _reminder(row)
    if not text or not can_send():
        raise Http404
    if form.is_valid():
        to, subject = form.cleaned_data["to"], f"{row.full_number}: {row.get_point_display()}"
        try:
            services.remind(by=request.user, sign_off=row, to=to, subject=subject, text=text)
        except NotSent as problem:
            form.add_error("to", str(problem))
        else:
            messages.success(request, f"The reminder has gone to {to}.")
            return redirect("sign_off", pk)
    return _sheet(request, row, 422, remind=form)


@office_only
@require_POST
def withdraw_sign_off(request: MemberRequest, pk: int) -> HttpResponse:
    """Take a sent sign-off back."""
    row, form = sign_off_of(pk), ReasonForm(request.POST)
    if not form.is_valid():
        return _sheet(request, row, 422, reason=form)
    try:
        services.withdraw(by=request.user, sign_off=row, reason=form.cleaned_data["reason"], at=timezone.now())
    except services.SignOffRefused as refused:
        return _sheet(request, sign_off_of(pk), 409, refused=str(refused))
    messages.success(request, f"{row} is withdrawn; it can no longer be answered.")
    return redirect("sign_off", pk)


@office_only
@require_safe
def sign_off_pdf(request: MemberRequest, pk: int) -> HttpResponse:
    """The sheet as it was sent, byte for byte; a draft as it would be."""
    row = sign_off_of(pk, "pdf")
    content = bytes(row.pdf) if row.pdf else printed(shown_sheet(row))
    return as_file(content, PDF, sheet_name(row), to_save=False)


@office_only
@require_safe
def sign_off_scan(request: MemberRequest, pk: int) -> FileResponse:
    """The signed sheet that was filed, as a file to be kept and never opened within the page."""
    row = sign_off_of(pk)
    if row.given is None or not row.given.scan_sha256:
        raise Http404
    try:
        file = scan_path(row.given.scan_sha256, row.given.scan_kind).open("rb")
    except FileNotFoundError:
        raise Http404 from None
    name = f"{row.commission.number}-S{row.number} signed.{row.given.scan_kind}"
    return FileResponse(file, as_attachment=True, filename=name, content_type=KINDS[row.given.scan_kind])


def _reminder(row: SignOff) -> str:
    return reminder(row, house().name) if row.sent_at and not row.given else ""


def _paper_form(row: SignOff, *sent: Any) -> PaperForm:
    today = timezone.localdate()
    sent_on = timezone.localdate(row.sent_at) if row.sent_at else today
    return PaperForm(*sent, today=today, sent_on=sent_on, initial={"of_sha256": row.sha256, "answered_on": today})


def _sheet(request: MemberRequest, row: SignOff, status: int = 200, **given: Any) -> HttpResponse:
    is_draft = row.sent_at is None
    context = own_page(row, shown_sheet(row), is_draft=is_draft) | {
        "lacks": services.lacks_to_send(row) if is_draft else [],
        "days_late": row.days_late(timezone.localdate()),
        "paper": _paper_form(row),
        "reason": ReasonForm(),
        "link_form": LinkForm(
            initial={
                "receiver": row.asked_of,
                "expires_on": timezone.localdate() + READABLE,
                "send_to": row.commission.email,
            }
        ),
        "may_do": MAY_DO[LinkKind.SIGN_OFF],
        "reminder": _reminder(row),
        "remind": ReminderForm(initial={"to": row.commission.email}) if can_send() else None,
        **given,
    }
    forms = [context[name] for name in ("paper", "reason", "link_form", "remind")]
    context["wrong"] = [form for form in forms if form and form.errors]
    return render(request, "jobs/sign_offs/sign_off.html", context, status=status)
