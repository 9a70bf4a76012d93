"""What the Workshop shows of each commission: its outline, its board, and its day by the plan beside its own."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.safestring import SafeString

from jobs.board import Chart, charts
from jobs.models import Commission, CommissionState
from jobs.pictures.outlines import drawing_of_commission
from studio.office.queries import house


@dataclass(frozen=True, slots=True)
class Glance:
    """One live commission at a glance."""

    commission: Commission
    chart: Chart
    drawing: SafeString

    @property
    def is_in_hand(self) -> bool:
        """Whether its quote is accepted."""
        return self.commission.state == CommissionState.ACCEPTED

    @property
    def days_to_spare(self) -> int | None:
        """Days to spare by the plan; None where it is late, or either day is not known."""
        planned, last = self.chart.planned, self.commission.last_day
        return None if planned is None or last is None or self.chart.days_late else (last - planned).days


def glances(live: Sequence[Commission], now: datetime.datetime) -> list[Glance]:
    """These commissions at a glance, each with its sections fetched before."""
    found, units = charts(live, now), house().units
    return [
        Glance(
            commission,
            found[commission.pk],
            drawing_of_commission(commission, list(commission.sections.all()), units, found[commission.pk].reached),
        )
        for commission in live
    ]


def counted(in_hand: Sequence[Glance], *, awaited: int, awaited_late: int) -> Mapping[str, int]:
    """What stands at the head of the Workshop."""
    return {
        "in_hand": len(in_hand),
        "late": sum(bool(each.chart.days_late) for each in in_hand),
        "holds": sum(len(each.chart.holds) for each in in_hand),
        "awaited": awaited,
        "awaited_late": awaited_late,
    }
