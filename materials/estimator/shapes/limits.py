"""What sizes are taken as meant: the bounds that every shape checks."""

from materials.estimator.errors import OutOfRange

SHORTEST_M = 0.001
LONGEST_M = 100.0


def check_between(name: str, value: float, unit: str, low: float, high: float) -> None:
    """Refuse a number that is not finite or lies outside its bounds.

    Parameters
    ----------
    name : str
        What the number is, in the user's words.
    value, low, high : float
        The number and its bounds, all in ``unit``.
    unit : str
        Unit as the sentence prints it, "" for a pure number.

    Raises
    ------
    OutOfRange
        If the number is NaN, infinite, below ``low`` or above ``high``.
    """
    # Not a number compares as false, so it is refused too.
    if not low <= value <= high:
        raise OutOfRange(name, value, unit, low, high)


def check_length(name: str, value_m: float) -> None:
    """Refuse a length that no section has: a wrong unit more often than a wish.

    Parameters
    ----------
    name : str
        What the length is, in the user's words.
    value_m : float
        The length [m].

    Raises
    ------
    OutOfRange
        If it is not between 1 mm and 100 m; common practice, no source.
    """
    check_between(name, value_m, "m", SHORTEST_M, LONGEST_M)
