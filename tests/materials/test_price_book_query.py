"""The price book of a day, as an estimate takes it."""

import datetime
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from materials.models import Item
from materials.packs import Pack
from materials.queries.prices import history_of, items_matching, price_book_on, prices_on, unpriced_on
from tests.factories import make_item, make_price

pytestmark = pytest.mark.django_db
DAY = datetime.date(2026, 6, 1)


def test_the_price_of_a_day_is_the_newest_that_has_begun() -> None:
    item = make_item()
    make_price(item, 1000, "2026-01-05")
    make_price(item, 1100, "2026-06-01")
    make_price(item, 1200, "2026-06-02")
    assert price_book_on(DAY, "GBP").items[item.key].packs == (Pack("25 kg bag", Decimal(25), 1100),)
    assert price_book_on(datetime.date(2026, 5, 31), "GBP").items[item.key].packs[0].price_minor == 1000


def test_before_the_first_price_an_item_is_there_without_packs() -> None:
    item = make_item()
    make_price(item, 1000, "2026-06-02")
    book = price_book_on(DAY, "GBP")
    assert book.items[item.key].packs == ()
    assert (book.currency, book.on) == ("GBP", DAY)


def test_packs_without_a_price_are_left_out_and_the_others_stand_by_size() -> None:
    item = make_item()
    make_price(item, 9000, quantity="225", label="barrel")
    make_price(item, 1000)
    item.packs.create(label="sample", quantity=Decimal(1))
    assert [pack.label for pack in price_book_on(DAY, "GBP").items[item.key].packs] == ["25 kg bag", "barrel"]


def test_an_hour_of_the_book_is_its_price() -> None:
    hour = Item.objects.get(key="bench_hour")
    make_price(hour, 1650, quantity="1", label="1 hour")
    assert price_book_on(DAY, "GBP").hour("bench_hour") == Decimal(1650)


def test_the_number_of_queries_does_not_grow_with_the_catalogue() -> None:
    counts = []
    for round_of_items in range(2):
        for number in range(1 + 20 * round_of_items):
            item = make_item(f"item_{round_of_items}_{number}")
            for quantity in ("5", "25"):
                make_price(item, 100, quantity=quantity)
        found = items_matching("marble")
        with CaptureQueriesContext(
            connection,
        ) as queries:
            price_book_on(DAY, "GBP")
            prices_on(DAY, items_matching(""))
            unpriced_on(DAY, found)
            history_of(item, DAY)
        counts.append(len(queries))
    assert counts[0] == counts[1] == 9


def test_items_stand_by_kind_then_name() -> None:
    Item.objects.all().delete()
    make_item("b", name="beeswax", kind="release")
    make_item("c", name="Alder batten", kind="timber")
    make_item("a", name="Carnauba", kind="release")
    assert [row.item.key for row in prices_on(DAY, items_matching(""))] == ["b", "a", "c"]


def test_every_word_has_to_be_found_in_name_key_or_supplier_whatever_its_case() -> None:
    item = make_item(name="ÉCLAT topcoat", supplier="Brome and Daughters")
    for wanted in ("éclat", "BROME eclat".replace("eclat", "éclat"), "marble_fl"):
        assert items_matching(wanted) == [item.pk], wanted
    assert items_matching("éclat nothing") == []


def test_a_price_per_unit_is_rounded_half_up_and_millilitres_are_shown_by_the_litre() -> None:
    bolts = make_item("bolts", unit="each")
    make_price(bolts, 333, quantity="2", label="pair")
    drops = make_item("drops", unit="ml")
    make_price(drops, 1490, quantity="1000", label="1 l bottle")
    per = {row.item.key: row.packs[0] for row in prices_on(DAY, [bolts.pk, drops.pk])}
    assert (per["bolts"].unit_minor, per["bolts"].counted_in) == (167, "each")
    assert (per["drops"].unit_minor, per["drops"].counted_in) == (1490, "l")


def test_what_has_no_price_on_a_day_is_counted() -> None:
    priced, later, never = make_item("a"), make_item("b"), make_item("c")
    make_price(priced, 100)
    make_price(later, 100, "2026-06-02")
    assert unpriced_on(DAY, [priced.pk, later.pk, never.pk]) == 2


def test_the_history_of_a_pack_is_newest_first_and_knows_which_price_holds() -> None:
    item = make_item()
    for amount, day in ((1000, "2026-01-05"), (1200, "2027-01-01"), (1100, "2026-05-01")):
        make_price(item, amount, day)
    [history] = history_of(item, DAY)
    assert [priced.price.amount_minor for priced in history.prices if priced.price] == [1200, 1100, 1000]
    assert history.holds is not None
    assert history.holds.amount_minor == 1100
