"""What lies in Saltgate Yard's stores, and what went into Six Acorns. Invented."""

import datetime
import uuid
from collections.abc import Mapping
from decimal import Decimal
from typing import NamedTuple

from django.utils import timezone

from jobs.models import Commission, Stage
from jobs.queries.stores import needs_of
from jobs.services.issues import issue
from jobs.services.sent_out import Particulars, order
from materials.models import Item, Lot, Pack, Price
from materials.queries.stock import lots_held
from materials.services.stores import Delivery, expiry_of, receive
from studio.accounts.models import User

CURRENCY = "GBP"


class Came(NamedTuple):
    """A delivery: the item, how many of which pack, its batch, days before today, and what it cost against today's."""

    key: str
    pack: str
    packs: int
    batch: str
    days: int
    price: str = "1"


DELIVERIES = (
    Came("foam_block", "2400 × 1200 × 600 block", 2, "", 60),
    Came("laminating_resin", "25 kg drum", 3, "LR 2608-14", 170, "0.94"),
    Came("laminating_resin", "220 kg barrel", 1, "LR 2610-02", 50),
    Came("gel_coat", "25 kg drum", 2, "GC 0931", 58),
    Came("tooling_gel_coat", "5 kg tin", 2, "TG 1177", 58),
    Came("catalyst", "5 kg can", 1, "MK 55210", 58),
    Came("glass_csm_450", "32 kg roll", 3, "M450-883", 62),
    Came("glass_csm_300", "30 kg roll", 2, "M300-412", 62),
    Came("glass_csm_225", "30 kg roll", 1, "M225-207", 62),
    Came("acetone", "25 l drum", 1, "", 60),
    Came("wax", "1 kg tin", 3, "", 60),
    Came("release_film", "5 l can", 1, "PV 318", 60),
    Came("fairing_filler", "3.5 kg tin", 3, "FF 7702", 152),
    Came("filler_primer", "5 l tin", 1, "HB 2240", 40),
    Came("steel", "kg, cut to length", 60, "", 48, "1.08"),
)
SUPPLIERS = {
    "Hollin and Reeve Composites": ("resin", "catalyst", "glass", "release", "consumable"),
    "Eastmere Foam": ("foam",),
    "Tarrant Paint Stores": ("coating", "filler"),
    "Quay Street Steel": ("metal", "fixing"),
    "Marl and Daughter, timber": ("timber",),
}
# What has begun has had this share of its take-off; the cups' casts have had more than they should.
SHARE = {
    ("Nut", "pattern"): "1.04",
    ("Cup", "pattern"): "1",
    ("Nut", "mould"): "1.02",
    ("Cup", "mould"): "1.1",
    ("Nut", "cast"): "1.08",
    ("Nut", "metalwork"): "1",
    ("Nut", "finish"): "0.6",
    ("Cup", "cast"): "0.35",
}


def fill_stores(acorns: Commission, people: Mapping[str, User], on: datetime.date) -> None:
    """Deliveries, what was issued to each stage that has begun, and the steel that went to be galvanised."""
    for supplier, kinds in SUPPLIERS.items():
        Item.objects.filter(kind__in=kinds).update(supplier=supplier)
    for came in DELIVERIES:
        _receive(came, people["tam"], on)
    begun = [need for need in needs_of([acorns]) if need.stage and need.stage.section]
    for found in begun:
        stage = found.stage
        share = SHARE.get((stage.section.name, stage.key)) if stage and stage.section else None
        if stage and share:
            _issue(stage, found.need.key, found.need.needed * Decimal(share), people["senka"], on)
    _send_out(acorns, people["tam"], on)


def _receive(came: Came, by: User, on: datetime.date) -> None:
    pack = Pack.objects.select_related("item").get(item__key=came.key, label=came.pack)
    price = Price.objects.on(on).get(pack=pack)
    day = on - datetime.timedelta(days=came.days)
    delivery = Delivery(
        quantity=pack.quantity * came.packs,
        cost_minor=int(price.amount_minor * came.packs * Decimal(came.price)),
        currency=CURRENCY,
        batch=came.batch,
        supplier=pack.item.supplier,
        received=day,
        expires=expiry_of(pack.item, day),
    )
    receive(by=by, item=pack.item, delivery=delivery, key=uuid.uuid4(), at=_moment(day))


def _issue(stage: Stage, key: str, wanted: Decimal, by: User, on: datetime.date) -> None:
    """From the lots that expire first, as far as they reach."""
    begun = stage.begun_at or _moment(on)
    # Gel coat is weighed out a cast at a time; the rest is taken for the day.
    casts = range(1, stage.casts + 1) if key == "gel_coat" and stage.casts > 1 else [None]
    for cast in casts:
        _take(stage, key, wanted / len(casts), by, begun, cast)


def _take(stage: Stage, key: str, wanted: Decimal, by: User, begun: datetime.datetime, cast: int | None) -> None:
    rest = round(wanted, 1) or wanted
    for row in lots_held(Lot.objects.filter(item__key=key, received__lte=begun)):
        taken = min(rest, row.quantity)
        if taken > 0:
            issue(by=by, stage=stage, lot=row.lot, quantity=taken, key=uuid.uuid4(), cast=cast, at=begun)
            rest -= taken


def _send_out(acorns: Commission, by: User, on: datetime.date) -> None:
    stage = acorns.stages.filter(section__name="Nut", key="metalwork").first()
    particulars = Particulars(
        what="Galvanising of twelve fixing plates",
        firm="Fenwharf Galvanisers",
        stage=stage,
        ordered_on=on - datetime.timedelta(days=33),
        due_back=on - datetime.timedelta(days=24),
        out_on=on - datetime.timedelta(days=31),
        back_on=on - datetime.timedelta(days=23),
        agreed_minor=7_400,
        charged_minor=8_150,
    )
    order(by=by, commission=acorns, particulars=particulars, currency=CURRENCY)


def _moment(day: datetime.date) -> datetime.datetime:
    return timezone.make_aware(datetime.datetime.combine(day, datetime.time(8, 20)))
