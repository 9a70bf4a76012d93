"""Asking for a job pack, and keeping what was printed."""

import datetime

from django.db import transaction

from jobs.models import Commission, JobPack
from studio.accounts.models import User
from studio.audit import record
from studio.tasks.queue import cancel, enqueue

KIND = "job pack"


@transaction.atomic
def ask_for_pack(*, by: User, commission: Commission, page: str) -> JobPack:
    """Have every sheet of a commission printed behind the pages; asked again, it begins anew."""
    pack, _ = JobPack.objects.select_related("work").defer("pdf").get_or_create(commission=commission)
    if pack.work is not None and pack.work.going_on:
        cancel(work=pack.work)
    title = f"Printing the job pack of {commission.title}"
    pack.work = enqueue(kind=KIND, title=title, about={"pack": pack.pk}, page=page, by=by)
    pack.save(update_fields=["work"])
    record(actor=by, subject=commission.subject, act="Job pack asked for")
    return pack


@transaction.atomic
def keep_pack(*, pack: JobPack, pdf: bytes, sheets: int, at: datetime.datetime) -> None:
    """Put what was printed in place of what there was."""
    pack.pdf, pack.sheets, pack.printed_at = pdf, sheets, at
    pack.save(update_fields=["pdf", "sheets", "printed_at"])
