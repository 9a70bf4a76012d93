"""Entering items, packs and prices in the browser."""

import datetime

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from materials.models import Item, Pack, Price
from tests.factories import make_item, make_price, signed_in

pytestmark = pytest.mark.django_db
ITEM = {
    "name": "Slate powder",
    "key": "slate",
    "kind": "filler",
    "unit": "kg",
    "density_kg_m3": "2.8 g/cm3",
    "supplier": "Old Quay",
    "lead_days": "3",
    "shelf_life_days": "",
}
TORTURE = [
    "\0",
    "x" * 5000,
    "\u202eabc",
    "</script><b>",
    "🌊" * 200,
    "a\nb",
    "\ud800".encode("utf-8", "replace").decode(),
]


@pytest.fixture
def client() -> Client:
    return signed_in("office")


@pytest.fixture
def price() -> Price:
    return make_price(make_item(), 8450)


def test_an_item_is_added_and_shown(client: Client) -> None:
    answer = client.post(reverse("new_item"), ITEM)
    item = Item.objects.get(key="slate")
    assert answer["Location"] == reverse("item", args=[item.pk])
    assert (item.density_kg_m3, item.lead_days, item.shelf_life_days) == (2800.0, 3, None)
    assert "Slate powder is in the catalogue." in client.get(answer["Location"]).content.decode()


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"name": ""}, "Enter what people call it."),
        ({"name": "x" * 121}, "121 characters; 120 are allowed"),
        ({"key": "Slate!"}, "is not a key"),
        ({"key": "gel_coat"}, "has this key already; choose another"),
        ({"kind": "rock"}, "Choose a kind from the list."),
        ({"unit": "stone"}, "Choose a unit from the list."),
        ({"density_kg_m3": "2800"}, "has no unit"),
        ({"density_kg_m3": "0.5 kg/m3"}, "is not credible"),
        ({"lead_days": ""}, "Enter the days from order to delivery"),
        ({"lead_days": "three"}, "“three” is not a number of days"),
        ({"shelf_life_days": "1e2"}, "“1e2” is not a number of days"),
    ],
)
def test_an_item_that_cannot_be_is_sent_back_with_what_was_typed(
    client: Client, values: dict[str, str], told: str
) -> None:
    typed = {**ITEM, "supplier": "Typed & kept", **values}
    answer = client.post(reverse("new_item"), typed)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert told in page
    assert "<title>Error: " in page
    assert "Typed &amp; kept" in page
    assert not Item.objects.filter(key="slate").exists()


@pytest.mark.parametrize("odd", TORTURE)
@pytest.mark.parametrize("name", ["new_item", "new_pack", "new_price"])
def test_odd_text_in_any_field_never_breaks_a_page(client: Client, price: Price, name: str, odd: str) -> None:
    pks = {"new_item": [], "new_pack": [price.pack.item_id], "new_price": [price.pack_id]}
    names = [*ITEM, "label", "quantity", "price", "valid_from", "amount"]
    answer = client.post(reverse(name, args=pks[name]), dict.fromkeys(names, odd))
    assert answer.status_code == 422
    assert "</script><b>" not in answer.content.decode()


def test_an_item_is_changed(client: Client, price: Price) -> None:
    item = price.pack.item
    address = reverse("edit_item", args=[item.pk])
    page = client.get(address)
    assert page.context["form"].initial["name"] == "Marble flour"
    answer = client.post(address, {**ITEM, "version": "0"})
    assert answer.status_code == 302
    item.refresh_from_db()
    assert (item.name, item.key, item.version) == ("Slate powder", "marble_flour", 1)


def test_saving_an_item_as_it_was_opened_changes_nothing(client: Client) -> None:
    item = make_item(density_kg_m3=2700.125, shelf_life_days=90)
    address = reverse("edit_item", args=[item.pk])
    initial = {
        name: value if value is not None else "" for name, value in client.get(address).context["form"].initial.items()
    }
    assert client.post(address, initial).status_code == 302
    again = Item.objects.get(pk=item.pk)
    assert (again.density_kg_m3, again.shelf_life_days, again.name) == (2700.125, 90, "Marble flour")


def test_the_unit_of_an_item_with_packs_is_kept(client: Client, price: Price) -> None:
    answer = client.post(reverse("edit_item", args=[price.pack.item_id]), {**ITEM, "unit": "l", "version": "0"})
    assert answer.status_code == 422
    assert "The packs are counted in kg" in answer.content.decode()


def test_the_second_to_save_an_item_sees_what_is_there_and_keeps_what_was_typed(client: Client, price: Price) -> None:
    address = reverse("edit_item", args=[price.pack.item_id])
    client.post(address, {**ITEM, "name": "Hers", "version": "0"})
    answer = client.post(address, {**ITEM, "name": "Mine", "version": "0"})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody saved this before you" in page
    assert 'value="Mine"' in page
    assert "<dd>Hers</dd>" in page
    assert 'name="version" value="1"' in page
    assert client.post(address, {**ITEM, "name": "Mine", "version": "1"}).status_code == 302


def test_a_wrong_field_does_not_let_a_stale_form_overwrite(client: Client, price: Price) -> None:
    address = reverse("edit_item", args=[price.pack.item_id])
    client.post(address, {**ITEM, "name": "Hers", "version": "0"})
    page = client.post(address, {**ITEM, "name": "", "version": "0"}).content.decode()
    assert 'name="version" value="0"' in page


@pytest.mark.parametrize(
    ("unit", "typed", "holds"),
    [
        ("kg", "25 kg", "25"),
        ("kg", "55 lb", "24.9476"),
        ("l", "5 l", "5"),
        ("l", "1 US gal", "3.7854"),
        ("ml", "1 l", "1000"),
        ("m3", "0.25 m3", "0.25"),
        ("m2", "60 sq m", "60"),
        ("m", "50 m", "50"),
        ("h", "1 h", "1"),
        ("each", "100", "100"),
        ("each", "100 each", "100"),
    ],
)
def test_a_pack_is_typed_with_its_unit_and_kept_in_the_items(client: Client, unit: str, typed: str, holds: str) -> None:
    item = make_item(unit=unit)
    entered = {"label": "pack", "quantity": typed, "price": "", "valid_from": "2026-02-01"}
    assert client.post(reverse("new_pack", args=[item.pk]), entered).status_code == 302
    assert f"{Pack.objects.get(item=item).quantity.normalize():f}" == holds
    assert not Price.objects.filter(pack__item=item).exists()


def test_a_pack_comes_with_its_price_from_today(client: Client) -> None:
    item = make_item()
    address = reverse("new_pack", args=[item.pk])
    today = timezone.localdate()
    assert f'value="{today}"' in client.get(address).content.decode()
    client.post(address, {"label": "bag", "quantity": "25 kg", "price": "£1,084.50", "valid_from": str(today)})
    assert list(Price.objects.filter(pack__item=item).values_list("amount_minor", "valid_from")) == [(108450, today)]


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"label": ""}, "Enter what the supplier calls the pack"),
        ({"quantity": ""}, "Enter what the pack holds, such as 25 kg."),
        ({"quantity": "25"}, "has no unit"),
        ({"quantity": "25 l"}, "is not a mass"),
        ({"quantity": "0 kg"}, "must be more than nothing"),
        ({"quantity": "25.0 kg"}, "holds as much already"),
        ({"price": "abc"}, "is not an amount in GBP"),
        ({"valid_from": ""}, "Enter a day such as 2026-01-31."),
        ({"valid_from": "1 Feb"}, "is not a day"),
    ],
)
def test_a_pack_that_cannot_be_is_sent_back(client: Client, price: Price, values: dict[str, str], told: str) -> None:
    entered = {"label": "Kept bag", "quantity": "5 kg", "price": "21.00", "valid_from": "2026-02-01", **values}
    answer = client.post(reverse("new_pack", args=[price.pack.item_id]), entered)
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert 'value="21.00"' in answer.content.decode() or "price" in values
    assert Pack.objects.filter(item=price.pack.item).count() == 1


def test_a_pack_is_corrected(client: Client, price: Price) -> None:
    address = reverse("edit_pack", args=[price.pack_id])
    assert 'value="25 kg"' in client.get(address).content.decode()
    assert client.post(address, {"label": "20 kg bag", "quantity": "20 kg", "version": "0"}).status_code == 302
    price.pack.refresh_from_db()
    assert price.pack.label == "20 kg bag"
    stale = client.post(address, {"label": "mine", "quantity": "21 kg", "version": "0"})
    assert stale.status_code == 409
    assert 'value="mine"' in stale.content.decode()
    assert "20 kg bag" in stale.content.decode()


def test_a_price_is_added(client: Client, price: Price) -> None:
    address = reverse("new_price", args=[price.pack_id])
    assert client.post(address, {"amount": "90", "valid_from": "2026-02-01"}).status_code == 302
    assert price.pack.prices.get(valid_from=datetime.date(2026, 2, 1)).amount_minor == 9000
    again = client.post(address, {"amount": "91", "valid_from": "2026-02-01"})
    assert again.status_code == 422
    assert "stands already, £90.00" in again.content.decode()
    assert 'value="91"' in again.content.decode()


@pytest.mark.parametrize("amount", ["", "abc", "-1", "1e5", "NaN", "84.555", "٣"])
def test_a_price_that_cannot_be_is_sent_back_as_typed(client: Client, price: Price, amount: str) -> None:
    answer = client.post(reverse("new_price", args=[price.pack_id]), {"amount": amount, "valid_from": "2026-02-01"})
    assert answer.status_code == 422
    assert f'value="{amount}"' in answer.content.decode() or not amount
    assert price.pack.prices.count() == 1


def test_a_price_is_corrected(client: Client, price: Price) -> None:
    address = reverse("edit_price", args=[price.pk])
    assert 'value="84.50"' in client.get(address).content.decode()
    typed = {"amount": "80.00", "valid_from": "2026-01-06", "version": "0"}
    assert client.post(address, typed).status_code == 302
    price.refresh_from_db()
    assert (price.amount_minor, price.valid_from) == (8000, datetime.date(2026, 1, 6))
    stale = client.post(address, {**typed, "amount": "79.00"})
    assert stale.status_code == 409
    assert "£80.00" in stale.content.decode()
    assert 'value="79.00"' in stale.content.decode()


ADDRESSES = ["item", "edit_item", "new_pack", "edit_pack", "new_price", "edit_price"]


@pytest.mark.parametrize("name", [*ADDRESSES, "new_item"])
def test_strangers_sign_in_first_and_the_bench_is_refused(name: str, price: Price) -> None:
    pk = {"item": price.pack.item_id, "edit_item": price.pack.item_id, "new_pack": price.pack.item_id}
    pk |= {"edit_pack": price.pack_id, "new_price": price.pack_id, "edit_price": price.pk}
    address = reverse(name, args=[pk[name]] if name in pk else [])
    assert reverse("sign_in") in Client().get(address)["Location"]
    bench = signed_in("bench")
    assert bench.get(address).status_code == bench.post(address, ITEM).status_code == 403
    assert signed_in("owner").get(address).status_code == 200


@pytest.mark.parametrize("pk", [0, 2**31, 2**63])
@pytest.mark.parametrize("name", ADDRESSES)
def test_what_is_not_there_is_not_found(client: Client, name: str, pk: int) -> None:
    assert client.get(reverse(name, args=[pk])).status_code == 404
