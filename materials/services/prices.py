"""Prices of packs. Each change is one transaction with its audit row."""

import datetime

from django.db import transaction

from materials.models import Item, Pack, Price
from materials.services.catalogue import SUBJECT, CatalogueError
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim
from studio.money import format_minor


@transaction.atomic
def add_price(*, by: User, pack: Pack, valid_from: datetime.date, amount_minor: int, currency: str) -> Price:
    """Add what a pack costs from a day on; earlier prices stay as they were."""
    Item.objects.select_for_update().get(pk=pack.item_id)
    _refuse_the_same_day(pack, valid_from, currency)
    price = Price.objects.create(pack=pack, valid_from=valid_from, amount_minor=amount_minor)
    after = {"pack": pack.label, "from": valid_from.isoformat(), "price": format_minor(amount_minor, currency)}
    record(actor=by, subject=SUBJECT, act=f"Price added: {pack.item.name}", after=after, has_money=True)
    return price


@transaction.atomic
def change_price(
    *, by: User, price: Price, version: int, valid_from: datetime.date, amount_minor: int, currency: str
) -> None:
    """Correct a price that was written down wrong; ``version`` is its item's."""
    item = price.pack.item
    claim(item, version)
    was = Price.objects.get(pk=price.pk)
    if valid_from != was.valid_from:
        _refuse_the_same_day(price.pack, valid_from, currency)
    price.valid_from, price.amount_minor = valid_from, amount_minor
    price.save(update_fields=["valid_from", "amount_minor"])
    about = f"{price.pack.label}, from"
    before = {about: was.valid_from.isoformat(), "price": format_minor(was.amount_minor, currency)}
    after = {about: valid_from.isoformat(), "price": format_minor(amount_minor, currency)}
    record(actor=by, subject=SUBJECT, act=f"Price corrected: {item.name}", before=before, after=after, has_money=True)


def _refuse_the_same_day(pack: Pack, day: datetime.date, currency: str) -> None:
    there = pack.prices.filter(valid_from=day).first()
    if there:
        amount = format_minor(there.amount_minor, currency)
        raise CatalogueError("valid_from", f"A price from {day} stands already, {amount}; correct that one instead.")
