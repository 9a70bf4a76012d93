"""What a commission will cost when it is done, from what was planned, earned and spent so far.

Earned value after ISO 21508 and EIA-748: the budget of the work that is done is
set against what it cost and against what was planned to be done by now.
"""

from dataclasses import dataclass
from decimal import Decimal

from materials.estimator.ranges import within
from studio.money import round_half_up, working


@dataclass(frozen=True, slots=True)
class Forecast:
    """One way to tell the cost at completion.

    Attributes
    ----------
    key, name, assumes, formula : str
        Stable key, plain name, what it takes for granted, and the arithmetic in plain words.
    at_completion_minor : int or None
        Minor units [dimensionless]; None while the formula divides by nothing.
    """

    key: str
    name: str
    assumes: str
    formula: str
    at_completion_minor: int | None


@dataclass(frozen=True, slots=True)
class EarnedValue:
    """A budget with what was planned, earned and spent of it, in minor units [dimensionless].

    Attributes
    ----------
    budget_minor : int
        Of all the work.
    planned_minor : int
        Budget of what should be done by now, at most the whole.
    earned_minor : int
        Budget of what is done, at most the whole.
    actual_minor : int
        What has been spent.
    """

    budget_minor: int
    planned_minor: int
    earned_minor: int
    actual_minor: int

    def __post_init__(self) -> None:
        for name, amount, most in (
            ("budget", self.budget_minor, None),
            ("planned by now", self.planned_minor, self.budget_minor),
            ("earned", self.earned_minor, self.budget_minor),
            ("spent", self.actual_minor, None),
        ):
            within(name, amount, "minor units", 0, most)

    @property
    def cost_variance_minor(self) -> int:
        """Earned less spent; below nought the work cost more than planned. Minor units [dimensionless]."""
        return self.earned_minor - self.actual_minor

    @property
    def schedule_variance_minor(self) -> int:
        """Earned less planned; below nought the work is behind. Minor units [dimensionless]."""
        return self.earned_minor - self.planned_minor

    @property
    def cost_index(self) -> Decimal | None:
        """Earned for each unit spent [dimensionless]; None before anything is spent."""
        return _ratio(self.earned_minor, self.actual_minor)

    @property
    def schedule_index(self) -> Decimal | None:
        """Earned for each unit planned by now [dimensionless]; None before anything is planned."""
        return _ratio(self.earned_minor, self.planned_minor)

    @property
    def to_complete_index(self) -> Decimal | None:
        """What each unit still to be spent has to earn to stay within the budget [dimensionless]; None once past it."""
        left = self.budget_minor - self.actual_minor
        return _ratio(self.budget_minor - self.earned_minor, left) if left > 0 else None


def forecasts(value: EarnedValue) -> tuple[Forecast, ...]:
    """The cost at completion by the three formulas.

    Parameters
    ----------
    value : EarnedValue

    Returns
    -------
    tuple of Forecast
        The rest as planned; at the cost of the work so far; at its cost and its pace.

    References
    ----------
    The estimates at completion of EIA-748 and of PMI practice, as ISO 21508 has them.
    """
    spent, rest = value.actual_minor, value.budget_minor - value.earned_minor
    cost, pace = value.cost_index, value.schedule_index
    with working():
        both = cost * pace if cost and pace else None
        return (
            Forecast(
                "as_planned",
                "The rest goes as planned",
                "what went wrong so far will not go wrong again",
                "spent + (budget − earned)",
                spent + rest,
            ),
            Forecast(
                "as_so_far",
                "The rest costs as the work so far",
                "what is left costs as much more, or less, than planned as what is done",
                "budget ÷ (earned ÷ spent)",
                round_half_up(value.budget_minor / cost) if cost else None,
            ),
            Forecast(
                "as_so_far_and_late",
                "The rest costs and takes as the work so far",
                "what is left also pays for the time lost, in overtime or hired hands",
                "spent + (budget − earned) ÷ ((earned ÷ spent) × (earned ÷ planned))",
                spent + round_half_up(rest / both) if both else None,
            ),
        )


def usual(found: tuple[Forecast, ...]) -> Forecast:
    """The forecast to be read first: at the cost of the work so far, or as planned while that cannot be told.

    Parameters
    ----------
    found : tuple of Forecast
        As ``forecasts`` gives them.

    Returns
    -------
    Forecast
    """
    as_planned, as_so_far, _ = found
    return as_planned if as_so_far.at_completion_minor is None else as_so_far


def _ratio(part: int, whole: int) -> Decimal | None:
    if not whole:
        return None
    with working():
        return Decimal(part) / whole
