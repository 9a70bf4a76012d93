"""Reads of the price book: the prices of a day, for the estimate and for the page."""

import datetime
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Prefetch

from materials import packs as priced
from materials.models import Item, ItemKind, Pack, Price
from materials.pricing import ItemPrice, PriceBook
from studio.money import round_half_up, working

KIND_ORDER = {kind: position for position, kind in enumerate(ItemKind.values)}


def price_book_on(day: datetime.date, currency: str) -> PriceBook:
    """The whole price book of a day in two queries; what has no price yet is there without packs.

    Raises no error for a missing price: the pricing of a take-off names it.
    """
    found: dict[int, list[priced.Pack]] = {}
    rows = Price.objects.on(day).order_by("pack__quantity")
    for item, label, quantity, minor in rows.values_list(
        "pack__item_id", "pack__label", "pack__quantity", "amount_minor"
    ):
        found.setdefault(item, []).append(priced.Pack(label, quantity, minor))
    items = {
        key: ItemPrice(key, name, kind, unit, tuple(found.get(pk, ())))
        for pk, key, name, kind, unit in Item.objects.values_list("pk", "key", "name", "kind", "unit")
    }
    return PriceBook(currency, day, items)


@dataclass(frozen=True, slots=True)
class PackPrice:
    """A pack with what it costs on a day, if that is known."""

    pack: Pack
    unit: str
    price: Price | None

    @property
    def counted_in(self) -> str:
        """The unit that a price per unit is given for: millilitres cost too little to be told apart."""
        return "l" if self.unit == "ml" else self.unit

    @property
    def unit_minor(self) -> int | None:
        """Minor units for one unit, rounded for reading; an estimate divides exactly."""
        if self.price is None:
            return None
        with working():
            each = Decimal(self.price.amount_minor) / self.pack.quantity
        return round_half_up(each * (1000 if self.unit == "ml" else 1))


@dataclass(frozen=True, slots=True)
class ItemPrices:
    """An item with its packs' prices of a day."""

    item: Item
    packs: tuple[PackPrice, ...]


def items_matching(text: str) -> list[int]:
    """Keys of the rows whose name, key or supplier hold every word, by kind and name.

    Matched here, because the databases fold case unlike each other.
    """
    words = text.casefold().split()
    rows = sorted(
        Item.objects.values_list("kind", "name", "pk", "key", "supplier"),
        key=lambda row: (KIND_ORDER.get(row[0], len(KIND_ORDER)), row[1].casefold(), row[2]),
    )
    return [
        pk
        for _, name, pk, key, supplier in rows
        if all(word in f"{name} {key} {supplier}".casefold() for word in words)
    ]


def prices_on(day: datetime.date, items: Sequence[int]) -> list[ItemPrices]:
    """These items in this order with their packs and the day's prices, in three queries."""
    prices = Prefetch("prices", Price.objects.on(day), to_attr="of_the_day")
    rows = Item.objects.filter(pk__in=items).prefetch_related(Prefetch("packs", Pack.objects.prefetch_related(prices)))
    found = {
        item.pk: ItemPrices(item, tuple(_pack_price(pack, item.unit) for pack in item.packs.all())) for item in rows
    }
    return [found[pk] for pk in items if pk in found]


def _pack_price(pack: Pack, unit: str) -> PackPrice:
    of_the_day: list[Price] = pack.of_the_day  # type: ignore[attr-defined]
    return PackPrice(pack, unit, of_the_day[0] if of_the_day else None)


def unpriced_on(day: datetime.date, items: Collection[int]) -> int:
    """How many of these items have no price on a day."""
    with_price = set(Price.objects.on(day).values_list("pack__item_id", flat=True))
    return len(set(items) - with_price)


@dataclass(frozen=True, slots=True)
class PackHistory:
    """A pack with all its prices, newest first, and the one that holds on a day."""

    pack: Pack
    prices: tuple[PackPrice, ...]
    holds: Price | None


def history_of(item: Item, day: datetime.date) -> list[PackHistory]:
    """Every price of every pack of an item, in two queries."""
    found = []
    for pack in item.packs.prefetch_related("prices"):
        prices = sorted(pack.prices.all(), key=lambda price: price.valid_from, reverse=True)
        holds = next((price for price in prices if price.valid_from <= day), None)
        found.append(PackHistory(pack, tuple(PackPrice(pack, item.unit, price) for price in prices), holds))
    return found
