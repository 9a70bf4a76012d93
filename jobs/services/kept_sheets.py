"""Keeping what was decided on a sheet, so that it is not asked again and every print says the same."""

from collections.abc import Collection, Mapping

from django.db import transaction

from jobs.models import Commission, KeptSheet, Section
from studio.accounts.models import User
from studio.audit import record


@transaction.atomic
def keep_answers(
    *,
    by: User,
    commission: Commission,
    section: Section | None,
    group: str,
    sheet: str,
    fields: Collection[str],
    answers: Mapping[str, str],
) -> None:
    """Take these answers of one sheet from now on, in place of those kept for its fields; none forgets them."""
    row, _ = KeptSheet.objects.get_or_create(commission=commission, section=section, group=group)
    before = {name: row.answers[name] for name in fields if name in row.answers}
    if before == answers:
        return
    row.answers = {name: value for name, value in row.answers.items() if name not in fields} | dict(answers)
    row.save(update_fields=["answers"])
    about = f"{sheet}, {section}" if section else sheet
    act = f"{'Kept' if answers else 'Forgotten'} on the sheet: {about}"
    record(actor=by, subject=commission.subject, act=act, before=before, after=dict(answers))
