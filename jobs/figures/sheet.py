"""What a quote document prints, and nothing else: no cost, no hour, no margin has a place here.

Everything is a value, so that a document printed again from what was kept is
the same document. Amounts are whole minor units of one currency.
"""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from jobs.figures.scope import SectionScope
from studio.money import MoneyError, format_minor


@dataclass(frozen=True, slots=True)
class Workshop:
    """Who issues a document; what is not known is ""."""

    name: str
    address: str = ""
    email: str = ""
    phone: str = ""
    registration: str = ""


@dataclass(frozen=True, slots=True)
class Commissioner:
    """Who a quote is addressed to; what is not known is ""."""

    name: str
    contact: str = ""
    address: str = ""
    email: str = ""


@dataclass(frozen=True, slots=True)
class SheetHead:
    """What the title block of every sheet says.

    Attributes
    ----------
    number, revision : str
        The commission's number "26-014", and the version of what is printed, "2" or "draft".
    units : str
        "metric" or "us"; the latter is printed on letter paper.
    """

    workshop: Workshop
    number: str
    revision: str
    title: str
    date: datetime.date
    drawn_by: str = ""
    units: Literal["metric", "us"] = "metric"


@dataclass(frozen=True, slots=True)
class PricePart:
    """One line of the price as the commissioner reads it; ``tax_rate`` is a share, 0.20."""

    label: str
    net_minor: int
    tax_category: str
    tax_rate: Decimal


@dataclass(frozen=True, slots=True)
class TaxLine:
    """The tax of one category on the sum of its parts; ``rate`` is a share."""

    category: str
    rate: Decimal
    net_minor: int
    tax_minor: int


@dataclass(frozen=True, slots=True)
class Payment:
    """One stage payment, tax included; ``share`` is of the whole."""

    label: str
    share: Decimal
    amount_minor: int


@dataclass(frozen=True, slots=True)
class Price:
    """A price that adds up; one that does not raises ``MoneyError``. A difference in price has no payments of its own.

    Attributes
    ----------
    currency : str
        ISO 4217 code.
    tax_name : str
        What the tax is called where the workshop is, "VAT".
    """

    currency: str
    tax_name: str
    parts: tuple[PricePart, ...]
    taxes: tuple[TaxLine, ...]
    payments: tuple[Payment, ...]
    net_minor: int
    tax_minor: int
    gross_minor: int

    def __post_init__(self) -> None:
        self._agree("parts", [part.net_minor for part in self.parts], "price before tax", self.net_minor)
        self._agree("taxed amounts", [tax.net_minor for tax in self.taxes], "price before tax", self.net_minor)
        self._agree("taxes", [tax.tax_minor for tax in self.taxes], "tax", self.tax_minor)
        self._agree("price and tax", [self.net_minor, self.tax_minor], "total", self.gross_minor)
        if self.payments:
            self._agree(
                "stage payments", [payment.amount_minor for payment in self.payments], "total", self.gross_minor
            )

    def _agree(self, what: str, amounts: Sequence[int], whole: str, expected: int) -> None:
        if sum(amounts) != expected:
            found, wanted = format_minor(sum(amounts), self.currency), format_minor(expected, self.currency)
            raise MoneyError(f"The {what} come to {found} and the {whole} is {wanted}; work the price out again.")


@dataclass(frozen=True, slots=True)
class QuoteSheet:
    """One version of a quote, ready to be printed.

    Attributes
    ----------
    place, description, priced_from, colours : str
        Where it will stand, what it is, the drawing or model priced, and the colours with system and reference; "" if
        nothing is said.
    drawing_svg : str
        Front and side views with their sizes, as ``materials.drawing`` draws them; "" for none.
    mould_owner : str
        Whose the moulds are when the work is done.
    programme_weeks : int or None
        From acceptance to completion; None where it is still to be agreed.
    programme_basis : tuple of str
        What the programme assumes, a sentence each.
    included, assumed, excluded, approvals, care, terms : tuple of str
        One point each, as ``points`` gives them.
    """

    head: SheetHead
    commissioner: Commissioner
    sections: tuple[SectionScope, ...]
    price: Price
    valid_until: datetime.date
    mould_owner: str
    place: str = ""
    description: str = ""
    priced_from: str = ""
    colours: str = ""
    drawing_svg: str = ""
    programme_weeks: int | None = None
    programme_basis: tuple[str, ...] = ()
    included: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    excluded: tuple[str, ...] = ()
    approvals: tuple[str, ...] = ()
    care: tuple[str, ...] = ()
    terms: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of the internal build-up; ``quantity`` is in ``unit``, None where there is nothing to count."""

    label: str
    quantity: Decimal | None
    unit: str
    note: str
    amount_minor: int


@dataclass(frozen=True, slots=True)
class Costs:
    """The internal build-up of one version; ``currency`` is an ISO 4217 code."""

    currency: str
    lines: tuple[CostLine, ...]

    @property
    def total_minor(self) -> int:
        """Sum of the lines, minor units [dimensionless]."""
        return sum(line.amount_minor for line in self.lines)


def points(text: str) -> tuple[str, ...]:
    """The points of a text typed one to a line.

    Parameters
    ----------
    text : str
        Blank lines and spaces at the ends are passed over.

    Returns
    -------
    tuple of str
        In the order typed.
    """
    return tuple(line.strip() for line in text.splitlines() if line.strip())
