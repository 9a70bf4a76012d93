"""Taking a file's lines into the price book: all of them or none, and exactly what was shown.

What was shown travels in the page itself, as a signed and compressed copy of
the lines that would change something, with a fingerprint of what the page said
of them. So nothing waits on the server to be swept up, it works whichever
process answers, and nobody can alter it on the way. Before anything is written
the lines are planned anew against the price book of that moment; if that says
anything else, nothing is written and the new plan is shown.
"""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.core import signing
from django.db import IntegrityError, transaction
from django.db.models import F

from materials.models import Item, Pack, Price
from materials.services.catalogue import SUBJECT
from materials.services.price_book_files.planning import Book, KnownItem, Plan, particulars, plan_import
from materials.services.price_book_files.rows import COLUMNS
from studio.accounts.models import User
from studio.audit import record
from studio.money import format_minor

_SALT = "price book file"
VALID_SECONDS = 60 * 60
LONGEST_TOKEN = 1_500_000
BATCH = 500


class CannotBeCarried(ValueError):
    """The changes do not fit into a page, or what came back is not what was sent."""


class Outdated(Exception):
    """The price book has changed since the plan was shown; ``plan`` is what the lines would do now."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        super().__init__()


@dataclass(frozen=True, slots=True)
class Carried:
    """What a page brings back: the lines that change something, and the fingerprint of what was shown."""

    file_name: str
    lines: Sequence[tuple[int, Mapping[str, str]]]
    digest: str


def sign_plan(plan: Plan, file_name: str, by: User) -> str:
    """The plan's changes as text for a hidden field, for this person alone."""
    lines = [
        [outcome.line, *(outcome.cells[column] for column in COLUMNS)]
        for outcome in plan.outcomes
        if outcome.state != "same"
    ]
    token = signing.dumps([by.pk, file_name, plan.digest, lines], salt=_SALT, compress=True)
    if len(token) > LONGEST_TOKEN:
        raise CannotBeCarried("The file changes too much to be shown at once; part it into several and send each.")
    return token


def read_signed(token: str, by: User) -> Carried:
    """What ``sign_plan`` was given; refuses what is older than an hour, altered, or somebody else's."""
    try:
        owner, file_name, digest, lines = signing.loads(token, salt=_SALT, max_age=VALID_SECONDS)
    except signing.BadSignature:
        owner = None
    if owner != by.pk:
        raise CannotBeCarried(
            "This check was altered, is older than an hour, or was made for somebody else; send the file again."
        )
    return Carried(file_name, [(line, dict(zip(COLUMNS, cells, strict=True))) for line, *cells in lines], digest)


@dataclass(frozen=True, slots=True)
class Applied:
    """How much was written."""

    items: int
    packs: int
    prices: int
    changed: int


def apply_import(*, by: User, carried: Carried, currency: str) -> Applied:
    """Take the lines into the price book. Raises ``Outdated`` when they would do anything but what was shown."""
    try:
        with transaction.atomic():
            # Held until the end, so that no price comes in between the plan and the writing.
            list(Item.objects.select_for_update().order_by("pk").values_list("pk"))
            plan = plan_import(carried.lines, currency)
            if plan.refused or plan.digest != carried.digest:
                raise Outdated(plan)
            return _write(by, plan, carried.file_name, currency)
    except IntegrityError:
        # Somebody added the same item in between, on a database that lets two write at once.
        raise Outdated(plan_import(carried.lines, currency)) from None


def _write(by: User, plan: Plan, file_name: str, currency: str) -> Applied:
    touched = {key: known for key, known in plan.after.items() if known is not plan.before.get(key)}
    items = _write_items(touched, plan.before)
    packs = _write_packs(touched)
    prices = _write_prices(touched, plan.before)
    before: dict[str, str] = {}
    after = {"file": file_name}
    for key, known in touched.items():
        if key in plan.before:
            before |= _told(key, plan.before[key], currency)
        after |= _told(key, known, currency)
    record(actor=by, subject=SUBJECT, act="Price book file taken in", before=before, after=after, has_money=True)
    return Applied(items, packs, prices, len(plan.changed))


def _write_items(touched: Book, before: Book) -> int:
    """New items, and new particulars; every item touched moves on a version, so that open forms notice."""
    pks = dict(Item.objects.values_list("key", "pk"))
    known_before = [key for key in touched if key in before]
    for start in range(0, len(known_before), BATCH):
        batch = [pks[key] for key in known_before[start : start + BATCH]]
        Item.objects.filter(pk__in=batch).update(version=F("version") + 1)
    for key in known_before:
        was, now = particulars(before[key]), particulars(touched[key])
        altered = {column: value for column, value in now.items() if value != was[column]}
        if altered:
            Item.objects.filter(pk=pks[key]).update(**altered)
    fresh = [Item(key=key, **particulars(known)) for key, known in touched.items() if key not in before]
    Item.objects.bulk_create(fresh, BATCH)
    return len(fresh)


def _write_packs(touched: Book) -> int:
    pks = dict(Item.objects.values_list("key", "pk"))
    rows = {(pack.item_id, pack.quantity.normalize()): pack for pack in Pack.objects.all()}
    fresh, altered = [], []
    for key, known in touched.items():
        for quantity, pack in known.packs.items():
            row = rows.get((pks[key], quantity))
            if row is None:
                fresh.append(Pack(item_id=pks[key], quantity=quantity, label=pack.label))
            elif row.label != pack.label:
                row.label = pack.label
                altered.append(row)
    Pack.objects.bulk_update(altered, ["label"], BATCH)
    Pack.objects.bulk_create(fresh, BATCH)
    return len(fresh)


def _write_prices(touched: Book, before: Book) -> int:
    pks = {
        (key, quantity.normalize()): pk for key, quantity, pk in Pack.objects.values_list("item__key", "quantity", "pk")
    }
    fresh, altered = [], []
    for key, known in touched.items():
        for quantity, pack in known.packs.items():
            there = _prices_before(before, key, quantity)
            for day, minor in pack.prices.items():
                price = Price(pack_id=pks[key, quantity], valid_from=day, amount_minor=minor)
                if day not in there:
                    fresh.append(price)
                elif there[day] != minor:
                    altered.append(price)
    for price in altered:
        Price.objects.filter(pack_id=price.pack_id, valid_from=price.valid_from).update(amount_minor=price.amount_minor)
    Price.objects.bulk_create(fresh, BATCH)
    return len(fresh)


def _prices_before(before: Book, key: str, quantity: Decimal) -> Mapping[datetime.date, int]:
    pack = before[key].packs.get(quantity) if key in before else None
    return pack.prices if pack else {}


def _told(key: str, known: KnownItem, currency: str) -> dict[str, str]:
    """Everything known of an item, a line each, for the record of changes."""
    told = {f"{key}, {column}": str(value) for column, value in particulars(known).items() if value not in (None, "")}
    for quantity, pack in known.packs.items():
        told[f"{key}, pack of {quantity:f}"] = pack.label
        for day, minor in pack.prices.items():
            told[f"{key}, pack of {quantity:f}, from {day}"] = format_minor(minor, currency)
    return told
