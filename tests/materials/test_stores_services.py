"""Movements: booked once, valued by the average, never below nothing, never altered."""

import datetime
import uuid
from decimal import Decimal

import pytest
from django.db import IntegrityError, connection, transaction

from materials.models import Lot, Movement, MovementKind
from materials.queries.stock import expiring, held_now, ledger, lots_held, stock
from materials.services.stores import Delivery, balance_of, count, receive, take_out
from materials.stock.averaging import Held
from materials.stock.errors import StoresError
from studio.accounts.models import AuditEntry, User
from studio.once import KeyUsed
from tests.factories import make_item, make_lot, make_person

pytestmark = pytest.mark.django_db
DAY = datetime.date(2026, 3, 2)


@pytest.fixture
def office() -> User:
    return make_person("office")


def delivery(**values: object) -> Delivery:
    given: dict[str, object] = {"quantity": Decimal(25), "cost_minor": 10_900, "currency": "GBP", "batch": "R 4411"}
    days = {"supplier": "Brome and Daughters", "received": DAY, "expires": None}
    return Delivery(**{**given, **days, **values})


def take(by: User, lot: Lot, quantity: str, **values: object) -> Movement:
    given: dict[str, object] = {"note": "", "key": uuid.uuid4()}
    return take_out(by=by, lot=lot, quantity=Decimal(quantity), **{**given, **values})


def test_a_delivery_is_a_lot_and_its_first_movement(office: User) -> None:
    moved = receive(by=office, item=make_item(), delivery=delivery(), key=uuid.uuid4())
    assert (moved.kind, moved.quantity, moved.value_minor) == (MovementKind.RECEIVED, 25, 10_900)
    assert (moved.lot.batch, moved.lot.cost_minor, balance_of(moved.lot)) == ("R 4411", 10_900, 25)


def test_sent_twice_a_delivery_comes_once(office: User) -> None:
    item, key = make_item(), uuid.uuid4()
    first = receive(by=office, item=item, delivery=delivery(), key=key)
    assert receive(by=office, item=item, delivery=delivery(), key=key) == first
    assert Lot.objects.count() == Movement.objects.count() == 1


def test_the_same_key_with_other_content_is_refused(office: User) -> None:
    item, key = make_item(), uuid.uuid4()
    receive(by=office, item=item, delivery=delivery(), key=key)
    with pytest.raises(KeyUsed, match="other figures"):
        receive(by=office, item=item, delivery=delivery(quantity=Decimal(26)), key=key)
    with pytest.raises(KeyUsed), transaction.atomic():
        receive(by=office, item=make_item("other_flour"), delivery=delivery(), key=key)
    assert Lot.objects.count() == 1


def test_what_goes_out_takes_its_share_of_all_lots(office: User) -> None:
    item = make_item()
    first = make_lot(item, "25", 10_900)
    take(office, first, "10")
    second = make_lot(item, "25", 12_500)
    moved = take(office, second, "12.5")
    assert moved.value_minor == -5_950, "12.5 kg at the average of £4.76, not at the £5.00 of its own lot"
    rows = ledger(item)
    assert [row.after for row in rows] == [
        Held(Decimal("27.5"), 13_090),
        Held(Decimal(40), 19_040),
        Held(Decimal(15), 6_540),
        Held(Decimal(25), 10_900),
    ]
    assert rows[0].average.minor == 476


def test_a_lot_is_never_taken_below_nothing_though_another_holds_more(office: User) -> None:
    item = make_item()
    small = make_lot(item, "3", 900)
    make_lot(item, "25", 10_000)
    with pytest.raises(StoresError, match="holds 3 kg and 4 kg were asked for") as refused:
        take(office, small, "4")
    assert refused.value.field == "quantity"
    assert balance_of(small) == 3


def test_sent_twice_an_issue_goes_once_even_when_the_lot_is_empty_after_it(office: User) -> None:
    lot, key = make_lot(make_item(), "3"), uuid.uuid4()
    first = take(office, lot, "3", key=key)
    assert take(office, lot, "3", key=key) == first
    assert balance_of(lot) == 0
    with pytest.raises(StoresError, match="This lot is empty"):
        take(office, lot, "1")


def test_tenths_add_up_exactly_on_either_database(office: User) -> None:
    lot = make_lot(make_item(), "1")
    for _ in range(10):
        take(office, lot, "0.1")
    assert balance_of(lot) == 0
    assert stock() == []


def test_a_count_sets_the_balance(office: User) -> None:
    item = make_item()
    lot = make_lot(item, "20", 10_000)
    less = count(by=office, lot=lot, counted=Decimal(19), expected=Decimal(20), note="", key=uuid.uuid4())
    assert less is not None
    assert (less.kind, less.quantity, less.value_minor) == (MovementKind.COUNTED, -1, -500)
    more = count(by=office, lot=lot, counted=Decimal(21), expected=Decimal(19), note="behind it", key=uuid.uuid4())
    assert more is not None
    assert (more.quantity, more.value_minor) == (2, 1_000)
    assert held_now(ledger(item)) == Held(Decimal(21), 10_500)


def test_a_count_that_agrees_moves_nothing_and_is_on_record(office: User) -> None:
    lot = make_lot(make_item(), "20")
    agreed = count(by=office, lot=lot, counted=Decimal(20), expected=Decimal(20), note="", key=uuid.uuid4())
    assert agreed is None
    assert lot.movements.count() == 1
    assert AuditEntry.objects.about("stores").get().act == "Count agreed: Marble flour"


def test_a_count_of_a_lot_that_was_moved_meanwhile_is_refused(office: User) -> None:
    lot = make_lot(make_item(), "20")
    take(office, lot, "5")
    with pytest.raises(StoresError, match="should hold 15 kg now"):
        count(by=office, lot=lot, counted=Decimal(20), expected=Decimal(20), note="", key=uuid.uuid4())


def test_a_lot_that_expires_before_it_came_is_refused(office: User) -> None:
    with pytest.raises(StoresError, match="expires before the day it came"):
        receive(by=office, item=make_item(), delivery=delivery(expires=datetime.date(2026, 3, 1)), key=uuid.uuid4())


def test_two_currencies_are_not_averaged(office: User) -> None:
    item = make_item()
    lot = make_lot(item, "5")
    with pytest.raises(StoresError, match="valued in GBP"):
        receive(by=office, item=item, delivery=delivery(currency="EUR"), key=uuid.uuid4())
    take(office, lot, "5")
    assert receive(by=office, item=item, delivery=delivery(currency="EUR"), key=uuid.uuid4()).lot.currency == "EUR"


def test_hours_and_services_do_not_lie_in_the_stores(office: User) -> None:
    with pytest.raises(StoresError, match="not a thing that lies in the stores"):
        receive(by=office, item=make_item(kind="service"), delivery=delivery(), key=uuid.uuid4())


@pytest.mark.parametrize("act", ["UPDATE materials_movement SET quantity = 1", "DELETE FROM materials_movement"])
def test_the_database_refuses_to_alter_a_movement(office: User, act: str) -> None:
    make_lot(make_item())
    with pytest.raises(IntegrityError, match="never altered"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(act)


def test_the_lot_that_expires_first_stands_first_and_what_never_does_last(office: User) -> None:
    item = make_item()
    never = make_lot(item, batch="N")
    late = make_lot(item, batch="L", expires=datetime.date(2026, 9, 1))
    soon = make_lot(item, batch="S", expires=datetime.date(2026, 5, 1))
    assert [row.lot for row in lots_held(Lot.objects.all())] == [soon, late, never]
    assert [row.lot for row in expiring(datetime.date(2026, 4, 20))] == [soon]
    assert [row.lot for row in expiring(datetime.date(2026, 3, 20))] == []
