"""Making, revoking and opening links.

A token is 32 bytes that nobody can guess, handed out once. What is kept is its SHA-256,
which a token so long needs no slower hash for; neither a record nor a log holds it.
"""

import datetime
import hashlib
import hmac
import secrets
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from jobs.models import Commission, Link, LinkKind, WrongTries
from studio.accounts.models import User
from studio.audit import record
from studio.post import send_text

TOKEN_BYTES = 32
LONGEST = datetime.timedelta(days=3 * 366)
"""The longest that a link may open."""
MOST_TRIES = 50
TRIES_WINDOW = datetime.timedelta(minutes=15)
LASTING = (LinkKind.PIECE,)
"""What may be without a last day: the label stays on the piece."""


class LinkRefused(ValueError):
    """A link cannot be made so; the sentence says what to do."""


@dataclass(frozen=True, slots=True)
class MadeLink:
    """A link that was just made, with its token, which nobody can read again."""

    link: Link
    token: str
    is_new: bool = True


def hash_of(token: str) -> str:
    """What is kept of a token."""
    return hashlib.sha256(token.encode()).hexdigest()


@transaction.atomic
def make_link(
    *,
    by: User,
    kind: LinkKind,
    commission: Commission | None,
    receiver: str,
    expires_on: datetime.date | None,
    at: datetime.datetime,
    token: str = "",
    **subject: Any,
) -> MadeLink:
    """Make a link for one receiver; ``subject`` names the rows of ``Link`` that it is about, besides the commission.

    ``token`` is the form's own, by which a form that is sent twice makes one link; without it one is drawn.
    """
    today = timezone.localdate(at)
    if expires_on is None and kind not in LASTING:
        raise LinkRefused("Enter the last day on which the link opens.")
    if expires_on is not None and not today <= expires_on <= today + LONGEST:
        raise LinkRefused(f"Choose a last day from today to {today + LONGEST}; a link ends.")
    token = token or secrets.token_urlsafe(TOKEN_BYTES)
    there = Link.objects.filter(token_hash=hash_of(token)).first()
    if there is not None:
        return MadeLink(there, token, is_new=False)
    link = Link.objects.create(
        kind=kind,
        commission=commission,
        receiver=receiver,
        token_hash=hash_of(token),
        made_by=by,
        made_at=at,
        expires_on=expires_on,
        **subject,
    )
    record(
        actor=by,
        subject=link.subject,
        act=f"{link.get_kind_display()} link made",
        after={"receiver": receiver, "opens until": expires_on},
    )
    return MadeLink(link, token)


@transaction.atomic
def revoke_link(*, by: User, link: Link, at: datetime.datetime) -> None:
    """End a link at once; others of the same commission stay."""
    if Link.objects.filter(pk=link.pk, revoked_at__isnull=True).update(revoked_at=at, revoked_by=by):
        act = f"{link.get_kind_display()} link revoked"
        record(actor=by, subject=link.subject, act=act, before={"receiver": link.receiver})
    link.refresh_from_db(fields=["revoked_at", "revoked_by"])


def send_link(*, by: User, link: Link, to: str, subject: str, text: str) -> None:
    """Send the text with a new link's address; raises NotSent where the mail server does not take it."""
    send_text(to=to, subject=subject, text=text)
    with transaction.atomic():
        act = f"{link.get_kind_display()} link sent"
        record(actor=by, subject=link.subject, act=act, after={"receiver": link.receiver, "to": to})


def open_link(*, token: str, kind: LinkKind, at: datetime.datetime) -> Link | None:
    """The link that a token opens; None for unknown, over, revoked and of another kind alike."""
    wanted = hash_of(token)
    link = Link.objects.select_related("commission", "person").filter(token_hash=wanted).first()
    same = hmac.compare_digest(link.token_hash if link else "", wanted)
    return link if link and same and link.kind == kind and link.opens(at) else None


def note_opening(*, link: Link, at: datetime.datetime) -> None:
    """Remember that somebody looked; all openings of one day are one visit."""
    last = link.last_opened_at
    if last is not None and timezone.localdate(last) < timezone.localdate(at):
        link.visit_before_at = last
    link.last_opened_at = at
    link.save(update_fields=["last_opened_at", "visit_before_at"])


def too_many_tries(address: str, at: datetime.datetime) -> bool:
    """Whether an address has guessed so often that it has to wait; counted in the database, for all processes."""
    return WrongTries.objects.filter(address=address, since__gt=at - TRIES_WINDOW, count__gte=MOST_TRIES).exists()


@transaction.atomic
def count_wrong_try(*, address: str, at: datetime.datetime) -> None:
    """Count a token that opens nothing; counts that are over go."""
    WrongTries.objects.filter(since__lte=at - TRIES_WINDOW).delete()
    row, is_new = WrongTries.objects.get_or_create(address=address, defaults={"since": at, "count": 1})
    if not is_new:
        WrongTries.objects.filter(pk=row.pk).update(count=F("count") + 1)
