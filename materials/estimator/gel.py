"""How long a catalysed product stays workable: read from its maker's own table, and never beyond it.

Two published workshop charts for gel coat change eightfold in ten degrees
where the rule of thumb says twofold, so there is no universal law here. Between
readings the logarithm of the time is taken as straight over temperature, and
over the logarithm of the percentage, because the time falls about as the
percentage rises. Common practice, no source.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, log

from materials.estimator.errors import EstimatorError, Missing, OutOfRange
from materials.estimator.mix import q10_of_chart
from materials.estimator.ranges import within

LEAST_IN_TEN, MOST_IN_TEN = 1.3, 20.0
"""How many times as fast ten degrees make it: 2 by the rule of thumb, up to 16 between two entries of a published
chart. What lies well outside has likely been mistyped: common practice, no source."""

LOOK_AGAIN = "Look at the data sheet again."


@dataclass(frozen=True, slots=True)
class GelReading:
    """One entry of a maker's table.

    Attributes
    ----------
    temperature_c : float
        Of shop and product [degC].
    percent : float
        Catalyst or hardener, on the product's own basis [percent].
    minutes : float
        From stirring in to the gel [min].
    """

    temperature_c: float
    percent: float
    minutes: float

    def __post_init__(self) -> None:
        within("Temperature of a gel time", self.temperature_c, "°C", -10, 60)
        within("Percentage of a gel time", self.percent, "%", 0.1, 10)
        within("Gel time", self.minutes, "min", 0.5, 1440)


@dataclass(frozen=True, slots=True)
class GelTable:
    """A product's name and its maker's readings."""

    product: str
    readings: tuple[GelReading, ...]

    def __post_init__(self) -> None:
        if not self.readings:
            raise Missing(
                f"Gel-time table of {self.product}",
                "enter the maker's minutes by temperature and percentage on its page in the Stores.",
            )
        seen = {(each.temperature_c, each.percent) for each in self.readings}
        if len(seen) < len(self.readings):
            raise EstimatorError(
                "gel times", self.product, "One temperature and percentage has two times; take one of them out."
            )

    @property
    def percents(self) -> tuple[float, ...]:
        """The percentages of the table, rising [percent]."""
        return tuple(sorted({each.percent for each in self.readings}))

    def column(self, percent: float) -> tuple[GelReading, ...]:
        """The readings at one percentage of the table.

        Parameters
        ----------
        percent : float
            One of ``percents`` [percent].

        Returns
        -------
        tuple of GelReading
            By rising temperature.
        """
        found = [each for each in self.readings if each.percent == percent]
        return tuple(sorted(found, key=lambda each: each.temperature_c))


def gel_minutes(table: GelTable, temperature_c: float, percent: float) -> float:
    """Gel time at a temperature and a percentage within the table.

    Parameters
    ----------
    table : GelTable
    temperature_c : float
        Of shop and product [degC].
    percent : float
        Catalyst or hardener [percent].

    Returns
    -------
    float
        [min]; common practice, no source.

    Raises
    ------
    OutOfRange
        Outside the maker's percentages, or the temperatures given for them.
    """
    percents = table.percents
    within(
        f"Percentage for {table.product}",
        percent,
        "%",
        percents[0],
        percents[-1],
        "That is what its maker's table covers; less may never cure, more burns and stays brittle.",
    )
    below = max(each for each in percents if each <= percent)
    above = min(each for each in percents if each >= percent)
    low = _minutes_at(table, below, temperature_c)
    if above == below:
        return low
    high = _minutes_at(table, above, temperature_c)
    share = log(percent / below) / log(above / below)
    return exp(log(low) + share * (log(high) - log(low)))


def gel_row(table: GelTable, temperature_c: float) -> tuple[GelReading, ...]:
    """The times at one temperature for each percentage whose readings reach it.

    Parameters
    ----------
    table : GelTable
    temperature_c : float
        Of shop and product [degC].

    Returns
    -------
    tuple of GelReading
        By rising percentage; none where no reading reaches that temperature.
    """
    return tuple(
        GelReading(temperature_c, percent, _minutes_at(table, percent, temperature_c))
        for percent in table.percents
        if table.column(percent)[0].temperature_c <= temperature_c <= table.column(percent)[-1].temperature_c
    )


def doubts(table: GelTable) -> tuple[str, ...]:
    """Entries of a table that are likely slips of the pen, for a wrong gel time hurts.

    Parameters
    ----------
    table : GelTable

    Returns
    -------
    tuple of str
        A sentence for each pair of entries that warmth or catalyst does not make faster, or far too much; common
        practice, no source.
    """
    return (*_doubts_of_warmth(table), *_doubts_of_catalyst(table))


def _doubts_of_warmth(table: GelTable) -> Iterator[str]:
    for percent in table.percents:
        for cold, warm in pairwise(table.column(percent)):
            times = q10_of_chart(warm.minutes, warm.temperature_c, cold.minutes, cold.temperature_c)
            said = (
                f"At {percent:g} % it gels in {cold.minutes:g} min at {cold.temperature_c:g} °C and in "
                f"{warm.minutes:g} min at {warm.temperature_c:g} °C"
            )
            if times < 1:
                yield f"{said}: warmer is never slower. {LOOK_AGAIN}"
            elif not LEAST_IN_TEN <= times <= MOST_IN_TEN:
                yield f"{said}: {times:.2g} times as fast for ten degrees, where 2 to 16 is usual. {LOOK_AGAIN}"


def _doubts_of_catalyst(table: GelTable) -> Iterator[str]:
    for warm in sorted({each.temperature_c for each in table.readings}):
        row = sorted((each for each in table.readings if each.temperature_c == warm), key=lambda each: each.percent)
        for less, more in pairwise(row):
            if more.minutes >= less.minutes:
                yield (
                    f"At {warm:g} °C {more.percent:g} % gels in {more.minutes:g} min and {less.percent:g} % in "
                    f"{less.minutes:g} min: more is never slower. {LOOK_AGAIN}"
                )


def _minutes_at(table: GelTable, percent: float, temperature_c: float) -> float:
    readings: Sequence[GelReading] = table.column(percent)
    coldest, warmest = readings[0].temperature_c, readings[-1].temperature_c
    if not coldest <= temperature_c <= warmest:
        raise OutOfRange(
            f"Temperature for {table.product} at {percent:g} %",
            temperature_c,
            "°C",
            coldest,
            warmest,
            "Its maker's table ends there, and no rule carries it further: bring the shop and the product into the "
            "table, or enter what the maker says for this temperature.",
        )
    cold = max((each for each in readings if each.temperature_c <= temperature_c), key=lambda each: each.temperature_c)
    warm = min((each for each in readings if each.temperature_c >= temperature_c), key=lambda each: each.temperature_c)
    if cold == warm:
        return cold.minutes
    share = (temperature_c - cold.temperature_c) / (warm.temperature_c - cold.temperature_c)
    return exp(log(cold.minutes) + share * (log(warm.minutes) - log(cold.minutes)))
