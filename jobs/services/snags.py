"""Snags: found, mended, and closed by somebody else than who mended them."""

from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from jobs.models import Section, Snag
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim


class SnagRefused(ValueError):
    """The snag cannot be moved on like this; the sentence says what is missing."""


@dataclass(frozen=True, slots=True)
class Found:
    """What was found: in words, how bad, minutes to put right, and where on the drawing as shares from its top left."""

    what: str
    grade: str
    minutes: int
    x: float | None
    y: float | None


@transaction.atomic
def add_snag(*, by: User, section: Section, found: Found) -> Snag:
    """Write down a fault found on a section."""
    snag = Snag.objects.create(
        commission=section.commission,
        section=section,
        what=found.what,
        grade=found.grade,
        minutes=found.minutes,
        x=found.x,
        y=found.y,
        found_by=by,
    )
    after = {"grade": snag.grade, "minutes to put right": snag.minutes}
    record(actor=by, subject=snag.commission.subject, act=f"Snag found on {section}: {snag.what}", after=after)
    return snag


@transaction.atomic
def mend_snag(*, by: User, snag: Snag, version: int) -> None:
    """Say that a snag is put right."""
    claim(snag, version)
    if snag.mended_at is not None:
        raise SnagRefused(f"{snag.mended_by} has said already that it is mended.")
    snag.mended_at, snag.mended_by = timezone.now(), by
    snag.save(update_fields=["mended_at", "mended_by"])
    record(actor=by, subject=snag.commission.subject, act=f"Snag mended: {snag.what}")


@transaction.atomic
def close_snag(*, by: User, snag: Snag, version: int) -> None:
    """Close a snag after looking at it; never by who mended it."""
    claim(snag, version)
    if snag.closed_at is not None:
        raise SnagRefused(f"{snag.closed_by} has closed it already.")
    if snag.mended_at is None:
        raise SnagRefused("It is not mended yet; mend it first, then let somebody else look at it.")
    if snag.mended_by_id == by.pk:
        raise SnagRefused("You mended it; somebody else has to look at it and close it.")
    snag.closed_at, snag.closed_by = timezone.now(), by
    snag.save(update_fields=["closed_at", "closed_by"])
    record(actor=by, subject=snag.commission.subject, act=f"Snag closed: {snag.what}")


@transaction.atomic
def open_snag_again(*, by: User, snag: Snag, version: int) -> None:
    """Say that a snag is not right after all."""
    claim(snag, version)
    if snag.closed_at is not None or snag.mended_at is None:
        raise SnagRefused("Only a snag that is mended and not closed can be sent back.")
    before = str(snag.mended_by)
    snag.mended_at, snag.mended_by = None, None
    snag.save(update_fields=["mended_at", "mended_by"])
    record(actor=by, subject=snag.commission.subject, act=f"Snag sent back: {snag.what}", before={"mended by": before})
