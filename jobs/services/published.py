"""Telling the commissioner when it will be ready, and what to know meanwhile."""

import datetime

from django.db import IntegrityError, transaction

from jobs.models import Commission, Publication
from studio.accounts.models import User
from studio.audit import record
from studio.locking import Conflict


def publish(
    *,
    by: User,
    commission: Commission,
    follows: int,
    promised_on: datetime.date | None,
    expected_on: datetime.date | None,
    note: str,
    at: datetime.datetime,
) -> Publication:
    """Tell it; ``follows`` is the number of the telling that was seen before, 0 for none."""
    last = commission.publications.first()
    if follows != (last.number if last else 0):
        raise Conflict
    told = {"promised": promised_on, "expected": expected_on, "words": note}
    before = {"promised": last.promised_on, "expected": last.expected_on, "words": last.note} if last else {}
    try:
        with transaction.atomic():
            publication = Publication.objects.create(
                commission=commission,
                number=follows + 1,
                promised_on=promised_on,
                expected_on=expected_on,
                note=note,
                at=at,
                by=by,
            )
            record(actor=by, subject=commission.subject, act="Told to the commissioner", before=before, after=told)
    except IntegrityError:
        raise Conflict from None
    return publication
