"""How long a catalysed product stays workable: read from its maker's own table, and never beyond it.

Two published workshop charts for gel coat change eightfold in ten degrees
where the rule of thumb says twofold, so there is no universal law here. Between
readings the logarithm of the time is taken as straight over temperature, and
over the logarithm of the percentage, because the time falls about as the
percentage rises. Common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log

from materials.estimator.errors import EstimatorError, Missing, OutOfRange
from materials.estimator.ranges import within


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
