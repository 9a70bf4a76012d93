"""A take-off and a price book become priced lines; Decimal starts here.

A material is summed over the whole job before it is rounded up to packs, so
that two sections share a drum. Its cost is then parted among the lines that
need it. What has no price is collected, never guessed: the totals stay shut
until every price is there.
"""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from materials.estimator.errors import EstimatorError, OutOfRange, UnknownChoice
from materials.estimator.lines import Line, TakeOff
from materials.packs import Pack, PackChoice, TooManyPacks, cheapest_packs
from studio.money import exact, round_half_up, split, working

PackMode = Literal["packs", "pro_rata"]
PACK_MODES = ("packs", "pro_rata")
HOUR, SERVICE = "hour", "service"

# The floats of a take-off are true to far less than this; without it 25.000000000000004 kg would buy a second drum.
_GRAIN = Decimal("0.000001")


class PricesMissing(EstimatorError):
    """Totals were asked for while prices are missing; ``keys`` names what lacks one."""

    def __init__(self, missing: Sequence["MissingPrice"]) -> None:
        self.missing = tuple(missing)
        self.keys = tuple(item.key for item in missing)
        message = f"No total yet: {'; '.join(item.reason for item in missing)}. Complete the price book."
        super().__init__("price book", self.keys, message)


@dataclass(frozen=True, slots=True)
class ItemPrice:
    """One thing that the price book prices.

    Attributes
    ----------
    key, name, kind : str
        The key that a take-off uses, plain words, and what sort of thing it is; "hour" and "service" are apart.
    unit : str
        The unit its packs are counted in: kg, m2, m3, l, ml, m, h or each.
    packs : tuple of Pack
        The sizes that have a price on the day; none when nothing is priced.
    """

    key: str
    name: str
    kind: str
    unit: str
    packs: tuple[Pack, ...]


@dataclass(frozen=True, slots=True)
class PriceBook:
    """The prices of one day, by key, in one currency (ISO 4217)."""

    currency: str
    on: datetime.date
    items: Mapping[str, ItemPrice]

    def hour(self, key: str) -> Decimal:
        """What one hour of a kind costs: a wage, or the overhead of an hour.

        Parameters
        ----------
        key : str
            Key of an item of kind "hour" with one pack.

        Returns
        -------
        Decimal
            Minor units an hour, not rounded [1/h].

        Raises
        ------
        EstimatorError
            When there is no such hour, or it has not exactly one price.
        """
        item = self.items.get(key)
        if item is None or item.kind != HOUR or item.unit != "h":
            raise EstimatorError("hour", key, f"The price book of {self.on} has no hour {key!r}; add it, in h.")
        if len(item.packs) != 1:
            count = len(item.packs)
            raise EstimatorError("hour", key, f"{item.name} has {count} prices on {self.on}; an hour has exactly one.")
        with working():
            return item.packs[0].price_minor / item.packs[0].quantity


@dataclass(frozen=True, slots=True)
class Share:
    """What one take-off line bears of its material's cost.

    Attributes
    ----------
    section, stage : str
    buy : float
        As in the line, in its unit.
    cost_minor : int
        Minor units [dimensionless]; the shares of a material sum to its cost.
    """

    section: str
    stage: str
    buy: float
    cost_minor: int


@dataclass(frozen=True, slots=True)
class PricedMaterial:
    """One material, or one sent-out service, over the whole job.

    Attributes
    ----------
    key, name, kind, unit : str
        As in ``ItemPrice``.
    net : float
        What ends in the work, in ``unit``.
    buy : Decimal
        Net after waste and loss, to a millionth of ``unit``.
    bought : Decimal
        What is charged: whole packs, or ``buy`` itself when charged pro rata, in ``unit``.
    packs : tuple of PackChoice
        The cheapest packs that cover ``buy``; what is ordered, however it is charged.
    cost_minor : int
        Rounded once, half up, minor units [dimensionless].
    shares : tuple of Share
        One a take-off line, in its order.
    """

    key: str
    name: str
    kind: str
    unit: str
    net: float
    buy: Decimal
    bought: Decimal
    packs: tuple[PackChoice, ...]
    cost_minor: int
    shares: tuple[Share, ...]

    @property
    def waste_share(self) -> float:
        """Share of what is charged that does not end in the work [dimensionless]."""
        return 1.0 - self.net / float(self.bought) if self.bought else 0.0


@dataclass(frozen=True, slots=True)
class MissingPrice:
    """A material that cannot be priced, and why, as the middle of a sentence."""

    key: str
    reason: str


@dataclass(frozen=True, slots=True)
class PricedTakeOff:
    """A take-off with its prices.

    Attributes
    ----------
    currency : str
        ISO 4217 code.
    on : date
        The day of the prices.
    mode : str
        "packs" or "pro_rata".
    materials, sent_out : tuple of PricedMaterial
        By key; services of firms outside stand apart from what is bought.
    missing : tuple of MissingPrice
        By key; while there is one, the totals raise.
    """

    currency: str
    on: datetime.date
    mode: PackMode
    materials: tuple[PricedMaterial, ...]
    sent_out: tuple[PricedMaterial, ...]
    missing: tuple[MissingPrice, ...]

    @property
    def materials_minor(self) -> int:
        """Cost of all materials, minor units [dimensionless]; raises ``PricesMissing`` while one lacks a price."""
        return self._sum(self.materials)

    @property
    def sent_out_minor(self) -> int:
        """Cost of all sent-out work, minor units [dimensionless]; raises ``PricesMissing`` while a price lacks."""
        return self._sum(self.sent_out)

    def _sum(self, priced: tuple[PricedMaterial, ...]) -> int:
        if self.missing:
            raise PricesMissing(self.missing)
        return sum(material.cost_minor for material in priced)


def price_take_off(take_off: TakeOff, book: PriceBook, *, mode: PackMode) -> PricedTakeOff:
    """Price every line of a take-off.

    Parameters
    ----------
    take_off : TakeOff
    book : PriceBook
    mode : str
        "packs": the cheapest packs that cover the need are charged whole. "pro_rata": the need is charged at the
        price per unit of the largest of those packs.

    Returns
    -------
    PricedTakeOff

    Raises
    ------
    UnknownChoice
        For any other mode.
    OutOfRange
        When a line's quantity is negative or not finite.

    Notes
    -----
    Common practice, no source.
    """
    if mode not in PACK_MODES:
        raise UnknownChoice("way of charging materials", mode, PACK_MODES)
    needed: dict[str, list[Line]] = {}
    for line in take_off.lines:
        if not 0 <= line.buy < float("inf"):
            raise OutOfRange(f"quantity of {line.material}", line.buy, line.unit, low=0.0)
        needed.setdefault(line.material, []).append(line)
    priced: list[PricedMaterial] = []
    missing: list[MissingPrice] = []
    for key in sorted(needed):
        try:
            priced.append(_price(needed[key], book, mode))
        except _Unpriced as problem:
            missing.append(MissingPrice(key, str(problem)))
    return PricedTakeOff(
        currency=book.currency,
        on=book.on,
        mode=mode,
        materials=tuple(item for item in priced if item.kind != SERVICE),
        sent_out=tuple(item for item in priced if item.kind == SERVICE),
        missing=tuple(missing),
    )


class _Unpriced(Exception):
    """Why one material has no price; collected by ``price_take_off``."""


def _price(lines: Sequence[Line], book: PriceBook, mode: PackMode) -> PricedMaterial:
    key, units = lines[0].material, sorted({line.unit for line in lines})
    item = book.items.get(key)
    if item is None:
        raise _Unpriced(f"{key} is not in the price book of {book.on}")
    if item.kind == HOUR:
        raise _Unpriced(f"{key} is priced as an hour, and the take-off counts it as a material")
    if units != [item.unit]:
        raise _Unpriced(f"{key} is priced by {item.unit}, and the take-off counts it in {' and '.join(units)}")
    if not item.packs:
        raise _Unpriced(f"{key} has no price on {book.on}")
    with working():
        buys = [exact(line.buy).quantize(_GRAIN, ROUND_HALF_UP) for line in lines]
        buy = sum(buys, Decimal(0))
        try:
            packs = cheapest_packs(buy, item.packs)
        except TooManyPacks:
            raise _Unpriced(f"{key} comes in sizes too finely different to choose among") from None
        bought = sum((choice.count * choice.pack.quantity for choice in packs), Decimal(0))
        cost = Decimal(sum(choice.count * choice.pack.price_minor for choice in packs))
        if mode == "pro_rata" and packs:
            largest = max((choice.pack for choice in packs), key=lambda pack: pack.quantity)
            bought, cost = buy, buy * largest.price_minor / largest.quantity
    cost_minor = round_half_up(cost)
    parts = split(cost_minor, buys) if buy else [0] * len(lines)
    return PricedMaterial(
        key=key,
        name=item.name,
        kind=item.kind,
        unit=item.unit,
        net=sum(line.net for line in lines),
        buy=buy,
        bought=bought,
        packs=packs,
        cost_minor=cost_minor,
        shares=tuple(Share(line.section, line.stage, line.buy, part) for line, part in zip(lines, parts, strict=True)),
    )
