"""Sign-offs: put together, sent and frozen, answered once; an approval opens the hold points it covers."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from jobs.figures.approval import ApprovalSheet
from jobs.figures.approval_texts import ASKED
from jobs.models import Answer, Commission, Link, Photo, SignOff, SignOffAnswer, Stage, StageState
from jobs.services.sealing import freeze
from jobs.services.stages import StageRefused, open_hold_point
from studio.accounts.models import User
from studio.audit import record
from studio.locking import Conflict, claim
from studio.post import send_text


class SignOffRefused(ValueError):
    """A sign-off that cannot be sent or answered so; the sentence says why and what to do."""


class AlreadyAnswered(SignOffRefused):
    """It was answered before; the answer stands."""


@dataclass(frozen=True, slots=True)
class Particulars:
    """What a draft says."""

    asked_of: str
    what: str
    revision: str
    dimensions: str
    colour: str
    costs_after: str
    answer_by: datetime.date
    stages: Sequence[Stage]
    photos: Sequence[Photo]


@dataclass(frozen=True, slots=True)
class Signed:
    """An answer: what, by whom, on which day and to which sheet; the scan's digest where it came on paper."""

    answer: Answer
    name: str
    role: str
    words: str
    on: datetime.date
    of_sha256: str
    scan_sha256: str = ""
    scan_kind: str = ""


TEXTS = ("asked_of", "what", "revision", "dimensions", "colour", "costs_after", "answer_by")


@transaction.atomic
def draft(*, by: User, commission: Commission, point: str, given: Particulars) -> SignOff:
    """Begin a sign-off under the commission's next number."""
    held = Commission.objects.select_for_update().get(pk=commission.pk)
    last = held.sign_offs.aggregate(last=Max("number"))["last"] or 0
    made = SignOff.objects.create(commission=held, number=last + 1, point=point, **_texts(given))
    _keep_lists(made, given)
    record(actor=by, subject=held.subject, act=f"Sign-off drafted: {made}", after=_said(given))
    return made


@transaction.atomic
def change(*, by: User, sign_off: SignOff, version: int, given: Particulars) -> None:
    """Change a draft."""
    _is_draft(sign_off)
    before = particulars_of(sign_off)
    claim(sign_off, version)
    for name, value in _texts(given).items():
        setattr(sign_off, name, value)
    sign_off.save(update_fields=list(TEXTS))
    _keep_lists(sign_off, given)
    record(
        actor=by,
        subject=sign_off.commission.subject,
        act=f"Sign-off changed: {sign_off}",
        before=_said(before),
        after=_said(given),
    )


@transaction.atomic
def discard(*, by: User, sign_off: SignOff) -> None:
    """Throw a draft away."""
    _is_draft(sign_off)
    record(actor=by, subject=sign_off.commission.subject, act=f"Draft of a sign-off thrown away: {sign_off}")
    sign_off.delete()


def lacks_to_send(sign_off: SignOff) -> list[str]:
    """What keeps a draft from being sent."""
    own = sign_off.stages.select_related("section", "approval")
    lacks = []
    for stage in own:
        others = SignOff.objects.awaited().filter(stages=stage).exclude(pk=sign_off.pk)
        if stage.sign_off != sign_off.point:
            lacks.append(f"{stage} does not wait for “{sign_off.get_point_display()}”; take it off the sheet.")
        elif not stage.lacks_sign_off:
            lacks.append(f"{stage} is signed off already; take it off the sheet.")
        elif others:
            lacks.append(f"{stage} is before the commissioner with {others[0].full_number}; withdraw that first.")
        elif ASKED[sign_off.point].of_the_work and stage.state != StageState.READY:
            lacks.append(f"{stage} is {stage.get_state_display().lower()}; it has to be ready to check.")
    return lacks


@transaction.atomic
def send(*, by: User, sign_off: SignOff, version: int, sheet: ApprovalSheet, pdf: bytes, at: datetime.datetime) -> None:
    """Freeze a draft as it was printed, unless anything of it has been changed meanwhile."""
    _is_draft(sign_off)
    claim(sign_off, version)
    lacks = lacks_to_send(sign_off)
    if lacks:
        raise SignOffRefused(" ".join(lacks))
    freeze(sign_off, sheet, pdf, sent_at=at, sent_by=by)
    record(
        actor=by,
        subject=sign_off.commission.subject,
        act=f"Sign-off sent: {sign_off}",
        after={"asked of": sign_off.asked_of, "answer by": sign_off.answer_by, "sha256": sign_off.sha256},
    )


def remind(*, by: User, sign_off: SignOff, to: str, subject: str, text: str) -> None:
    """Send a reminder of what is awaited; raises NotSent where the mail server does not take it."""
    send_text(to=to, subject=subject, text=text)
    with transaction.atomic():
        act = f"Reminder of sign-off {sign_off.full_number} sent"
        record(actor=by, subject=sign_off.commission.subject, act=act, after={"to": to})


@transaction.atomic
def answer(*, by: User | Link, sign_off: SignOff, signed: Signed, at: datetime.datetime) -> list[str]:
    """Write the answer down and open what it approves; answers the sentences of what stays closed.

    ``by`` is the link it came by, or who filed it in the office.
    """
    held = SignOff.objects.select_for_update(of=("self",)).select_related("commission").get(pk=sign_off.pk)
    if held.sent_at is None:
        raise SignOffRefused(f"{held.full_number} has not been sent; only what was sent is answered.")
    if SignOffAnswer.objects.filter(sign_off=held).exists():
        raise AlreadyAnswered(f"{held.full_number} was answered before; that answer stands.")
    if signed.of_sha256 != held.sha256:
        raise Conflict
    if not signed.words and signed.answer != Answer.APPROVED:
        raise SignOffRefused("Say why, or what the comments are, in a sentence or two.")
    link, person = (by, None) if isinstance(by, Link) else (None, by)
    values = {name: getattr(signed, name) for name in ("answer", "name", "role", "words", "of_sha256")}
    given = SignOffAnswer.objects.create(
        sign_off=held,
        answered_on=signed.on,
        scan_sha256=signed.scan_sha256,
        scan_kind=signed.scan_kind,
        at=at,
        recorded_by=person,
        by_link=link,
        **values,
    )
    record(
        actor=person,
        subject=held.commission.subject,
        act=f"Sign-off answered: {given}",
        after={
            "by": f"{signed.name}, {signed.role}" if signed.role else signed.name,
            "came": f"by the link of {link.receiver}"
            if link
            else "on paper"
            if signed.scan_sha256
            else "in the office",
            "words": signed.words,
            "sha256 of the sheet": signed.of_sha256,
        },
    )
    return _open(person, held, given) if given.approves else []


def withdraw(*, by: User, sign_off: SignOff, reason: str, at: datetime.datetime) -> None:
    """Take a sent sign-off back, so that it can no longer be answered."""
    own = Signed(Answer.WITHDRAWN, by.shown_name, "", reason, timezone.localdate(at), sign_off.sha256)
    answer(by=by, sign_off=sign_off, signed=own, at=at)


def particulars_of(sign_off: SignOff) -> Particulars:
    """What a draft says now."""
    texts = {name: getattr(sign_off, name) for name in TEXTS}
    return Particulars(
        **texts, stages=list(sign_off.stages.select_related("section")), photos=list(sign_off.photos.all())
    )


def _open(by: User | None, sign_off: SignOff, given: SignOffAnswer) -> list[str]:
    closed = []
    for stage in sign_off.stages.all():
        try:
            open_hold_point(by=by, stage=stage, approval=given)
        except StageRefused as refused:
            closed.append(str(refused))
    return closed


def _is_draft(sign_off: SignOff) -> None:
    held = SignOff.objects.select_for_update(of=("self",)).only("sent_at", "number", "commission").get(pk=sign_off.pk)
    if held.sent_at is not None:
        raise SignOffRefused(f"{sign_off.full_number} was sent and is never altered; withdraw it and draft another.")


def _texts(given: Particulars) -> dict[str, object]:
    return {name: getattr(given, name) for name in TEXTS}


def _keep_lists(sign_off: SignOff, given: Particulars) -> None:
    owners = {stage.commission_id for stage in given.stages} | {photo.commission_id for photo in given.photos}
    if owners - {sign_off.commission_id}:
        raise SignOffRefused("Choose stages and photos of this commission.")
    hidden = next((photo for photo in given.photos if not photo.for_commissioner), None)
    if hidden:
        raise SignOffRefused(f"“{hidden}” is not marked for the commissioner; mark it on the sheet of photos first.")
    sign_off.stages.set(given.stages)
    sign_off.photos.set(given.photos)


def _said(given: Particulars) -> dict[str, object]:
    return {
        **_texts(given),
        "stages": [str(stage) for stage in given.stages],
        "photos": [str(photo) for photo in given.photos],
    }
