"""Learning over repeated casts. There are two models, and each answer names its own.

With a rate r, each doubling of the count brings down to r (0.9 is 90 %): in
Crawford's model the hours of the cast itself, in Wright's the average of all
casts so far. Both are first x n^b with b = log2(r) (T. P. Wright, 1936;
J. R. Crawford, 1944, from memory). Only what is repeated learns: gel coat,
laminate, demoulding and finish, not the pattern or the mould.
"""

from math import log2

from materials.estimator.ranges import whole, within


def crawford_unit(first: float, rate: float, number: int) -> float:
    """Hours of one cast by Crawford's unit model.

    Parameters
    ----------
    first : float
        Hours of the first cast [h].
    rate : float
        Above 0.5 and at most 1 [dimensionless].
    number : int
        Which cast, from 1 [each].

    Returns
    -------
    float
        Hours of that cast alone [h].
    """
    _check(first, rate, number)
    return float(first * number ** log2(rate))


def crawford_total(first: float, rate: float, count: int) -> float:
    """Hours of all casts by Crawford's unit model.

    Parameters
    ----------
    first : float
        Hours of the first cast [h].
    rate : float
        Above 0.5 and at most 1 [dimensionless].
    count : int
        How many casts [each].

    Returns
    -------
    float
        Hours of casts 1 to ``count`` together [h].
    """
    _check(first, rate, count)
    return sum(crawford_unit(first, rate, number) for number in range(1, count + 1))


def wright_average(first: float, rate: float, count: int) -> float:
    """Average hours of a run of casts by Wright's cumulative-average model.

    Parameters
    ----------
    first : float
        Hours of the first cast [h].
    rate : float
        Above 0.5 and at most 1 [dimensionless].
    count : int
        How many casts [each].

    Returns
    -------
    float
        Average of casts 1 to ``count`` [h].
    """
    _check(first, rate, count)
    return float(first * count ** log2(rate))


def wright_total(first: float, rate: float, count: int) -> float:
    """Hours of all casts by Wright's cumulative-average model.

    Parameters
    ----------
    first : float
        Hours of the first cast [h].
    rate : float
        Above 0.5 and at most 1 [dimensionless].
    count : int
        How many casts [each].

    Returns
    -------
    float
        Hours of casts 1 to ``count`` together [h].
    """
    return count * wright_average(first, rate, count)


def wright_unit(first: float, rate: float, number: int) -> float:
    """Hours of one cast by Wright's cumulative-average model.

    Parameters
    ----------
    first : float
        Hours of the first cast [h].
    rate : float
        Above 0.5 and at most 1 [dimensionless].
    number : int
        Which cast, from 1 [each].

    Returns
    -------
    float
        The total with it less the total without it [h].
    """
    before = wright_total(first, rate, number - 1) if number > 1 else 0.0
    return wright_total(first, rate, number) - before


def _check(first: float, rate: float, number: int) -> None:
    within("hours of the first cast", first, "h", 0.0, None)
    within("learning rate", rate, "", 0.51, 1.0, "A rate of 0.9 means 90 %.")
    whole("number of casts", number, "", 1, 10_000)
