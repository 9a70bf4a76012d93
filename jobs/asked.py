"""What was put before commissioners: sign-offs and variations that went out, and what came of each."""

import datetime
from collections.abc import Collection
from dataclasses import dataclass

from jobs.models import Answer, Commission, SignOff, Variation, VariationDecision


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing that went out: what it is, by when an answer is wanted, and the answer in a word with its moment."""

    key: str
    commission_id: int
    what: str
    sent_at: datetime.datetime
    answer_by: datetime.date | None
    came_of_it: str = ""
    answered_at: datetime.datetime | None = None

    @property
    def is_awaited(self) -> bool:
        """Whether nothing has come of it yet."""
        return not self.came_of_it


def put_before(commissions: Collection[Commission], on: datetime.date) -> list[Asked]:
    """Everything that went out on these commissions, in two queries; a variation whose time is over has lapsed."""
    sign_offs = SignOff.objects.listed().filter(commission__in=commissions, sent_at__isnull=False)
    variations = Variation.objects.light().filter(commission__in=commissions, issued_at__isnull=False)
    return [*map(_sign_off, sign_offs), *(_variation(variation, on) for variation in variations)]


def _sign_off(row: SignOff) -> Asked:
    assert row.sent_at is not None
    answer = row.given
    return Asked(
        f"sign-off-{row.pk}",
        row.commission_id,
        f"{row.get_point_display()}, sign-off {row.full_number}",
        row.sent_at,
        row.answer_by,
        Answer(answer.answer).label.lower() if answer else "",
        answer.at if answer else None,
    )


def _variation(row: Variation, on: datetime.date) -> Asked:
    assert row.issued_at is not None
    answer, lapsed = row.answered, row.state_on(on) == "lapsed"
    return Asked(
        f"variation-{row.pk}",
        row.commission_id,
        f"{row.title}, variation {row.number}",
        row.issued_at,
        row.valid_until,
        VariationDecision(answer.decision).label.lower() if answer else ("lapsed" if lapsed else ""),
        answer.at if answer else None,
    )
