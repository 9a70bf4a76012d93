"""The difference in price as a commissioner reads it: the sections, what is added, what is left out, and the tax.

Every price is worked out whole and rounded as a quote's is, so that the parts
sum to the difference of the two prices to the minor unit.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.figures.price import Price, PricedPart, taxed
from jobs.figures.quote import BuildUp, BuildUpLine
from materials.estimator.errors import EstimatorError
from studio.money import exact, split, working


@dataclass(frozen=True, slots=True)
class InWords:
    """Work or goods that the take-off does not know; ``key`` is that of its line in the build-up."""

    key: str
    label: str


@dataclass(frozen=True, slots=True)
class FourPrices:
    """The build-ups that a variation is worked from.

    Attributes
    ----------
    agreed, changed : BuildUp
        Of the sections before and after, without what is in words.
    was, now : BuildUp
        The first with what is left out in words, the second with what is added.
    """

    agreed: BuildUp
    changed: BuildUp
    was: BuildUp
    now: BuildUp

    @property
    def net_minor(self) -> int:
        """The difference before tax, minor units [dimensionless]."""
        return self.now.net_minor - self.was.net_minor


def difference_price(
    prices: FourPrices,
    *,
    sections: str,
    added: Sequence[InWords],
    omitted: Sequence[InWords],
    tax: tuple[str, Decimal],
) -> Price:
    """Part a difference for reading, and add its tax.

    Parameters
    ----------
    prices : FourPrices
    sections : str
        What the change of the sections is called; "" where no section is changed.
    added, omitted : sequence of InWords
        Each with a line in ``now``, or in ``was``.
    tax : tuple of str and Decimal
        Category, and its rate as a share [dimensionless].

    Returns
    -------
    Price
        Its parts sum to the difference; what is left out has a minus.

    Raises
    ------
    EstimatorError
        When nothing is changed.
    """
    changed = prices.changed.net_minor - prices.agreed.net_minor
    parts = [(sections, changed)] if sections or changed else []
    parts += _shared_out(prices.now, prices.now.net_minor - prices.changed.net_minor, added, 1)
    parts += _shared_out(prices.was, prices.was.net_minor - prices.agreed.net_minor, omitted, -1)
    if not parts:
        raise EstimatorError("changes", "none", "Nothing is changed yet; change a section, or add what it is about.")
    return taxed([PricedPart(label, amount, *tax) for label, amount in parts])


def _shared_out(built: BuildUp, amount: int, named: Sequence[InWords], sign: int) -> list[tuple[str, int]]:
    """Each bears of the price what it costs; an hour costs its overhead too."""
    if not named:
        return []
    lines = {line.key: line for line in built.lines}
    overhead = built.sum_of("overhead")
    with working():
        hour = exact(overhead) / built.hours if built.hours else Decimal(0)
        weights = [_weight(lines[each.key], hour) for each in named]
    shares = split(amount, weights if any(weights) else [Decimal(1)] * len(named))
    return [(each.label, sign * share) for each, share in zip(named, shares, strict=True)]


def _weight(line: BuildUpLine, overhead_hour: Decimal) -> Decimal:
    hours = line.quantity or Decimal(0) if line.kind == "labour" else Decimal(0)
    return line.amount_minor + overhead_hour * hours
