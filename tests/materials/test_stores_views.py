"""The stores' pages: what everybody sees, what the office alone sees, and what they refuse."""

import datetime
import uuid
from decimal import Decimal

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from materials.models import Lot, Movement
from tests.factories import make_item, make_lot, make_price, signed_in

pytestmark = pytest.mark.django_db
COSTS = ("£", "Average", "average", "Cost before tax", "Value")


def page_of(client: Client, name: str, *args: object, status: int = 200, **asked: str) -> str:
    answer = client.get(reverse(name, args=args), asked)
    assert answer.status_code == status
    return answer.content.decode()


def test_the_office_sees_stock_with_its_value() -> None:
    item = make_item()
    make_lot(item, "25", 10_900, expires=datetime.date(2026, 6, 1))
    make_lot(item, "15", 8_140)
    client = signed_in("owner")
    page = page_of(client, "stock")
    for text in ("Marble flour", "40 kg", "£4.76 / kg", "£190.40", "1 Jun 2026"):
        assert text in page, text
    page = page_of(client, "item_stock", item.pk)
    for text in ("£190.40", "£109.00", "£4.36 / kg", "value held × quantity ÷ quantity held"):
        assert text in page, text


def test_what_was_never_received_is_worth_nothing_and_can_be_received() -> None:
    page = page_of(signed_in("owner"), "item_stock", make_item().pk)
    for text in ("None of it is in stock", "£0.00", "none held", "Receive a delivery"):
        assert text in page, text


@pytest.mark.parametrize("name", ["stock", "item_stock", "lot"])
def test_the_bench_sees_quantities_and_never_a_cost(name: str) -> None:
    lot = make_lot(make_item(), "25", 10_900)
    args = {"stock": (), "item_stock": (lot.item_id,), "lot": (lot.pk,)}[name]
    page = page_of(signed_in("bench"), name, *args)
    assert "25 kg" in page
    assert [word for word in COSTS if word in page] == []


def test_expired_lots_and_those_that_soon_will_are_listed() -> None:
    today = timezone.localdate()
    item = make_item()
    for days, batch in ((-1, "GONE"), (10, "SOON"), (90, "LATER")):
        received = today - datetime.timedelta(days=100)
        make_lot(item, batch=batch, received=received, expires=today + datetime.timedelta(days=days))
    page = page_of(signed_in("bench"), "stock")
    assert "GONE" in page
    assert "SOON" in page
    assert "LATER" not in page
    assert "expired " in page


def test_a_search_finds_by_batch_and_says_when_there_is_nothing() -> None:
    make_lot(make_item(), batch="R 4411")
    make_lot(make_item("chalk", name="Chalk"), batch="C 1")
    client = signed_in("bench")
    page = page_of(client, "stock", q="4411")
    assert "Marble flour" in page
    assert "Chalk" not in page
    assert "Nothing in stock holds “zinc”" in page_of(client, "stock", q="zinc")


def receive(client: Client, item_pk: int, **values: str) -> tuple[int, str]:
    sent = {"key": str(uuid.uuid4()), "received": "2026-03-02", "cost": "109.00", "quantity": "25 kg"}
    answer = client.post(reverse("receive_lot", args=[item_pk]), {**sent, **values})
    return answer.status_code, answer.content.decode()


def test_a_delivery_in_packs_takes_the_shelf_life_by_itself() -> None:
    item = make_item(shelf_life_days=180)
    pack = make_price(item, 10_900).pack
    client = signed_in("office")
    status, _ = receive(client, item.pk, pack=str(pack.pk), packs_count="2", quantity="", batch="R 4411")
    assert status == 302
    lot = Lot.objects.get()
    assert (lot.batch, lot.expires, lot.supplier) == ("R 4411", datetime.date(2026, 8, 29), "Brome and Daughters")
    assert lot.movements.get().quantity == 50


def test_a_delivery_sent_twice_is_one() -> None:
    item, key, client = make_item(), str(uuid.uuid4()), signed_in("office")
    assert [receive(client, item.pk, key=key)[0] for _ in range(2)] == [302, 302]
    assert Lot.objects.count() == 1
    status, page = receive(client, item.pk, key=key, quantity="26 kg")
    assert status == 422
    assert "sent before with other figures" in page


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"quantity": ""}, "Enter how many packs came, or the quantity."),
        ({"quantity": "3 m"}, "The quantity"),
        ({"cost": ""}, "Enter what the delivery cost before tax, such as 218.00."),
        ({"cost": "much"}, "is not an amount in GBP"),
        ({"received": "2199-01-01"}, "has not been yet"),
        ({"received": "soon"}, "write year, month and day"),
        ({"expires": "2026-03-01"}, "It expires before the day it came"),
        ({"packs_count": "2"}, "Enter either packs or a quantity"),
        ({"packs_count": "1.5", "quantity": ""}, "is not a whole number"),
        ({"pack": "0", "packs_count": "2", "quantity": ""}, "Choose a pack from the list."),
        ({"key": "x"}, "This page lost its place"),
    ],
)
def test_a_delivery_that_cannot_be_is_refused_and_kept_as_typed(values: dict[str, str], told: str) -> None:
    item = make_item()
    make_price(item, 10_900)
    status, page = receive(signed_in("office"), item.pk, batch="R <4411>", **values)
    assert status == 422
    assert told in page
    assert "R &lt;4411&gt;" in page
    assert "<title>Error: " in page
    assert not Lot.objects.exists()


def count(client: Client, lot: Lot, counted: str, expected: str = "25") -> tuple[int, str]:
    sent = {"key": str(uuid.uuid4()), "counted": counted, "expected": expected}
    answer = client.post(reverse("count_lot", args=[lot.pk]), sent, follow=True)
    return answer.status_code, answer.content.decode()


def test_a_count_sets_the_balance_and_says_when_it_agrees() -> None:
    lot, client = make_lot(make_item()), signed_in("owner")
    assert "The count agrees; nothing was moved." in count(client, lot, "25 kg")[1]
    assert "The count is booked." in count(client, lot, "0")[1]
    assert lot.movements.first().quantity == -25


def test_a_count_of_a_lot_that_was_moved_meanwhile_can_be_sent_again() -> None:
    lot, client = make_lot(make_item()), signed_in("owner")
    status, page = count(client, lot, "24", expected="30")
    assert status == 422
    assert "was moved while you counted" in page
    assert 'name="expected" value="25.0000"' in page or 'name="expected" value="25"' in page
    assert lot.movements.count() == 1


def test_a_write_off_says_why_and_takes_no_more_than_there_is() -> None:
    lot, client = make_lot(make_item()), signed_in("owner")
    address = reverse("write_off", args=[lot.pk])
    key = str(uuid.uuid4())
    answer = client.post(address, {"key": key, "quantity": "30", "note": ""})
    assert answer.status_code == 422
    assert "Say why it cannot be used" in answer.content.decode()
    answer = client.post(address, {"key": key, "quantity": "30", "note": "gelled"})
    assert "This lot holds 25 kg and 30 kg were asked for." in answer.content.decode()
    assert client.post(address, {"key": key, "quantity": "5", "note": "gelled"}).status_code == 302
    assert Movement.objects.first().quantity == Decimal(-5)


@pytest.mark.parametrize("name", ["receive_lot", "count_lot", "write_off"])
def test_the_bench_may_not_take_in_count_or_write_off(name: str) -> None:
    lot = make_lot(make_item())
    client = signed_in("bench")
    address = reverse(name, args=[lot.item_id if name == "receive_lot" else lot.pk])
    assert client.get(address).status_code == 403
    assert client.post(address).status_code == 403


@pytest.mark.parametrize("name", ["stock", "item_stock", "lot", "receive_lot", "count_lot", "write_off"])
def test_a_stranger_signs_in_first(name: str) -> None:
    args = [] if name == "stock" else [1]
    answer = Client().get(reverse(name, args=args))
    assert (answer.status_code, answer.headers["Location"].split("?")[0]) == (302, reverse("sign_in"))


@pytest.mark.parametrize("name", ["item_stock", "lot", "receive_lot", "count_lot", "write_off"])
def test_what_is_not_there_is_not_found(name: str) -> None:
    assert signed_in("owner").get(reverse(name, args=[10**9])).status_code == 404


def test_a_service_cannot_be_received() -> None:
    item = make_item("zinc_spraying", name="Zinc spraying", kind="service")
    assert signed_in("owner").get(reverse("receive_lot", args=[item.pk])).status_code == 404


@pytest.mark.parametrize("name", ["stock", "item_stock"])
def test_more_lots_cost_no_more_queries(name: str) -> None:
    client = signed_in("owner")
    item = make_item()

    def queries() -> int:
        with CaptureQueriesContext(
            connection,
        ) as asked:
            page_of(client, name, *([item.pk] if name == "item_stock" else []))
        return len(asked)

    make_lot(item)
    first = queries()
    for number in range(12):
        make_lot(make_item(f"item_{number}"))
        make_lot(item)
    assert queries() == first
