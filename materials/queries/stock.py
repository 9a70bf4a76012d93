"""Reads of the stores: what there is, lot by lot, and what became of it."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from django.db.models import QuerySet, Sum

from materials.models import Item, Lot, Movement
from materials.queries.prices import KIND_ORDER
from materials.stock.amounts import DIGITS
from materials.stock.averaging import NOTHING, Held, running
from studio.money import round_half_up, working

SOON = datetime.timedelta(days=30)
"""How long before its last day a lot is called to mind."""


@dataclass(frozen=True, slots=True)
class LotRow:
    """A lot with what it holds now."""

    lot: Lot
    quantity: Decimal

    def expired(self, today: datetime.date) -> bool:
        """Whether its last day has passed."""
        return self.lot.expires is not None and self.lot.expires < today


@dataclass(frozen=True, slots=True)
class StockRow:
    """An item that is held, with its lots, the first to expire first."""

    item: Item
    lots: tuple[LotRow, ...]
    held: Held

    @property
    def first_expiry(self) -> datetime.date | None:
        """The nearest last day among its lots."""
        return min((row.lot.expires for row in self.lots if row.lot.expires), default=None)

    @property
    def currency(self) -> str:
        """The currency of its value."""
        return self.lots[0].lot.currency

    @property
    def average(self) -> "Average":
        """Its moving average for reading."""
        return average_of(self.held, self.item.unit)


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """A movement with what was held of the item after it."""

    movement: Movement
    after: Held
    average: "Average"

    @property
    def value_minor(self) -> int:
        """What moved, without its sign: the quantity says the way."""
        return abs(self.movement.value_minor)


@dataclass(frozen=True, slots=True)
class Average:
    """A moving average rounded for reading; values are worked from the sums themselves."""

    minor: int | None
    unit: str


def average_of(held: Held, unit: str) -> Average:
    """The average of what is held; of what is counted in millilitres, per litre, as in the price book."""
    per = 1000 if unit == "ml" else 1
    with working():
        minor = None if held.average_minor is None else round_half_up(held.average_minor * per)
    return Average(minor, "l" if unit == "ml" else unit)


def lots_held(lots: "QuerySet[Lot]") -> list[LotRow]:
    """Those of these lots that hold something, the first to expire first and what never expires last."""
    found = lots.select_related("item").annotate(balance=Sum("movements__quantity")).filter(balance__gt=0)
    rows = [LotRow(lot, round(lot.balance, DIGITS)) for lot in found]
    return sorted(
        (row for row in rows if row.quantity),
        key=lambda row: (row.lot.expires or datetime.date.max, row.lot.received, row.lot.pk),
    )


def stock() -> list[StockRow]:
    """Everything held, by kind and name, in two queries."""
    by_item = sorted(lots_held(Lot.objects.all()), key=lambda row: _order(row.lot.item))
    values = _values()
    return [
        StockRow(
            item := next(iter(lots)).lot.item,
            lots,
            Held(sum((row.quantity for row in lots), Decimal(0)), values.get(item.pk, 0)),
        )
        for _, group in groupby(by_item, key=lambda row: row.lot.item_id)
        if (lots := tuple(group))
    ]


def _order(item: Item) -> tuple[int, str, int]:
    return KIND_ORDER.get(item.kind, len(KIND_ORDER)), item.name.casefold(), item.pk


def _values() -> dict[int, int]:
    rows = Movement.objects.order_by().values_list("lot__item").annotate(Sum("value_minor"))
    return dict(rows)


def matching(rows: Sequence[StockRow], text: str) -> list[StockRow]:
    """The rows whose item or batch holds every word."""
    words = text.casefold().split()

    def said(row: StockRow) -> str:
        batches = " ".join(each.lot.batch for each in row.lots)
        return f"{row.item.name} {row.item.key} {row.item.supplier} {batches}".casefold()

    return [row for row in rows if all(word in said(row) for word in words)]


def expiring(today: datetime.date, *, within: datetime.timedelta = SOON) -> list[LotRow]:
    """Lots that hold something and have expired, or will soon."""
    return lots_held(Lot.objects.filter(expires__lte=today + within))


def ledger(item: Item) -> list[LedgerRow]:
    """Every movement of an item with the working of its average, newest first, in one query."""
    movements = list(Movement.objects.filter(lot__item=item).select_related("lot", "by").order_by("pk"))
    after = running((movement.quantity, movement.value_minor) for movement in movements)
    rows = zip(movements, after, strict=True)
    return [LedgerRow(movement, held, average_of(held, item.unit)) for movement, held in rows][::-1]


def held_now(rows: Sequence[LedgerRow]) -> Held:
    """What the newest movement left."""
    return rows[0].after if rows else NOTHING


def batches_matching(text: str) -> "QuerySet[Lot]":
    """Lots whose batch number holds the text, newest first; a batch is letters and figures, which fold alike."""
    return Lot.objects.filter(batch__icontains=text).select_related("item").order_by("-received", "-pk")
