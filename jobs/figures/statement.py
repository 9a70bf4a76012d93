"""A statement of account: what was agreed, what is due of it, what was paid, and what is kept back.

The total is the price of the accepted quote and of every accepted variation,
each with its own tax as it stands on its document. Retention moves money to a
later day and takes nothing from the price: half of it is released at completion
and the rest once defects are made good, as is the custom of building contracts
in the United Kingdom, from memory. What is still owed is the total less what was
paid, as the amount due for payment of EN 16931 is.
"""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from materials.estimator.errors import EstimatorError
from materials.estimator.ranges import within
from studio.money import MoneyError, format_minor, round_half_up, split, working

ASKED, PAID = "asked", "paid"
RELEASES = (
    ("retention_first", "Retention, first half, at completion"),
    ("retention_rest", "Retention, second half, once defects are made good"),
)


@dataclass(frozen=True, slots=True)
class Agreed:
    """A quote or a variation that was accepted; minor units [dimensionless], below nought for a credit."""

    number: str
    title: str
    on: datetime.date
    net_minor: int
    tax_minor: int
    gross_minor: int


@dataclass(frozen=True, slots=True)
class Due:
    """One payment that falls due.

    Attributes
    ----------
    key, label : str
        The key stays the same as long as the commission does.
    gross_minor : int
        Of the price, tax included, minor units [dimensionless]; nought for a release of retention.
    held_minor : int
        Kept back of it, minor units [dimensionless]; below nought where it is released.
    """

    key: str
    label: str
    gross_minor: int
    held_minor: int

    @property
    def payable_minor(self) -> int:
        """What is to be paid, minor units [dimensionless]."""
        return self.gross_minor - self.held_minor


@dataclass(frozen=True, slots=True)
class Entry:
    """What happened to one payment: asked for or paid, on a day; taken back with a minus [dimensionless]."""

    payment: str
    happened: str
    on: datetime.date
    amount_minor: int


@dataclass(frozen=True, slots=True)
class Account:
    """One payment with what happened to it; minor units [dimensionless]."""

    due: Due
    asked_minor: int
    paid_minor: int
    asked_on: datetime.date | None
    paid_on: datetime.date | None

    @property
    def owed_minor(self) -> int:
        """Asked for and not paid yet, minor units [dimensionless]."""
        return self.asked_minor - self.paid_minor

    @property
    def to_ask_minor(self) -> int:
        """Not asked for yet, minor units [dimensionless]."""
        return self.due.payable_minor - self.asked_minor

    @property
    def to_pay_minor(self) -> int:
        """Not paid yet, minor units [dimensionless]."""
        return self.due.payable_minor - self.paid_minor


@dataclass(frozen=True, slots=True)
class Statement:
    """A statement that adds up; one that does not raises ``MoneyError``.

    Attributes
    ----------
    currency : str
        ISO 4217 code.
    agreed : tuple of Agreed
        The quote first.
    accounts : tuple of Account
    """

    currency: str
    agreed: tuple[Agreed, ...]
    accounts: tuple[Account, ...]

    def __post_init__(self) -> None:
        for each in self.agreed:
            self._agree(f"price and tax of {each.number}", each.net_minor + each.tax_minor, each.gross_minor)
        self._agree("payments", sum(each.due.payable_minor for each in self.accounts), self.gross_minor)
        self._agree("sums kept back and released", sum(each.due.held_minor for each in self.accounts), 0)

    def _agree(self, what: str, found: int, wanted: int) -> None:
        if found != wanted:
            said, meant = format_minor(found, self.currency), format_minor(wanted, self.currency)
            raise MoneyError(f"The {what} come to {said} and should come to {meant}; look at what was agreed.")

    @property
    def contract(self) -> Agreed:
        """What was agreed first."""
        return self.agreed[0]

    @property
    def variations(self) -> tuple[Agreed, ...]:
        """What was agreed since."""
        return self.agreed[1:]

    @property
    def net_minor(self) -> int:
        """All of it before tax, minor units [dimensionless]."""
        return sum(each.net_minor for each in self.agreed)

    @property
    def tax_minor(self) -> int:
        """The tax on all of it, minor units [dimensionless]."""
        return sum(each.tax_minor for each in self.agreed)

    @property
    def gross_minor(self) -> int:
        """All of it with tax, minor units [dimensionless]."""
        return sum(each.gross_minor for each in self.agreed)

    @property
    def asked_minor(self) -> int:
        """Asked for so far, minor units [dimensionless]."""
        return sum(each.asked_minor for each in self.accounts)

    @property
    def paid_minor(self) -> int:
        """Paid so far, minor units [dimensionless]."""
        return sum(each.paid_minor for each in self.accounts)

    @property
    def owed_minor(self) -> int:
        """Asked for and not paid yet, minor units [dimensionless]."""
        return self.asked_minor - self.paid_minor

    @property
    def to_come_minor(self) -> int:
        """Neither asked for nor paid yet, minor units [dimensionless]."""
        return self.gross_minor - self.asked_minor

    @property
    def to_pay_minor(self) -> int:
        """Not paid yet, minor units [dimensionless]."""
        return self.gross_minor - self.paid_minor

    @property
    def held_minor(self) -> int:
        """Kept back in all until it is released, minor units [dimensionless]."""
        return sum(each.due.held_minor for each in self.accounts if each.due.key not in dict(RELEASES))


def dues(payments: Sequence[tuple[str, str, int]], share: Decimal) -> tuple[Due, ...]:
    """What falls due, with a share of each payment kept back and released in two halves.

    Parameters
    ----------
    payments : sequence of (str, str, int)
        Key, label, and amount with tax in minor units [dimensionless].
    share : Decimal
        That is kept back, from 0 to 0.2 [dimensionless].

    Returns
    -------
    tuple of Due
        They sum to the payments.

    References
    ----------
    Retention of 0 to 5 %, half at completion and half after defects: custom of building contracts, from memory.
    """
    within("retention", float(share), "", 0.0, 0.2, "Give a share of each payment.")
    with working():
        found = [Due(key, label, amount, round_half_up(amount * share)) for key, label, amount in payments]
    held = sum(each.held_minor for each in found)
    if held:
        halves = split(held, [Decimal(1), Decimal(1)])
        found += [Due(key, label, 0, -half) for (key, label), half in zip(RELEASES, halves, strict=True)]
    return tuple(found)


def account_of(owed: Iterable[Due], entries: Iterable[Entry]) -> tuple[Account, ...]:
    """Each payment with what happened to it.

    Parameters
    ----------
    owed : iterable of Due
    entries : iterable of Entry
        In the order in which they were written.

    Returns
    -------
    tuple of Account
        In the order of ``owed``; with the last day on which it was asked for or paid, where that was not taken back.

    Raises
    ------
    EstimatorError
        When an entry names a payment that is not owed.
    """
    payments = {due.key: due for due in owed}
    by_payment: dict[str, list[Entry]] = {key: [] for key in payments}
    for entry in entries:
        if entry.payment not in by_payment:
            message = f"The account has an entry for {entry.payment!r}, which is not owed; take that entry back."
            raise EstimatorError("account", entry.payment, message)
        by_payment[entry.payment].append(entry)
    return tuple(
        Account(
            due,
            asked_minor=_sum(by_payment[key], ASKED),
            paid_minor=_sum(by_payment[key], PAID),
            asked_on=_last(by_payment[key], ASKED),
            paid_on=_last(by_payment[key], PAID),
        )
        for key, due in payments.items()
    )


def _sum(entries: Iterable[Entry], happened: str) -> int:
    return sum(entry.amount_minor for entry in entries if entry.happened == happened)


def _last(entries: Sequence[Entry], happened: str) -> datetime.date | None:
    days = [entry.on for entry in entries if entry.happened == happened]
    return max(days) if days and _sum(entries, happened) else None
