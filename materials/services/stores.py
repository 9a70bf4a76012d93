"""Movements of the stores. Each is one row, booked once however often it is sent, and never takes a lot below nothing.

What is held is summed again under a lock: of the item's row on PostgreSQL, of
the whole database on SQLite, whose transactions begin as writers.
"""

import datetime
from dataclasses import dataclass
from decimal import Decimal
from uuid import UUID

from django.db import IntegrityError, transaction
from django.db.models import QuerySet, Sum
from django.utils import timezone

from materials.models import Item, ItemKind, Lot, Movement, MovementKind
from materials.stock.amounts import DIGITS
from materials.stock.averaging import NOTHING, Held, found_more, value_of
from materials.stock.errors import StoresError
from studio.accounts.models import User
from studio.audit import record
from studio.once import KeyUsed, fingerprint

SUBJECT = "stores"
NOT_KEPT = (ItemKind.HOUR, ItemKind.SERVICE)


@dataclass(frozen=True, slots=True)
class Delivery:
    """A lot as it came."""

    quantity: Decimal
    cost_minor: int
    currency: str
    batch: str
    supplier: str
    received: datetime.date
    expires: datetime.date | None


def expiry_of(item: Item, received: datetime.date) -> datetime.date | None:
    """The last day of a lot by its item's shelf life."""
    return None if item.shelf_life_days is None else received + datetime.timedelta(days=item.shelf_life_days)


def balance_of(lot: Lot) -> Decimal:
    """What a lot holds now."""
    return _sum(Movement.objects.filter(lot=lot)).quantity


def booked(key: UUID, content: str) -> Movement | None:
    """The movement sent before under this key; refuses when that had other content."""
    before = Movement.objects.select_related("lot__item").filter(key=key).first()
    if before and before.fingerprint != content:
        raise KeyUsed
    return before


def content_of(kind: MovementKind, lot: Lot, quantity: Decimal, note: str) -> str:
    """The digest of a movement of a lot, as it is kept beside its key."""
    return fingerprint({"kind": kind, "lot": lot.pk, "quantity": f"{quantity.normalize():f}", "note": note})


@transaction.atomic
def receive(*, by: User, item: Item, delivery: Delivery, key: UUID, at: datetime.datetime | None = None) -> Movement:
    """Take a delivery in as a lot of its own."""
    facts = {name: getattr(delivery, name) for name in ("cost_minor", "batch", "supplier", "received", "expires")}
    content = fingerprint({"item": item.pk, "quantity": f"{delivery.quantity.normalize():f}", **facts})
    held = hold(item)
    before = booked(key, content)
    if before:
        return before
    if item.kind in NOT_KEPT:
        raise StoresError("quantity", f"{item.name} is not a thing that lies in the stores.")
    if delivery.expires and delivery.expires < delivery.received:
        raise StoresError("expires", "It expires before the day it came; correct one of the two days.")
    _refuse_mixed_currencies(item, held, delivery.currency)
    lot = Lot.objects.create(item=item, currency=delivery.currency, **facts)
    return _write(by, lot, MovementKind.RECEIVED, delivery.quantity, delivery.cost_minor, "", key, content, at)


@transaction.atomic
def take_out(
    *,
    by: User,
    lot: Lot,
    quantity: Decimal,
    note: str,
    key: UUID,
    kind: MovementKind = MovementKind.ISSUED,
    at: datetime.datetime | None = None,
) -> Movement:
    """Issue from a lot, write off, or send with work that goes out: at the moving average of the moment."""
    content = content_of(kind, lot, quantity, note)
    held = hold(lot.item)
    before = booked(key, content)
    if before:
        return before
    there = balance_of(lot)
    if quantity > there:
        raise StoresError("quantity", _too_much(lot, quantity, there))
    return _write(by, lot, kind, -quantity, -value_of(quantity, held), note, key, content, at)


@transaction.atomic
def put_back(*, by: User, lot: Lot, quantity: Decimal, value_minor: int, note: str, key: UUID) -> Movement:
    """Take back what was issued, at the value at which it went out; whoever calls has checked that it was issued."""
    content = content_of(MovementKind.RETURNED, lot, quantity, note)
    hold(lot.item)
    before = booked(key, content)
    return before or _write(by, lot, MovementKind.RETURNED, quantity, value_minor, note, key, content)


@transaction.atomic
def count(*, by: User, lot: Lot, counted: Decimal, expected: Decimal, note: str, key: UUID) -> Movement | None:
    """Set what a lot holds to what was counted; None where that is what the ledger says.

    ``expected`` is what the ledger said when the count was made: what was moved
    since is in neither figure.
    """
    content = fingerprint({"kind": "counted", "lot": lot.pk, "counted": f"{counted.normalize():f}", "note": note})
    held = hold(lot.item)
    before = booked(key, content)
    if before:
        return before
    there = balance_of(lot)
    if there != expected:
        now = f"{there.normalize():f} {lot.item.unit}"
        raise StoresError("counted", f"This lot was moved while you counted; it should hold {now} now. Count again.")
    if counted == there:
        after = {"lot": str(lot), "counted": f"{counted.normalize():f} {lot.item.unit}"}
        record(actor=by, subject=SUBJECT, act=f"Count agreed: {lot.item.name}", after=after)
        return None
    change = counted - there
    value = found_more(change, held, _as_received(lot)) if change > 0 else -value_of(-change, held)
    return _write(by, lot, MovementKind.COUNTED, change, value, note, key, content)


def hold(item: Item) -> Held:
    """Lock an item's stock until the transaction ends, and sum what is held of it."""
    Item.objects.select_for_update().get(pk=item.pk)
    return _sum(Movement.objects.filter(lot__item=item))


def _sum(movements: QuerySet[Movement]) -> Held:
    total = movements.aggregate(quantity=Sum("quantity"), value=Sum("value_minor"))
    # SQLite adds decimals as floats; rounding to the column's digits gives the exact sum back.
    return NOTHING if total["quantity"] is None else Held(round(total["quantity"], DIGITS), total["value"])


def _as_received(lot: Lot) -> Held:
    return _sum(Movement.objects.filter(lot=lot, kind=MovementKind.RECEIVED))


def _refuse_mixed_currencies(item: Item, held: Held, currency: str) -> None:
    """An average over two currencies is worth nothing."""
    other = Lot.objects.filter(item=item).exclude(currency=currency).first() if held.quantity else None
    if other:
        raise StoresError(
            "cost",
            f"What is held of {item.name} is valued in {other.currency}. Write it off before {currency} comes in.",
        )


def _too_much(lot: Lot, quantity: Decimal, there: Decimal) -> str:
    unit = lot.item.unit
    if not there:
        return "This lot is empty; choose another."
    return (
        f"This lot holds {there.normalize():f} {unit} and {quantity.normalize():f} {unit} were asked for. "
        "Take what is there, and the rest from another lot."
    )


def _write(
    by: User,
    lot: Lot,
    kind: MovementKind,
    quantity: Decimal,
    value_minor: int,
    note: str,
    key: UUID,
    content: str,
    at: datetime.datetime | None = None,
) -> Movement:
    try:
        with transaction.atomic():
            return Movement.objects.create(
                lot=lot,
                kind=kind,
                quantity=quantity,
                value_minor=value_minor,
                note=note,
                key=key,
                fingerprint=content,
                at=at or timezone.now(),
                by=by,
            )
    except IntegrityError:
        # Under one key two items can be sent at once; each held its own lock.
        before = booked(key, content)
        if before is None:
            raise
        return before
