"""What a number or a word must be, said once: common practice, no source."""

import math
from collections.abc import Collection
from numbers import Integral, Real

from materials.estimator.errors import OutOfRange, UnknownChoice, WrongKind


def within(name: str, value: float, unit: str, low: float | None, high: float | None, hint: str = "") -> None:
    """Refuse a number that is not finite or lies outside its range.

    Parameters
    ----------
    name : str
        What it is, in the user's words.
    value : float
        The number, in ``unit``.
    unit : str
        Unit as the sentence prints it.
    low, high : float or None
        The range, ends included, in ``unit``.
    hint : str
        A sentence to add.

    Raises
    ------
    WrongKind
        When it is not a number; true and false are not numbers.
    OutOfRange
        When it is not finite or lies outside.
    """
    # Most numbers are floats in range, and a comparison with one that is no number is false.
    if type(value) is float and (0 if low is None else low) <= value <= (1e300 if high is None else high):
        return
    if isinstance(value, bool) or not isinstance(value, Real):
        raise WrongKind(name, value, "a number")
    # A whole number is finite, and may be too large to be asked whether it is.
    finite = isinstance(value, int) or math.isfinite(value)
    if not finite or (low is not None and value < low) or (high is not None and value > high):
        raise OutOfRange(name, value, unit, low, high, hint)


def whole(name: str, value: int, unit: str, low: int, high: int, hint: str = "") -> None:
    """Refuse anything but a whole number within its range.

    Parameters
    ----------
    name : str
        What it is, in the user's words.
    value : int
        The number, in ``unit``.
    unit : str
        What is counted, as the sentence prints it.
    low, high : int
        The range, ends included, in ``unit``.
    hint : str
        A sentence to add.

    Raises
    ------
    WrongKind
        When it is not a whole number; true and false are not numbers.
    OutOfRange
        When it lies outside.
    """
    if isinstance(value, bool) or not isinstance(value, Integral):
        raise WrongKind(name, value, "a whole number")
    within(name, value, unit, low, high, hint)


def one_of(name: str, value: str, choices: Collection[str]) -> None:
    """Refuse a word that is not among those known.

    Parameters
    ----------
    name : str
        What it is, in the user's words.
    value : str
        The word.
    choices : collection of str
        Those known.

    Raises
    ------
    UnknownChoice
        When it is none of them.
    """
    if value not in choices:
        raise UnknownChoice(name, value, choices)


def rounded_up(value: float) -> int:
    """The next whole number, unless floating point put a whole one a hair too high.

    Parameters
    ----------
    value : float
        A count before rounding [dimensionless].

    Returns
    -------
    int
        [dimensionless]
    """
    return math.ceil(value - 1e-9)
