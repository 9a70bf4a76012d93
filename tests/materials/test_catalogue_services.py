"""Items, packs and prices: each change whole, checked and recorded."""

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest

from materials.models import Item, Pack, Price
from materials.services.catalogue import (
    CatalogueError,
    FirstPrice,
    Particulars,
    add_item,
    add_pack,
    change_item,
    change_pack,
)
from materials.services.prices import add_price, change_price
from studio.accounts.models import AuditEntry, User
from studio.locking import Conflict
from tests.factories import make_item, make_person, make_price

pytestmark = pytest.mark.django_db
SLATE = Particulars("Slate powder", "filler", "kg", 2800.0, "Old Quay", 3, None)
DAY = datetime.date(2026, 2, 1)


@pytest.fixture
def tam() -> User:
    return make_person("office")


def last_entry() -> AuditEntry:
    entry = AuditEntry.objects.order_by("pk").last()
    assert entry is not None
    assert entry.subject == "price book"
    return entry


def test_an_item_is_added_and_recorded(tam: User) -> None:
    item = add_item(by=tam, key="slate", particulars=SLATE)
    assert Particulars.of(Item.objects.get(pk=item.pk)) == SLATE
    assert (last_entry().actor, last_entry().act, last_entry().after["key"]) == (
        tam,
        "Item added: Slate powder",
        "slate",
    )


def test_two_items_never_share_a_key(tam: User) -> None:
    make_item("slate", name="Blue slate")
    with pytest.raises(CatalogueError, match="Blue slate has this key already") as refusal:
        add_item(by=tam, key="slate", particulars=SLATE)
    assert refusal.value.field == "key"
    assert not AuditEntry.objects.filter(act__startswith="Item added").exists()


def test_a_changed_item_is_recorded_by_what_changed(tam: User) -> None:
    item = make_item()
    now = replace(Particulars.of(item), supplier="Old Quay", lead_days=9)
    change_item(by=tam, item=item, version=0, particulars=now)
    assert (last_entry().before, last_entry().after) == (
        {"supplier": "Brome and Daughters", "lead_days": 0},
        {"supplier": "Old Quay", "lead_days": 9},
    )
    assert Item.objects.get(pk=item.pk).version == 1


def test_the_second_of_two_changes_is_told_and_nothing_is_written(tam: User) -> None:
    item = make_item()
    change_item(by=tam, item=item, version=0, particulars=SLATE)
    with pytest.raises(Conflict):
        change_item(by=tam, item=item, version=0, particulars=replace(SLATE, name="Other"))
    assert Item.objects.get(pk=item.pk).name == "Slate powder"


def test_an_item_with_packs_keeps_its_unit(tam: User) -> None:
    item = make_item()
    make_price(item, 100)
    with pytest.raises(CatalogueError, match="counted in kg") as refusal:
        change_item(by=tam, item=item, version=0, particulars=replace(SLATE, unit="l"))
    assert refusal.value.field == "unit"
    assert Item.objects.get(pk=item.pk).version == 0


def test_an_item_of_several_packs_does_not_become_an_hour(tam: User) -> None:
    item = make_item(unit="h")
    for quantity in ("1", "8"):
        make_price(item, 100, quantity=quantity)
    with pytest.raises(CatalogueError, match="An hour has one pack"):
        change_item(by=tam, item=item, version=0, particulars=replace(SLATE, unit="h", kind="hour"))


def test_a_pack_begins_with_its_price_or_without(tam: User) -> None:
    item = make_item()
    first = FirstPrice(2100, DAY)
    add_pack(by=tam, item=item, label="5 kg tub", quantity=Decimal(5), first_price=first, currency="GBP")
    assert Price.objects.get(pack__item=item).amount_minor == 2100
    assert last_entry().has_money
    assert last_entry().after == {"pack": "5 kg tub", "holds": "5 kg", "price": "£21.00", "from": "2026-02-01"}
    add_pack(by=tam, item=item, label="1 kg bag", quantity=Decimal(1), first_price=None, currency="GBP")
    assert Price.objects.filter(pack__item=item).count() == 1
    assert not last_entry().has_money


def test_two_packs_of_an_item_never_hold_the_same(tam: User) -> None:
    item = make_item()
    make_price(item, 100)
    with pytest.raises(CatalogueError, match="“25 kg bag” holds as much already") as refusal:
        add_pack(by=tam, item=item, label="sack", quantity=Decimal("25.0000"), first_price=None, currency="GBP")
    assert refusal.value.field == "quantity"


def test_an_hour_has_one_pack(tam: User) -> None:
    hour = make_item("welding_hour", kind="hour", unit="h")
    add_pack(by=tam, item=hour, label="1 hour", quantity=Decimal(1), first_price=None, currency="GBP")
    with pytest.raises(CatalogueError, match="An hour has one pack"):
        add_pack(by=tam, item=hour, label="day", quantity=Decimal(8), first_price=None, currency="GBP")


def test_a_pack_is_corrected_and_recorded(tam: User) -> None:
    pack = make_price(make_item(), 100).pack
    change_pack(by=tam, pack=pack, version=0, label="20 kg bag", quantity=Decimal(20))
    again = Pack.objects.get(pk=pack.pk)
    assert (again.label, again.quantity) == ("20 kg bag", Decimal(20))
    assert (last_entry().before["holds"], last_entry().after["holds"]) == ("25 kg", "20 kg")
    with pytest.raises(Conflict):
        change_pack(by=tam, pack=pack, version=0, label="x", quantity=Decimal(20))


def test_a_pack_is_not_corrected_into_the_size_of_another(tam: User) -> None:
    item = make_item()
    pack = make_price(item, 100).pack
    make_price(item, 30, quantity="5", label="5 kg bag")
    with pytest.raises(CatalogueError, match="“5 kg bag” holds as much already"):
        change_pack(by=tam, pack=pack, version=0, label="bag", quantity=Decimal(5))


def test_a_new_price_leaves_the_earlier_ones(tam: User) -> None:
    pack = make_price(make_item(), 8450).pack
    add_price(by=tam, pack=pack, valid_from=DAY, amount_minor=9000, currency="GBP")
    assert sorted(pack.prices.values_list("amount_minor", flat=True)) == [8450, 9000]
    assert (last_entry().has_money, last_entry().after["price"]) == (True, "£90.00")


def test_a_day_has_one_price(tam: User) -> None:
    pack = make_price(make_item(), 8450, "2026-02-01").pack
    with pytest.raises(CatalogueError, match=r"A price from 2026-02-01 stands already, £84\.50") as refusal:
        add_price(by=tam, pack=pack, valid_from=DAY, amount_minor=9000, currency="GBP")
    assert refusal.value.field == "valid_from"


def test_a_price_is_corrected_and_recorded_with_before_and_after(tam: User) -> None:
    price = make_price(make_item(), 8450, "2026-02-01")
    change_price(by=tam, price=price, version=0, valid_from=DAY, amount_minor=8400, currency="GBP")
    assert (last_entry().before, last_entry().after) == ({"price": "£84.50"}, {"price": "£84.00"})
    assert last_entry().has_money
    with pytest.raises(Conflict):
        change_price(by=tam, price=price, version=0, valid_from=DAY, amount_minor=1, currency="GBP")
    assert Price.objects.get(pk=price.pk).amount_minor == 8400


def test_a_price_does_not_move_on_to_the_day_of_another(tam: User) -> None:
    item = make_item()
    price = make_price(item, 8450)
    make_price(item, 9000, "2026-02-01")
    with pytest.raises(CatalogueError, match="stands already"):
        change_price(by=tam, price=price, version=0, valid_from=DAY, amount_minor=8450, currency="GBP")
    assert Item.objects.get(pk=item.pk).version == 0
