"""What to buy, arranged for reading: by supplier, on the page and in a file."""

import csv
import datetime
import io
from dataclasses import dataclass
from itertools import groupby

from jobs.figures.buying import OnHand, Purchase, Supply, purchases
from jobs.models import Commission
from jobs.queries.stores import names_of_items, needs_of
from materials.models import Lot
from materials.queries.prices import price_book_on
from materials.queries.stock import lots_held
from studio.money import to_decimal
from studio.spreadsheets import BYTE_ORDER_MARK, guarded

COLUMNS = (
    *("supplier", "item", "key", "needed", "in stock", "missing", "unit", "packs", "cost before tax", "currency"),
    *("order by", "for", "look out"),
)


@dataclass(frozen=True, slots=True)
class FromSupplier:
    """What one supplier is to be asked for."""

    supplier: str
    purchases: tuple[Purchase, ...]

    @property
    def short(self) -> tuple[Purchase, ...]:
        """What is missing, and what there is something to say about."""
        return tuple(each for each in self.purchases if each.short or each.cautions)

    @property
    def enough(self) -> tuple[Purchase, ...]:
        """What the stock covers."""
        return tuple(each for each in self.purchases if not each.short and not each.cautions)

    @property
    def cost_minor(self) -> int:
        """What all of it costs that has a price, minor units."""
        return sum(each.cost_minor or 0 for each in self.purchases)


def to_buy(on: datetime.date, currency: str) -> list[FromSupplier]:
    """Every item that accepted commissions need still, by supplier."""
    book = price_book_on(on, currency).items
    supplies = {
        key: Supply(key, item.name, item.unit, item.supplier, item.lead_days, item.shelf_life_days, book[key].packs)
        for key, item in names_of_items().items()
        if key in book
    }
    stock = [
        OnHand(row.lot.item.key, row.lot.batch, row.quantity, row.lot.expires) for row in lots_held(Lot.objects.all())
    ]
    needs = [found.need for found in needs_of(list(Commission.objects.in_hand()))]
    found = purchases(needs, stock, supplies, on)
    return [
        FromSupplier(supplier, tuple(group))
        for supplier, group in groupby(found, key=lambda each: each.supply.supplier)
    ]


def packs_text(purchase: Purchase) -> str:
    """The packs as an order says them: "2 × 25 kg drum, 1 × 5 kg tin"."""
    return ", ".join(f"{choice.count} × {choice.pack.label}" for choice in purchase.packs)


def buying_file(groups: list[FromSupplier], currency: str) -> str:
    """The list as CSV: UTF-8 with a byte order mark, amounts as bare numbers."""
    target = io.StringIO(newline="")
    target.write(BYTE_ORDER_MARK)
    writer = csv.writer(target)
    writer.writerow(COLUMNS)
    for group in groups:
        for each in group.purchases:
            cost = "" if each.cost_minor is None else f"{to_decimal(each.cost_minor, currency):f}"
            texts = [group.supplier, each.supply.name, each.supply.key]
            numbers = [f"{number.normalize():f}" for number in (each.left, each.on_hand, each.short)]
            wanted = sorted({need.commission for need in each.needs})
            writer.writerow(
                [
                    *map(guarded, texts),
                    *numbers,
                    each.supply.unit,
                    guarded(packs_text(each)),
                    cost,
                    currency,
                    each.order_by.isoformat() if each.order_by else "",
                    guarded(", ".join(wanted)),
                    guarded(" ".join(each.cautions)),
                ]
            )
    return target.getvalue()
