"""How a stage stands: its budget, what it has earned, what it has cost, and since when it is past its budget.

Earned by weighted milestones (ISO 21508, EIA-748): each step of a stage, and
its passing, earn an equal part of the stage's budget. Planned evenly over the
programme of the quote; hours at the wage of the day they were worked: common
practice, no source.
"""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from materials.estimator.errors import EstimatorError, Missing
from materials.estimator.ranges import whole, within
from studio.money import round_half_up, split, working

MINUTES = 60


@dataclass(frozen=True, slots=True)
class Cost:
    """An amount by what it goes on, in minor units [dimensionless].

    Attributes
    ----------
    work_minor : int
        Hours with their overhead.
    material_minor : int
        Materials with consumables.
    sent_out_minor : int
        Sent-out work with its handling.
    """

    work_minor: int = 0
    material_minor: int = 0
    sent_out_minor: int = 0

    @property
    def total_minor(self) -> int:
        """All three together, minor units [dimensionless]."""
        return self.work_minor + self.material_minor + self.sent_out_minor


def cost_sum(costs: Iterable[Cost]) -> Cost:
    """Costs added up.

    Parameters
    ----------
    costs : iterable of Cost

    Returns
    -------
    Cost
        Nought where there are none.
    """
    found = list(costs)
    return Cost(
        sum(cost.work_minor for cost in found),
        sum(cost.material_minor for cost in found),
        sum(cost.sent_out_minor for cost in found),
    )


@dataclass(frozen=True, slots=True)
class HourRate:
    """What a productive hour costs from a day on, with overhead, not rounded; minor units [1/h]."""

    valid_from: datetime.date
    minor: Decimal


def rate_on(rates: Sequence[HourRate], day: datetime.date) -> Decimal:
    """The rate that holds on a day: of those that have begun, the newest.

    Parameters
    ----------
    rates : sequence of HourRate
    day : date

    Returns
    -------
    Decimal
        Minor units an hour [1/h].

    Raises
    ------
    Missing
        When none has begun.
    """
    begun = [rate for rate in rates if rate.valid_from <= day]
    if not begun:
        raise Missing(f"The cost of an hour on {day}", "give the wage and the overhead a price from that day on.")
    return max(begun, key=lambda rate: rate.valid_from).minor


def work_minor(minutes: int, hour_minor: Decimal) -> Decimal:
    """What minutes cost, not rounded.

    Parameters
    ----------
    minutes : int
        Below nought where hours are taken back [minute].
    hour_minor : Decimal
        Minor units an hour [1/h].

    Returns
    -------
    Decimal
        Minor units [dimensionless].
    """
    with working():
        return minutes * hour_minor / MINUTES


def spread(total_minor: int, weights: Sequence[int]) -> list[int]:
    """Part what a quote has in one line, such as overhead, among its stages.

    Parameters
    ----------
    total_minor : int
        Minor units [dimensionless].
    weights : sequence of int
        One a stage, such as minutes [dimensionless]; where none has any, the last bears it.

    Returns
    -------
    list of int
        They sum to the total [dimensionless].

    Raises
    ------
    EstimatorError
        When there is an amount and nothing to bear it.
    """
    if not total_minor:
        return [0] * len(weights)
    if not weights:
        raise EstimatorError("budget", total_minor, f"{total_minor} has no stage to bear it; budget a stage.")
    if not any(weights):
        return [*[0] * (len(weights) - 1), total_minor]
    return split(total_minor, [Decimal(weight) for weight in weights])


class Budgeted(Protocol):
    """A row of a budget: what a stage may take before overhead and the like [minute], minor units [dimensionless]."""

    @property
    def minutes(self) -> int:
        """Productive minutes [minute]."""

    @property
    def labour_minor(self) -> int:
        """Minor units [dimensionless]."""

    @property
    def material_minor(self) -> int:
        """Minor units [dimensionless]."""

    @property
    def sent_out_minor(self) -> int:
        """Minor units [dimensionless]."""


def whole_costs(rows: Sequence[Budgeted], overhead: int, consumables: int, handling: int) -> list[Cost]:
    """What each row may cost: its own, and its part of overhead, consumables and handling.

    Parameters
    ----------
    rows : sequence of Budgeted
    overhead, consumables, handling : int
        Of all rows together, minor units [dimensionless].

    Returns
    -------
    list of Cost
        They sum to the rows and the three.
    """
    hours = spread(overhead, [row.minutes for row in rows])
    small = spread(consumables, [row.material_minor for row in rows])
    carried = spread(handling, [row.sent_out_minor for row in rows])
    return [
        Cost(row.labour_minor + each, row.material_minor + goods, row.sent_out_minor + sent)
        for row, each, goods, sent in zip(rows, hours, small, carried, strict=True)
    ]


def earned_share(*, passed: bool, steps_done: int, steps: int) -> Decimal:
    """How much of a stage's budget is earned: every step and the passing weigh alike.

    Parameters
    ----------
    passed : bool
    steps_done, steps : int
        Steps done, and all of them [each].

    Returns
    -------
    Decimal
        From 0 to 1; all of it once the stage has passed [dimensionless].

    References
    ----------
    Weighted milestones, one of the rules of EIA-748 for telling what is earned.
    """
    whole("steps", steps, "steps", 0, 10_000)
    whole("steps done", steps_done, "steps", 0, steps)
    if passed:
        return Decimal(1)
    with working():
        return Decimal(steps_done) / (steps + 1)


def earned_minor(budget_minor: int, share: Decimal) -> int:
    """The budget of what is done.

    Parameters
    ----------
    budget_minor : int
        Minor units [dimensionless].
    share : Decimal
        From 0 to 1 [dimensionless].

    Returns
    -------
    int
        Rounded half up, minor units [dimensionless].
    """
    within("share earned", float(share), "", 0.0, 1.0)
    with working():
        return round_half_up(budget_minor * share)


def planned_minor(budget_minor: int, accepted: datetime.date, days: int, on: datetime.date) -> int:
    """The budget of what should be done by a day: evenly over the programme from the day of acceptance.

    Parameters
    ----------
    budget_minor : int
        Minor units [dimensionless].
    accepted : date
    days : int
        Of the programme [day].
    on : date

    Returns
    -------
    int
        Nothing before acceptance, all of it from the programme's last day on; minor units [dimensionless].
    """
    whole("programme", days, "days", 1, 10_000)
    past = min(max((on - accepted).days, 0), days)
    with working():
        return round_half_up(Decimal(budget_minor) * past / days)


def past_since(dated: Iterable[tuple[datetime.date, Decimal]], limit: Decimal) -> datetime.date | None:
    """The day since which a running sum has been above a limit.

    Parameters
    ----------
    dated : iterable of (date, Decimal)
        In any order; below nought where something is taken back [dimensionless].
    limit : Decimal
        In the unit of what is summed [dimensionless].

    Returns
    -------
    date or None
        None where the sum is not above the limit, or is no longer.
    """
    days: dict[datetime.date, Decimal] = {}
    with working():
        for day, amount in dated:
            days[day] = days.get(day, Decimal(0)) + amount
        since, total = None, Decimal(0)
        for day in sorted(days):
            total += days[day]
            if total <= limit:
                since = None
            elif since is None:
                since = day
    return since
