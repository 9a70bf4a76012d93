"""Taking norms over from the studio's own past: one decision, and never without one."""

from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone

from jobs.figures.past_norms import scaled
from jobs.queries.past_stages import norm_value
from materials.estimator.catalogue import STEPS
from materials.models import WorkNorm
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim

SUBJECT = "office"


@transaction.atomic
def take_over(*, by: User, norms: Sequence[WorkNorm], factor: float, stages: int) -> None:
    """Multiply the norms of one stage and grade, as they were read; refuses where one was changed since."""
    before, after = {}, {}
    for row in norms:
        claim(row, row.version)
        norm = scaled(norm_value(row), factor)
        step = STEPS[row.stage][row.step]
        before[step] = _said(row.low, row.likely, row.high)
        after[step] = _said(norm.low, norm.likely, norm.high)
        row.low, row.likely, row.high, row.checked_on = norm.low, norm.likely, norm.high, timezone.localdate()
        row.save(update_fields=["low", "likely", "high", "checked_on"])
    first = norms[0]
    finished = "1 finished stage" if stages == 1 else f"{stages} finished stages"
    record(
        actor=by,
        subject=SUBJECT,
        act=f"Norms of {first.stage}, grade {first.grade}, taken over from {finished}: {factor:g} times",
        before=before,
        after=after,
    )


def _said(low: float, likely: float, high: float) -> str:
    return f"{likely:g} h, {low:g} to {high:g}"
