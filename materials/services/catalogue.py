"""Items and their packs. Each change is one transaction with its audit row."""

import datetime
from dataclasses import asdict, dataclass
from decimal import Decimal

from django.db import transaction

from materials.models import Item, ItemKind, Pack, Price
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim
from studio.money import format_minor

SUBJECT = "price book"


class CatalogueError(ValueError):
    """A change that the catalogue refuses; ``field`` is what has to be altered."""

    def __init__(self, field: str, message: str) -> None:
        self.field = field
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class Particulars:
    """What is known of an item besides its key."""

    name: str
    kind: str
    unit: str
    density_kg_m3: float | None
    supplier: str
    lead_days: int
    shelf_life_days: int | None

    @classmethod
    def of(cls, item: Item) -> "Particulars":
        """The particulars of a row."""
        return cls(
            item.name,
            item.kind,
            item.unit,
            item.density_kg_m3,
            item.supplier,
            item.lead_days,
            item.shelf_life_days,
        )


@dataclass(frozen=True, slots=True)
class FirstPrice:
    """The price that a new pack begins with."""

    amount_minor: int
    valid_from: datetime.date


def refuse_another_unit(*, was: str, now: str, has_packs: bool) -> None:
    """An item with packs keeps its unit: its prices would change their meaning without changing a figure."""
    if has_packs and was != now:
        raise CatalogueError("unit", f"The packs are counted in {was}; make a new item to count in {now}.")


def refuse_another_hour(*, kind: str, packs: int) -> None:
    """An hour has one pack; with two, its price would be a matter of choice."""
    if kind == ItemKind.HOUR and packs > 1:
        raise CatalogueError("quantity", "An hour has one pack, so that it has one price; change the one there is.")


@transaction.atomic
def add_item(*, by: User, key: str, particulars: Particulars) -> Item:
    """Add an item to the catalogue."""
    item, made = Item.objects.get_or_create(key=key, defaults=asdict(particulars))
    if not made:
        raise CatalogueError("key", f"{item.name} has this key already; choose another.")
    record(actor=by, subject=SUBJECT, act=f"Item added: {item.name}", after={"key": key, **asdict(particulars)})
    return item


@transaction.atomic
def change_item(*, by: User, item: Item, version: int, particulars: Particulars) -> None:
    """Change what is known of an item. Its key stays: take-offs ask for it."""
    claim(item, version)
    before = Particulars.of(Item.objects.get(pk=item.pk))
    packs = item.packs.count()
    refuse_another_unit(was=before.unit, now=particulars.unit, has_packs=packs > 0)
    if packs > 1 and particulars.kind == ItemKind.HOUR:
        raise CatalogueError("kind", "An hour has one pack, and this item has more; leave its kind as it is.")
    for name, value in asdict(particulars).items():
        setattr(item, name, value)
    item.save(update_fields=list(asdict(particulars)))
    act = f"Item changed: {item.name}"
    record(actor=by, subject=SUBJECT, act=act, before=asdict(before), after=asdict(particulars))


@transaction.atomic
def add_pack(
    *, by: User, item: Item, label: str, quantity: Decimal, first_price: FirstPrice | None, currency: str
) -> Pack:
    """Add a size in which an item is sold, and its price if that is known."""
    Item.objects.select_for_update().get(pk=item.pk)
    _refuse_the_same_size(item, quantity)
    refuse_another_hour(kind=item.kind, packs=item.packs.count() + 1)
    pack = Pack.objects.create(item=item, label=label, quantity=quantity)
    after = {"pack": label, "holds": f"{quantity.normalize():f} {item.unit}"}
    if first_price:
        Price.objects.create(pack=pack, valid_from=first_price.valid_from, amount_minor=first_price.amount_minor)
        after["price"] = format_minor(first_price.amount_minor, currency)
        after["from"] = first_price.valid_from.isoformat()
    record(actor=by, subject=SUBJECT, act=f"Pack added: {item.name}", after=after, has_money=first_price is not None)
    return pack


@transaction.atomic
def change_pack(*, by: User, pack: Pack, version: int, label: str, quantity: Decimal) -> None:
    """Correct what a pack is called or holds; ``version`` is its item's."""
    claim(pack.item, version)
    was = Pack.objects.get(pk=pack.pk)
    if quantity != was.quantity:
        _refuse_the_same_size(pack.item, quantity)
    pack.label, pack.quantity = label, quantity
    pack.save(update_fields=["label", "quantity"])
    before = {"pack": was.label, "holds": f"{was.quantity.normalize():f} {pack.item.unit}"}
    after = {"pack": label, "holds": f"{quantity.normalize():f} {pack.item.unit}"}
    record(actor=by, subject=SUBJECT, act=f"Pack changed: {pack.item.name}", before=before, after=after)


def _refuse_the_same_size(item: Item, quantity: Decimal) -> None:
    there = item.packs.filter(quantity=quantity).first()
    if there:
        raise CatalogueError("quantity", f"The pack “{there.label}” holds as much already; add a price to it instead.")
