"""What stock is worth, by the moving average.

What comes in brings what it cost; what goes out takes its share of what is
held, by quantity, whichever lot it is taken from. The average is never kept:
it is the sum of all values over the sum of all quantities, so it cannot drift
from the ledger. A value is rounded once, when something moves.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from studio.money import MoneyError, round_half_up, working


@dataclass(frozen=True, slots=True)
class Held:
    """So much of an item, and what it is worth.

    Attributes
    ----------
    quantity : Decimal
        In the item's unit, nought or more.
    value_minor : int
        Minor units [dimensionless].
    """

    quantity: Decimal
    value_minor: int

    @property
    def average_minor(self) -> Decimal | None:
        """Minor units for one unit, not rounded [dimensionless]; None while nothing is held."""
        if not self.quantity:
            return None
        with working():
            return Decimal(self.value_minor) / self.quantity

    def and_then(self, quantity: Decimal, value_minor: int) -> "Held":
        """What is held after a movement.

        Parameters
        ----------
        quantity : Decimal
            In the item's unit, with a minus going out.
        value_minor : int
            Minor units [dimensionless], with a minus going out.

        Returns
        -------
        Held
        """
        with working():
            return Held(self.quantity + quantity, self.value_minor + value_minor)


NOTHING = Held(Decimal(0), 0)


def value_of(part: Decimal, whole: Held) -> int:
    """What a part of something held is worth, by its share of the quantity.

    Parameters
    ----------
    part : Decimal
        In the item's unit, nought or more and at most all of it.
    whole : Held
        What it is a part of.

    Returns
    -------
    int
        Minor units, rounded half up; all of it takes the whole value, so that no penny stays behind [dimensionless].

    Raises
    ------
    MoneyError
        When the part is negative, or more than there is.

    Notes
    -----
    Moving (perpetual weighted) average: common practice, no source.
    """
    if not 0 <= part <= whole.quantity:
        raise MoneyError(f"A part of {part} cannot be taken from {whole.quantity}; take from nought to all of it.")
    if part == whole.quantity:
        return whole.value_minor
    with working():
        return round_half_up(Decimal(whole.value_minor) * part / whole.quantity)


def found_more(surplus: Decimal, held: Held, lot: Held) -> int:
    """What a surplus found at a count is worth: the average of what is held, else what the lot cost when it came.

    Parameters
    ----------
    surplus : Decimal
        In the item's unit, above nought.
    held : Held
        All of the item before the count.
    lot : Held
        The lot as it was received.

    Returns
    -------
    int
        Minor units [dimensionless].

    Raises
    ------
    MoneyError
        When the surplus is not above nought.

    Notes
    -----
    Common practice, no source.
    """
    if surplus <= 0:
        raise MoneyError(f"A surplus of {surplus} is none; give a quantity above nought.")
    by = held if held.quantity else lot
    with working():
        return round_half_up(Decimal(by.value_minor) * surplus / by.quantity)


def running(movements: Iterable[tuple[Decimal, int]]) -> tuple[Held, ...]:
    """What was held after each movement of an item, oldest first: the working of its average.

    Parameters
    ----------
    movements : iterable of (Decimal, int)
        Quantity and value of each, with a minus going out; minor units [dimensionless].

    Returns
    -------
    tuple of Held
        One a movement.

    Notes
    -----
    Common practice, no source.
    """
    found, held = [], NOTHING
    for quantity, value_minor in movements:
        held = held.and_then(quantity, value_minor)
        found.append(held)
    return tuple(found)
