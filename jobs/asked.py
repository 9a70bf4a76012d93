"""What was put before commissioners: sign-offs and variations that went out, and what came of each."""

import datetime
from collections.abc import Collection
from dataclasses import dataclass

from django.utils import timezone

from jobs.figures.moments import day_words
from jobs.models import Answer, Commission, SignOff, SignOffAnswer, Variation, VariationDecision

NOON = datetime.time(12)


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing that went out: what it is, by when an answer is wanted and why, the answer in a word, and when."""

    key: str
    commission_id: int
    what: str
    sent_at: datetime.datetime
    answer_by: datetime.date | None
    due: str
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
    return [*(_sign_off(row, on) for row in sign_offs), *(_variation(variation, on) for variation in variations)]


def _sign_off(row: SignOff, on: datetime.date) -> Asked:
    assert row.sent_at is not None
    answer = row.given
    late = f"an answer was needed by {_words(row.answer_by)}, and the day may move"
    return Asked(
        f"sign-off-{row.pk}",
        row.commission_id,
        f"{row.get_point_display()}, sign-off {row.full_number}",
        row.sent_at,
        row.answer_by,
        late if row.days_late(on) else f"an answer by {_words(row.answer_by)} keeps the programme",
        Answer(answer.answer).label.lower() if answer else "",
        _answered(answer) if answer else None,
    )


def _answered(answer: SignOffAnswer) -> datetime.datetime:
    """When it was answered; what came on paper is filed later, and counts from the day that stands on it."""
    if timezone.localdate(answer.at) == answer.answered_on:
        return answer.at
    return timezone.make_aware(datetime.datetime.combine(answer.answered_on, NOON))


def _variation(row: Variation, on: datetime.date) -> Asked:
    assert row.issued_at is not None
    answer, lapsed = row.answered, row.state_on(on) == "lapsed"
    return Asked(
        f"variation-{row.pk}",
        row.commission_id,
        f"{row.title}, variation {row.number}",
        row.issued_at,
        row.valid_until,
        f"its price stands until {_words(row.valid_until)}" if row.valid_until else "an answer is awaited",
        VariationDecision(answer.decision).label.lower() if answer else ("lapsed" if lapsed else ""),
        answer.at if answer else None,
    )


def _words(on: datetime.date) -> str:
    return f"{day_words(on)} {on.year}"
