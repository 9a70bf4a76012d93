"""The hand-over record: drafted, issued and frozen; and what happens to the piece afterwards, written down once."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Max

from jobs.figures.hand_over import HandOverSheet
from jobs.models import Commission, CommissionState, Fate, HandOver, Photo, PieceEvent, StageState
from jobs.services.sealing import freeze
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim

TEXTS = (
    "handed_to", "handed_on", "mass", "balance", "lifting", "fixings", "paint", "care", "inspect_months", "repairs",
    "cautions",
)  # fmt: skip


class HandOverRefused(ValueError):
    """A record or an event that cannot be so; the sentence says why and what to do."""


@dataclass(frozen=True, slots=True)
class Particulars:
    """What the office says of a piece; the rest of the record is taken from what was done."""

    handed_to: str
    handed_on: datetime.date
    mass: str
    balance: str
    lifting: str
    fixings: str
    paint: str
    care: str
    inspect_months: int
    repairs: str
    cautions: str
    photos: Sequence[Photo]


@transaction.atomic
def draft(*, by: User, commission: Commission, given: Particulars) -> HandOver:
    """Begin the next version of the record."""
    held = Commission.objects.select_for_update().get(pk=commission.pk)
    if held.state not in (CommissionState.ACCEPTED, CommissionState.DONE):
        raise HandOverRefused("A record is made of work that was done; the quote has not been accepted yet.")
    if held.hand_overs.filter(issued_at=None).exists():
        raise HandOverRefused("There is a draft of the record already; change that one.")
    last = held.hand_overs.aggregate(last=Max("number"))["last"] or 0
    made = HandOver.objects.create(commission=held, number=last + 1, **_texts(given))
    _keep_photos(made, given.photos)
    record(actor=by, subject=held.subject, act=f"Drafted: {made}", after=_said(given))
    return made


@transaction.atomic
def change(*, by: User, row: HandOver, version: int, given: Particulars) -> None:
    """Change the draft."""
    _is_draft(row)
    before = particulars_of(row)
    claim(row, version)
    for name, value in _texts(given).items():
        setattr(row, name, value)
    row.save(update_fields=list(TEXTS))
    _keep_photos(row, given.photos)
    record(actor=by, subject=row.commission.subject, act=f"Changed: {row}", before=_said(before), after=_said(given))


@transaction.atomic
def issue(
    *, by: User, row: HandOver, version: int, sheet: HandOverSheet, pdf: bytes, closes: bool, at: datetime.datetime
) -> None:
    """Freeze the draft as it was printed; ``closes`` also hands the commission over, so that its stages stand still."""
    _is_draft(row)
    claim(row, version)
    freeze(row, sheet, pdf, issued_at=at, issued_by=by)
    after = {"handed over to": row.handed_to, "on": row.handed_on, "sha256": row.sha256}
    record(actor=by, subject=row.commission.subject, act=f"Issued: {row}", after=after)
    if closes:
        _close(by, row.commission)


@transaction.atomic
def note_event(
    *,
    by: User,
    commission: Commission,
    kind: Fate,
    on: datetime.date,
    place: str,
    by_whom: str,
    words: str,
    at: datetime.datetime,
) -> PieceEvent:
    """Write down what happened to the piece; the very same a second time is the one that is there."""
    first = commission.hand_overs.filter(issued_at__isnull=False).order_by("number").first()
    if first is None:
        raise HandOverRefused("The piece has not been handed over; issue its record first.")
    if not first.handed_on <= on <= at.date():
        raise HandOverRefused("Enter a day between the hand-over and today.")
    if kind == Fate.MOVED and not place:
        raise HandOverRefused("It moved: enter where it stands now.")
    values = {"kind": kind, "on": on, "place": place, "by_whom": by_whom, "words": words}
    found, is_new = PieceEvent.objects.get_or_create(
        commission=commission, **values, defaults={"recorded_by": by, "recorded_at": at}
    )
    if is_new:
        record(actor=by, subject=commission.subject, act=f"Of the piece: {found}", after=values)
    return found


def particulars_of(row: HandOver) -> Particulars:
    """What the draft says now."""
    return Particulars(**{name: getattr(row, name) for name in TEXTS}, photos=list(row.photos.all()))


def may_close(commission: Commission) -> bool:
    """Whether all its work is done, so that it can be handed over."""
    stages = commission.stages.all()
    return commission.state == CommissionState.ACCEPTED and not stages.exclude(state=StageState.PASSED).exists()


def _close(by: User, commission: Commission) -> None:
    held = Commission.objects.select_for_update().get(pk=commission.pk)
    if not may_close(held):
        raise HandOverRefused("A stage has not passed yet, so that the commission stays open; look at its board.")
    held.state = CommissionState.DONE
    held.save(update_fields=["state"])
    record(actor=by, subject=held.subject, act="Handed over")


def _is_draft(row: HandOver) -> None:
    if HandOver.objects.filter(pk=row.pk, issued_at__isnull=False).exists():
        raise HandOverRefused(f"{row} was issued and is never altered; draft the next version.")


def _keep_photos(row: HandOver, photos: Sequence[Photo]) -> None:
    if any(photo.commission_id != row.commission_id or not photo.for_commissioner for photo in photos):
        raise HandOverRefused("Choose photos of this commission that the commissioner may see.")
    row.photos.set(photos)


def _texts(given: Particulars) -> dict[str, object]:
    return {name: getattr(given, name) for name in TEXTS}


def _said(given: Particulars) -> dict[str, object]:
    return {**_texts(given), "photos": [str(photo) for photo in given.photos]}
