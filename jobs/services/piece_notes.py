"""What people tell the studio by the code on a piece: kept apart, until the office writes it down or sets it aside.

The code hangs where anybody can read it, so that a few notes at most wait, and
nothing of them is shown to anybody outside.
"""

import datetime

from django.db import transaction
from django.utils import timezone

from jobs.models import Commission, Fate, Link, PieceEvent, PieceNote
from jobs.services.hand_overs import HandOverRefused, note_event
from studio.accounts.models import User
from studio.audit import record

MOST_WAITING = 5


@transaction.atomic
def tell(*, link: Link, commission: Commission, name: str, words: str, at: datetime.datetime) -> PieceNote:
    """Keep what somebody tells; the very same a second time is the one that is there."""
    held = Commission.objects.select_for_update().get(pk=commission.pk)
    waiting = held.piece_notes.filter(settled_at=None)
    same = waiting.filter(name=name, words=words).first()
    if same is not None:
        return same
    if waiting.count() >= MOST_WAITING:
        raise HandOverRefused("The studio has notes about this piece that it has not read yet; call or write instead.")
    made = PieceNote.objects.create(commission=held, link=link, name=name, words=words, at=at)
    record(actor=None, subject=held.subject, act=f"Told about the piece: {made}", after={"words": words})
    return made


@transaction.atomic
def settle(*, by: User, note: PieceNote, keep: bool, at: datetime.datetime) -> PieceEvent | None:
    """Write a note down as something that was noted of the piece, or set it aside; once."""
    held = PieceNote.objects.select_for_update(of=("self",)).select_related("commission").get(pk=note.pk)
    if held.settled_at is not None:
        raise HandOverRefused("Somebody has settled this note already.")
    event = None
    if keep:
        event = note_event(
            by=by,
            commission=held.commission,
            kind=Fate.NOTED,
            on=timezone.localdate(held.at),
            place="",
            by_whom=held.name,
            words=held.words,
            at=at,
        )
    held.settled_at, held.settled_by, held.event = at, by, event
    held.save(update_fields=["settled_at", "settled_by", "event"])
    act = f"Note about the piece {'kept' if keep else 'set aside'}: {held}"
    record(actor=by, subject=held.commission.subject, act=act)
    return event
