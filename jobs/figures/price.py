"""What the commissioner reads: the net price in parts, tax by category, and stage payments.

Tax is worked out once on the net sum of each category, as EN 16931 does, not
on each part; the parts sum to the net price, the payments to the gross price.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from materials.estimator.errors import EstimatorError, Missing
from materials.estimator.ranges import within
from studio.money import round_half_up, split, working


@dataclass(frozen=True, slots=True)
class PricePart:
    """A part of the price to be shown.

    Attributes
    ----------
    label : str
    weight : Decimal
        What it bears of the net price, beside the other parts' weights [dimensionless].
    tax_category : str
    """

    label: str
    weight: Decimal
    tax_category: str


@dataclass(frozen=True, slots=True)
class PricedPart:
    """A part of the price with its amount.

    Attributes
    ----------
    label : str
    net_minor : int
        Minor units [dimensionless].
    tax_category : str
    tax_rate : Decimal
        Share of the net amount [dimensionless].
    """

    label: str
    net_minor: int
    tax_category: str
    tax_rate: Decimal


@dataclass(frozen=True, slots=True)
class TaxLine:
    """The tax of one category.

    Attributes
    ----------
    category : str
    rate : Decimal
        Share of the net amount [dimensionless].
    net_minor, tax_minor : int
        Minor units [dimensionless].
    """

    category: str
    rate: Decimal
    net_minor: int
    tax_minor: int


@dataclass(frozen=True, slots=True)
class Price:
    """A price with its tax.

    Attributes
    ----------
    parts : tuple of PricedPart
        They sum to the net price.
    taxes : tuple of TaxLine
        One a category, in the order of the parts.
    net_minor, tax_minor, gross_minor : int
        Minor units [dimensionless].
    """

    parts: tuple[PricedPart, ...]
    taxes: tuple[TaxLine, ...]
    net_minor: int
    tax_minor: int
    gross_minor: int


@dataclass(frozen=True, slots=True)
class PaymentStage:
    """When a share of the price falls due: label and share [dimensionless]."""

    label: str
    share: Decimal


@dataclass(frozen=True, slots=True)
class Payment:
    """A stage payment: label, share [dimensionless] and amount in minor units [dimensionless]."""

    label: str
    share: Decimal
    amount_minor: int


def price_with_tax(net_minor: int, parts: Sequence[PricePart], rates: Mapping[str, Decimal]) -> Price:
    """Part a net price and add its tax.

    Parameters
    ----------
    net_minor : int
        Minor units [dimensionless]; negative for a credit.
    parts : sequence of PricePart
    rates : mapping of str to Decimal
        Tax rate by category, on the day of the quote [dimensionless].

    Returns
    -------
    Price

    Raises
    ------
    Missing
        When a category has no rate.
    MoneyError
        When the weights part nothing.
    """
    for part in parts:
        if part.tax_category not in rates:
            raise Missing(f"The tax rate of {part.tax_category!r}", f"give the category of {part.label!r} a rate.")
        within(f"tax rate of {part.tax_category}", float(rates[part.tax_category]), "", 0.0, 1.0)
    amounts = split(net_minor, [part.weight for part in parts])
    return taxed(
        [
            PricedPart(part.label, amount, part.tax_category, rates[part.tax_category])
            for part, amount in zip(parts, amounts, strict=True)
        ]
    )


def taxed(parts: Sequence[PricedPart]) -> Price:
    """Add up parts whose amounts are known, and their tax.

    Parameters
    ----------
    parts : sequence of PricedPart
        Below nought for a credit.

    Returns
    -------
    Price
    """
    priced, net_minor = tuple(parts), sum(part.net_minor for part in parts)
    taxes = tuple(_tax(category, priced) for category in dict.fromkeys(part.tax_category for part in priced))
    tax_minor = sum(tax.tax_minor for tax in taxes)
    return Price(priced, taxes, net_minor, tax_minor, net_minor + tax_minor)


def _tax(category: str, parts: Sequence[PricedPart]) -> TaxLine:
    own = [part for part in parts if part.tax_category == category]
    net, rate = sum(part.net_minor for part in own), own[0].tax_rate
    with working():
        return TaxLine(category, rate, net, round_half_up(net * rate))


def stage_payments(gross_minor: int, stages: Sequence[PaymentStage]) -> tuple[Payment, ...]:
    """Part a price into stage payments: each rounded half up, the residue on the last.

    Parameters
    ----------
    gross_minor : int
        Minor units [dimensionless].
    stages : sequence of PaymentStage
        Their shares sum to 1 exactly.

    Returns
    -------
    tuple of Payment
        They sum to the price.

    Raises
    ------
    EstimatorError
        When the shares do not sum to 1, or one is not above nought.
    """
    with working():
        total = sum((stage.share for stage in stages), Decimal(0))
    if total != 1 or any(stage.share <= 0 for stage in stages):
        shown = " + ".join(f"{stage.share.normalize():f}" for stage in stages) or "no stages"
        message = f"The stage payments are {shown}; give shares above nought that sum to 1."
        raise EstimatorError("stage payments", shown, message)
    amounts = split(gross_minor, [stage.share for stage in stages])
    return tuple(Payment(stage.label, stage.share, amount) for stage, amount in zip(stages, amounts, strict=True))
