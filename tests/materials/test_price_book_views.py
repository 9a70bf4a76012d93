"""The price book and an item as people see them."""

import datetime
import io

import openpyxl
import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from materials.models import Item
from tests.factories import make_item, make_price, signed_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def client() -> Client:
    return signed_in("office")


def page_of(client: Client, **asked: str) -> str:
    answer = client.get(reverse("price_book"), asked)
    assert answer.status_code == 200
    return answer.content.decode()


def test_it_shows_packs_with_todays_prices_by_kind(client: Client) -> None:
    make_price(make_item(name="Marble flour", lead_days=9, shelf_life_days=90), 8450)
    page = page_of(client, q="marble flour")
    assert "Filler</th>" in page
    for text in ("25 kg bag", "£84.50", "£3.38 / kg", "Brome and Daughters", "9 days", "90 days"):
        assert text in page, text


def test_what_has_no_price_yet_says_so(client: Client) -> None:
    make_item(name="Marble flour")
    page = page_of(client, q="marble flour")
    assert "no pack yet" in page
    assert "no price yet" in page
    assert "1 of 1 item has no price on" in page


def test_the_prices_of_another_day_are_shown_when_asked_for(client: Client) -> None:
    item = make_item()
    make_price(item, 8450, "2026-01-05")
    make_price(item, 9900, "2031-01-01")
    assert "£84.50" in page_of(client, q="marble", on="2026-02-01")
    assert "£99.00" in page_of(client, q="marble", on="2031-01-01")
    assert "no price yet" in page_of(client, q="marble", on="2026-01-04")


@pytest.mark.parametrize("day", ["soon", "2026-02-30", "31/01/2026", "0000-00-00", "\0"])
def test_a_day_that_cannot_be_read_is_said_and_kept(client: Client, day: str) -> None:
    make_price(make_item(), 8450)
    answer = client.get(reverse("price_book"), {"on": day, "q": "marble"})
    assert answer.status_code == 422
    assert "<title>Error: " in answer.content.decode()
    assert "£84.50" in answer.content.decode()


def test_a_search_without_an_answer_says_what_to_try(client: Client) -> None:
    assert "No item holds “&lt;nothing&gt;”." in page_of(client, q="<nothing>")


def test_an_empty_catalogue_says_what_to_do(client: Client) -> None:
    Item.objects.all().delete()
    assert "The catalogue is empty." in page_of(client)


def test_a_long_catalogue_is_parted_into_pages_that_keep_what_was_asked(client: Client) -> None:
    for number in range(101):
        make_item(f"item_{number}", name=f"Thing {number:03d}")
    first = page_of(client, q="thing", on="2026-01-31")
    assert "Thing 099" in first
    assert "Thing 100" not in first
    assert "?page=2&amp;q=thing&amp;on=2026-01-31" in first
    assert "Thing 100" in page_of(client, q="thing", page="2")
    assert "Thing 100" in page_of(client, q="thing", page="99")


def test_htmx_is_given_the_rows_alone(client: Client) -> None:
    answer = client.get(reverse("price_book"), {"q": "marble"}, headers={"HX-Request": "true"})
    assert "<html" not in answer.content.decode()
    assert "HX-Request" in answer["Vary"]


def test_the_number_of_queries_stays_the_same(client: Client) -> None:
    item = make_item()
    make_price(item, 100)
    counts = {"book": [], "item": []}
    for size in (1, 60):
        for number in range(size):
            other = make_item(f"more_{size}_{number}")
            make_price(other, 100)
            make_price(item, 100, str(datetime.date(2020 + size, 1, 1) + datetime.timedelta(number)), str(number + 30))
        for name, address in (("book", reverse("price_book")), ("item", reverse("item", args=[item.pk]))):
            with CaptureQueriesContext(connection) as queries:
                assert client.get(address).status_code == 200
            counts[name].append(len(queries))
    for name, (few, many) in counts.items():
        assert few == many <= 12, (name, few, many)


def test_an_item_shows_every_price_with_its_day_and_which_one_holds(client: Client) -> None:
    item = make_item(density_kg_m3=2700.0)
    today = timezone.localdate()
    make_price(item, 8000, "2020-01-05")
    make_price(item, 8450, "2021-01-05")
    make_price(item, 9000, str(today + datetime.timedelta(1)))
    page = client.get(reverse("item", args=[item.pk])).content.decode()
    rows = page.split("<tbody>")[1].split("</tr>")
    for row, amount, state in zip(
        rows, ("£90.00", "£84.50", "£80.00"), ("not yet", "holds today", "past"), strict=False
    ):
        assert amount in row
        assert state in row
    assert "2 700" in page.replace("\u202f", " ")


def test_an_item_without_packs_says_what_to_do(client: Client) -> None:
    assert "no pack and no price yet" in client.get(reverse("item", args=[make_item().pk])).content.decode()


def test_the_downloads_are_files_with_the_day_in_their_name(client: Client) -> None:
    make_price(make_item(name="=1+1"), 8450)
    text = client.get(reverse("price_book_csv"))
    book = client.get(reverse("price_book_xlsx"))
    for answer, ending in ((text, "csv"), (book, "xlsx")):
        assert answer["Content-Disposition"] == f'attachment; filename="price-book-{timezone.localdate()}.{ending}"'
        assert answer["Cache-Control"] == "no-store"
    assert (
        "\r\nmarble_flour,'=1+1,filler,kg,,Brome and Daughters,0,,25 kg bag,25,2026-01-05,84.50,GBP\r\n"
        in text.content.decode()
    )
    rows = openpyxl.load_workbook(io.BytesIO(book.content)).worksheets[0].iter_rows(values_only=True)
    assert ("marble_flour", "=1+1") in [row[:2] for row in rows]


@pytest.mark.parametrize("name", ["price_book", "price_book_csv", "price_book_xlsx", "price_book_file"])
def test_strangers_sign_in_first_and_the_bench_never_sees_a_price(name: str) -> None:
    make_price(make_item(), 98765432)
    assert reverse("sign_in") in Client().get(reverse(name))["Location"]
    refused = signed_in("bench").get(reverse(name))
    assert refused.status_code == 403
    assert "987" not in refused.content.decode()
    assert signed_in("owner").get(reverse(name)).status_code == 200
    assert signed_in("office").post(reverse(name)).status_code in (405, 422)
