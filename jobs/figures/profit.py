"""Margin and mark-up, kept apart: one is a share of the price, the other of the cost.

By definition margin = mark-up / (1 + mark-up). Taking 20 % of the one for 20 %
of the other loses four hundredths of the price.
"""

from dataclasses import dataclass
from decimal import Decimal

from materials.estimator.ranges import within
from studio.money import round_half_up, working


@dataclass(frozen=True, slots=True)
class Margin:
    """Profit as a share of the price.

    Attributes
    ----------
    rate : Decimal
        From 0 to 0.95 [dimensionless].
    """

    rate: Decimal

    def __post_init__(self) -> None:
        within("margin", float(self.rate), "", 0.0, 0.95, "Give it as a share of the price.")

    def price_minor(self, cost_minor: int) -> int:
        """The price that leaves this margin over a cost.

        Parameters
        ----------
        cost_minor : int
            Minor units [dimensionless].

        Returns
        -------
        int
            Cost / (1 - rate), rounded half up, minor units [dimensionless].
        """
        with working():
            return round_half_up(cost_minor / (1 - self.rate))

    def as_mark_up(self) -> "MarkUp":
        """The mark-up that gives the same price.

        Returns
        -------
        MarkUp
            Rate / (1 - rate) [dimensionless].
        """
        with working():
            return MarkUp(self.rate / (1 - self.rate))


@dataclass(frozen=True, slots=True)
class MarkUp:
    """Profit as a share of the cost.

    Attributes
    ----------
    rate : Decimal
        From 0 to 19 [dimensionless].
    """

    rate: Decimal

    def __post_init__(self) -> None:
        within("mark-up", float(self.rate), "", 0.0, 19.0, "Give it as a share of the cost.")

    def price_minor(self, cost_minor: int) -> int:
        """The price with this mark-up on a cost.

        Parameters
        ----------
        cost_minor : int
            Minor units [dimensionless].

        Returns
        -------
        int
            Cost x (1 + rate), rounded half up, minor units [dimensionless].
        """
        with working():
            return round_half_up(cost_minor * (1 + self.rate))

    def as_margin(self) -> Margin:
        """The margin that gives the same price.

        Returns
        -------
        Margin
            Rate / (1 + rate) [dimensionless].
        """
        with working():
            return Margin(self.rate / (1 + self.rate))


Profit = Margin | MarkUp
