"""What to buy for the accepted commissions, and what to look out for.

A stage that has passed needs nothing more. Of every other stage's need comes
off what was issued to it; of what is left over all commissions comes off what
lies in the stores and has not expired; the rest is rounded up to the cheapest
packs. What a stage needs is wanted on the day that the plan in force begins it;
where there is no plan, by the day the commission is needed.
"""

import datetime
from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from materials.packs import Pack, PackChoice, TooManyPacks, cheapest_packs
from studio.money import working

NOUGHT = Decimal(0)


@dataclass(frozen=True, slots=True)
class Need:
    """What one place of one commission needs of an item.

    Attributes
    ----------
    commission, place : str
        The commission's number, and the section and stage, as people read them.
    key : str
        The item's.
    needed, issued : Decimal
        By the take-off after waste, and issued less returned, in the item's unit.
    passed : bool
        Whether the stage has passed, so that it needs nothing more.
    by : date or None
        The day the stage is planned to begin or, without a plan, the commission is needed, where one is given.
    """

    commission: str
    place: str
    key: str
    needed: Decimal
    issued: Decimal
    passed: bool
    by: datetime.date | None

    @property
    def left(self) -> Decimal:
        """What it needs still, in the item's unit."""
        return NOUGHT if self.passed else max(NOUGHT, self.needed - self.issued)


@dataclass(frozen=True, slots=True)
class OnHand:
    """What a lot holds: its item's key, its batch, a quantity in the item's unit, and its last day if it has one."""

    key: str
    batch: str
    quantity: Decimal
    expires: datetime.date | None


@dataclass(frozen=True, slots=True)
class Supply:
    """How an item is bought.

    Attributes
    ----------
    key, name, unit, supplier : str
        As in the catalogue.
    lead_days : int
        From order to delivery [day].
    shelf_life_days : int or None
        None for what does not spoil [day].
    packs : tuple of Pack
        The sizes that have a price today.
    """

    key: str
    name: str
    unit: str
    supplier: str
    lead_days: int
    shelf_life_days: int | None
    packs: tuple[Pack, ...]


@dataclass(frozen=True, slots=True)
class Purchase:
    """One item that is needed.

    Attributes
    ----------
    supply : Supply
    needs : tuple of Need
        Those that need some still.
    left, on_hand, short : Decimal
        Needed still, in the stores and not expired, and what is missing, in the item's unit.
    packs : tuple of PackChoice
        The cheapest that cover what is missing; none where nothing is, or no pack has a price.
    order_by : date or None
        The last day to order it, where something is missing and a commission says when it is needed.
    cautions : tuple of str
        Whole sentences.
    """

    supply: Supply
    needs: tuple[Need, ...]
    left: Decimal
    on_hand: Decimal
    short: Decimal
    packs: tuple[PackChoice, ...]
    order_by: datetime.date | None
    cautions: tuple[str, ...]

    @property
    def cost_minor(self) -> int | None:
        """What the packs cost, minor units [dimensionless]; None where no pack has a price."""
        if self.short and not self.packs:
            return None
        return sum(choice.pack.price_minor * choice.count for choice in self.packs)


def purchases(
    needs: Iterable[Need], stock: Iterable[OnHand], supplies: Mapping[str, Supply], today: datetime.date
) -> tuple[Purchase, ...]:
    """Set needs against stock, item by item.

    Parameters
    ----------
    needs : iterable of Need
        Of every accepted commission.
    stock : iterable of OnHand
        Every lot that holds something.
    supplies : mapping of str to Supply
        By key; a need whose key is not there is passed over, as an hour or a sent-out service is.
    today : date

    Returns
    -------
    tuple of Purchase
        By supplier and name; items of which nothing more is needed are left out.

    Notes
    -----
    Common practice, no source.
    """
    wanting: dict[str, list[Need]] = {}
    for need in needs:
        if need.left and need.key in supplies:
            wanting.setdefault(need.key, []).append(need)
    lots: dict[str, list[OnHand]] = {}
    for lot in stock:
        lots.setdefault(lot.key, []).append(lot)
    found = [_purchase(supplies[key], tuple(of_it), lots.get(key, ()), today) for key, of_it in wanting.items()]
    return tuple(sorted(found, key=lambda each: (each.supply.supplier.casefold(), each.supply.name.casefold())))


def _purchase(supply: Supply, needs: tuple[Need, ...], lots: Sequence[OnHand], today: datetime.date) -> Purchase:
    good = sorted(
        (lot for lot in lots if lot.expires is None or lot.expires >= today),
        key=lambda lot: lot.expires or datetime.date.max,
    )
    with working():
        left = sum((need.left for need in needs), NOUGHT)
        on_hand = sum((lot.quantity for lot in good), NOUGHT)
        short = max(NOUGHT, left - on_hand)
    days = sorted(need.by for need in needs if need.by)
    packs, trouble = _packs(supply, short)
    cautions = [*trouble, *_lots_that_expire(needs, good)]
    if short:
        cautions += _when(supply, days, today)
    expired = [lot for lot in lots if lot not in good]
    if expired:
        cautions.append(f"Not counted: {_amount(expired, supply.unit)} has expired; test it or write it off.")
    order_by = days[0] - datetime.timedelta(days=supply.lead_days) if short and days else None
    return Purchase(supply, needs, left, on_hand, short, packs, order_by, tuple(cautions))


def _packs(supply: Supply, short: Decimal) -> tuple[tuple[PackChoice, ...], list[str]]:
    if short and not supply.packs:
        return (), ["No pack of it has a price; add one in the price book."]
    try:
        return (cheapest_packs(short, supply.packs) if short else ()), []
    except TooManyPacks as trouble:
        return (), [str(trouble)]


def _lots_that_expire(needs: Sequence[Need], lots: Sequence[OnHand]) -> list[str]:
    """The lots that the needs fall to, the first to expire to the first needed, and expire before that day."""
    found = []
    waiting = deque(sorted(((need.left, need.by or datetime.date.max) for need in needs), key=lambda each: each[1]))
    for lot in lots:
        rest, latest = lot.quantity, datetime.date.min
        while rest and waiting:
            wanted, day = waiting.popleft()
            taken = min(rest, wanted)
            rest -= taken
            if day != datetime.date.max:
                latest = day
            if taken < wanted:
                waiting.appendleft((wanted - taken, day))
        if lot.expires and lot.expires < latest:
            which = f"batch {lot.batch}" if lot.batch else "a lot without a batch"
            found.append(f"Use {which} first: it expires on {_day(lot.expires)}, and is wanted until {_day(latest)}.")
    return found


def _when(supply: Supply, days: Sequence[datetime.date], today: datetime.date) -> list[str]:
    found = []
    comes = today + datetime.timedelta(days=supply.lead_days)
    if days and comes > days[0]:
        found.append(f"Ordered today it comes on {_day(comes)}, after {_day(days[0])}, the day it is needed by.")
    if supply.shelf_life_days is not None and days:
        keeps = comes + datetime.timedelta(days=supply.shelf_life_days)
        if keeps < days[-1]:
            soonest = days[-1] - datetime.timedelta(days=supply.lead_days + supply.shelf_life_days)
            found.append(
                f"Ordered today it keeps until {_day(keeps)}, and is wanted until {_day(days[-1])}: "
                f"order what is for then no sooner than {_day(soonest)}."
            )
    return found


def _amount(lots: Sequence[OnHand], unit: str) -> str:
    return f"{sum((lot.quantity for lot in lots), NOUGHT).normalize():f} {unit}"


def _day(day: datetime.date) -> str:
    return f"{day.day} {day:%b %Y}"
