"""The pictures of a standing: bars of budget, spent and forecast by stage, and columns of hours by week."""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from jobs.queries.standing import Booked
from jobs.standing.rows import Group, StageRow
from jobs.weeks import Week, week_of

MOST_LABELS = 6
GAP = 0.2
HIGHEST = 84
"""Share of a column's room that the longest week fills, in per cent; the rest is for its figure."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One stage over all sections: amounts, and lengths as SVG reads them."""

    name: str
    budget_minor: int
    spent_minor: int
    forecast_minor: int
    longest_minor: int

    @property
    def over_minor(self) -> int:
        """By how much the forecast passes the budget."""
        return max(0, self.forecast_minor - self.budget_minor)

    @property
    def budget(self) -> str:
        """Length of the budget."""
        return self._length(self.budget_minor)

    @property
    def spent(self) -> str:
        """Length of what was spent."""
        return self._length(self.spent_minor)

    @property
    def forecast(self) -> str:
        """Length of the forecast."""
        return self._length(self.forecast_minor)

    def _length(self, minor: int) -> str:
        return f"{100 * minor / self.longest_minor:.2f}%" if self.longest_minor else "0%"


def bars(rows: Iterable[StageRow]) -> tuple[Bar, ...]:
    """A bar a stage, in the order in which the stages follow; what neither costs nor may cost anything has none."""
    stages: dict[str, list[StageRow]] = {}
    for row in sorted(rows, key=lambda row: row.position):
        stages.setdefault(row.stage, []).append(row)
    groups = [Group(name, tuple(own)) for name, own in stages.items()]
    shown = [group for group in groups if group.budget_minor or group.spent_minor]
    longest = max((max(each.budget_minor, each.spent_minor, each.forecast_minor) for each in shown), default=0)
    return tuple(Bar(each.name, each.budget_minor, each.spent_minor, each.forecast_minor, longest) for each in shown)


@dataclass(frozen=True, slots=True)
class Column:
    """One week's hours; places and sizes as SVG reads them."""

    week: Week
    minutes: int
    left: str
    width: str
    middle: str
    top: str
    height: str
    is_labelled: bool

    @property
    def hours(self) -> float:
        """Booked in the week [h]."""
        return self.minutes / 60


def columns(booked: Sequence[Booked], today: datetime.date, *, goes_on: bool) -> tuple[Column, ...]:
    """A column a week from the first hours to the last, or to this week while the work goes on."""
    if not booked:
        return ()
    minutes: dict[datetime.date, int] = {}
    for each in booked:
        first = week_of(each.day).first
        minutes[first] = minutes.get(first, 0) + each.minutes
    last = max(max(minutes), week_of(today).first) if goes_on else max(minutes)
    count = (last - min(minutes)).days // 7 + 1
    weeks = [Week(min(minutes) + datetime.timedelta(weeks=number)) for number in range(count)]
    most = max(minutes.values())
    step = -(-count // MOST_LABELS)
    room = 100 / count
    found = []
    for number, week in enumerate(weeks):
        own = minutes.get(week.first, 0)
        height = HIGHEST * own / most if most > 0 else 0.0
        found.append(
            Column(
                week=week,
                minutes=own,
                left=f"{room * (number + GAP / 2):.3f}%",
                width=f"{room * (1 - GAP):.3f}%",
                middle=f"{room * (number + 0.5):.3f}%",
                top=f"{100 - height:.2f}%",
                height=f"{height:.2f}%",
                is_labelled=number % step == 0,
            )
        )
    return tuple(found)
