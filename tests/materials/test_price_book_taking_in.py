"""A file is shown before it is taken in, and what is taken in is what was shown."""

import re

import pytest
from django.core import signing
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from materials.models import Item, Price
from materials.services.price_book_files import applying
from materials.services.price_book_files.writing import csv_text, price_book_rows, workbook
from studio.accounts.models import AuditEntry
from tests.factories import make_item, make_price, signed_in

pytestmark = pytest.mark.django_db
HEAD = (
    "key,name,kind,unit,density_kg_m3,supplier,lead_days,shelf_life_days,pack,pack_quantity,valid_from,price,currency"
)
NEW = "slate,Slate powder,filler,kg,2800,Old Quay,3,,5 kg tub,5,2026-02-01,21.00,GBP"
CHANGED = "marble_flour,Marble flour,filler,kg,,Brome and Daughters,0,,25 kg bag,25,2026-01-05,80.00,GBP"


def sent(client: Client, *lines: str, name: str = "prices.csv") -> HttpResponse:
    data = "\r\n".join([HEAD, *lines]).encode()
    return client.post(reverse("price_book_file"), {"file": SimpleUploadedFile(name, data)})  # type: ignore[return-value]


def token_of(answer: HttpResponse) -> str:
    found = re.search(r'name="lines" value="([^"]+)"', answer.content.decode())
    assert found, "the page offers nothing to take in"
    return found[1]


def taken(client: Client, token: str) -> HttpResponse:
    return client.post(reverse("price_book_take_in"), {"lines": token})  # type: ignore[return-value]


@pytest.fixture
def client() -> Client:
    make_price(make_item(), 8450)
    return signed_in("office")


def test_it_shows_the_lines_and_writes_nothing(client: Client) -> None:
    answer = sent(client, NEW, CHANGED)
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "new price from 2026-02-01: £21.00" in page
    assert "price from 2026-01-05: £84.50 becomes £80.00" in page
    assert not Item.objects.filter(key="slate").exists()
    assert Price.objects.get(pack__item__key="marble_flour").amount_minor == 8450


def test_it_takes_in_what_it_showed_and_says_so(client: Client) -> None:
    answer = taken(client, token_of(sent(client, NEW, CHANGED)))
    assert answer.status_code == 302
    slate = Item.objects.get(key="slate")
    assert (slate.name, slate.density_kg_m3, slate.lead_days, slate.shelf_life_days) == ("Slate powder", 2800, 3, None)
    assert Price.objects.get(pack__item=slate).amount_minor == 2100
    assert Price.objects.get(pack__item__key="marble_flour").amount_minor == 8000
    page = client.get(answer["Location"]).content.decode()
    assert "prices.csv is taken in: 1 new prices, 1 new packs, 1 new items, 1 lines changed." in page


def test_a_past_price_that_changes_is_recorded_with_before_and_after(client: Client) -> None:
    taken(client, token_of(sent(client, NEW, CHANGED)))
    entry = AuditEntry.objects.get(act="Price book file taken in")
    changed = "marble_flour, pack of 25, from 2026-01-05"
    assert entry.subject == "price book"
    assert entry.has_money
    assert entry.before == {changed: "£84.50"}
    assert (entry.after["file"], entry.after[changed]) == ("prices.csv", "£80.00")
    assert entry.after["slate, pack of 5, from 2026-02-01"] == "£21.00"


def test_forms_that_were_open_meanwhile_notice(client: Client) -> None:
    before = Item.objects.get(key="marble_flour").version
    taken(client, token_of(sent(client, CHANGED)))
    assert Item.objects.get(key="marble_flour").version == before + 1


def test_particulars_and_packs_change_where_the_file_says_so(client: Client) -> None:
    line = "marble_flour,Marble flour,filler,kg,2700,Old Quay,5,365,25 kg sack,25,2026-01-05,84.50,GBP"
    taken(client, token_of(sent(client, line)))
    item = Item.objects.get(key="marble_flour")
    assert (item.density_kg_m3, item.supplier, item.lead_days, item.shelf_life_days) == (2700, "Old Quay", 5, 365)
    assert [pack.label for pack in item.packs.all()] == ["25 kg sack"]


def test_one_refused_line_keeps_the_whole_file_out(client: Client) -> None:
    answer = sent(client, NEW, CHANGED.replace("80.00", "cheap"))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "price: “cheap” is not an amount in GBP" in page
    assert "<title>Error: " in page
    assert 'name="lines"' not in page


def test_a_file_that_says_nothing_new_offers_nothing(client: Client) -> None:
    answer = sent(client, CHANGED.replace("80.00", "84.50"))
    assert answer.status_code == 200
    assert "There is nothing to take in." in answer.content.decode()
    assert 'name="lines"' not in answer.content.decode()


def test_pressing_twice_takes_it_in_once(client: Client) -> None:
    token = token_of(sent(client, NEW))
    assert taken(client, token).status_code == 302
    again = taken(client, token)
    assert again.status_code == 409
    assert "The price book has changed since this was shown" in again.content.decode()
    assert Price.objects.filter(pack__item__key="slate").count() == 1
    assert AuditEntry.objects.filter(act="Price book file taken in").count() == 1


def test_what_would_do_something_else_by_now_is_shown_again_and_not_written(client: Client) -> None:
    token = token_of(sent(client, NEW, CHANGED))
    Price.objects.filter(pack__item__key="marble_flour").update(amount_minor=7700)
    answer = taken(client, token)
    assert answer.status_code == 409
    assert "£77.00 becomes £80.00" in answer.content.decode()
    assert not Item.objects.filter(key="slate").exists()
    assert taken(client, token_of(answer)).status_code == 302
    assert Price.objects.get(pack__item__key="marble_flour").amount_minor == 8000


def test_a_change_elsewhere_does_not_stand_in_the_way(client: Client) -> None:
    token = token_of(sent(client, NEW))
    Price.objects.filter(pack__item__key="marble_flour").update(amount_minor=7700)
    assert taken(client, token).status_code == 302


@pytest.mark.parametrize("alter", [lambda _: "", lambda token: token[1:], lambda token: "\0" + token])
def test_what_was_altered_on_the_way_is_refused(client: Client, alter: object) -> None:
    answer = taken(client, alter(token_of(sent(client, NEW))))  # type: ignore[operator]
    assert answer.status_code == 422
    assert "send the file again" in answer.content.decode()
    assert not Item.objects.filter(key="slate").exists()


def test_what_was_shown_to_one_person_is_not_taken_in_by_another(client: Client) -> None:
    token = token_of(sent(client, NEW))
    assert taken(signed_in("owner"), token).status_code == 422
    assert not Item.objects.filter(key="slate").exists()


def test_what_was_shown_long_ago_is_refused(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    token = token_of(sent(client, NEW))
    monkeypatch.setattr(applying, "VALID_SECONDS", -1)
    answer = taken(client, token)
    assert answer.status_code == 422
    assert "is older than an hour" in answer.content.decode()


def test_a_token_made_for_something_else_is_refused(client: Client) -> None:
    assert taken(client, signing.dumps([1, "prices.csv", "", []])).status_code == 422


def test_more_changes_than_fit_into_a_page_are_refused(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(applying, "LONGEST_TOKEN", 10)
    answer = sent(client, NEW)
    assert answer.status_code == 422
    assert "part it into several" in answer.content.decode()


def test_the_name_of_a_file_is_shown_and_never_run(client: Client) -> None:
    page = sent(client, NEW, name='"><script>alert(1)<.csv').content.decode()
    assert "<script>alert" not in page


def test_a_missing_file_is_asked_for(client: Client) -> None:
    answer = client.post(reverse("price_book_file"), {})
    assert answer.status_code == 422
    assert "Choose the file." in answer.content.decode()


def test_the_books_own_files_change_nothing(client: Client) -> None:
    for data in (csv_text(price_book_rows(), "GBP").encode(), workbook(price_book_rows(), "GBP")):
        answer = client.post(reverse("price_book_file"), {"file": SimpleUploadedFile("book", data)})
        assert "There is nothing to take in." in answer.content.decode()


def test_a_book_taken_in_elsewhere_goes_out_as_the_same_bytes(client: Client) -> None:
    make_price(make_item("chalk", name="'=1+1", supplier='＝Quay, "North"'), 1, "2026-03-01", "0.5", "+half")
    text = csv_text(price_book_rows(), "GBP")
    Item.objects.all().delete()
    answer = client.post(reverse("price_book_file"), {"file": SimpleUploadedFile("book.csv", text.encode())})
    assert taken(client, token_of(answer)).status_code == 302
    assert csv_text(price_book_rows(), "GBP") == text


@pytest.mark.parametrize("address", ["price_book_file", "price_book_take_in"])
def test_strangers_sign_in_first_and_the_bench_is_refused(address: str) -> None:
    assert Client().post(reverse(address)).status_code == 302
    assert signed_in("bench").post(reverse(address)).status_code == 403


def test_taking_in_is_never_a_link(client: Client) -> None:
    assert client.get(reverse("price_book_take_in")).status_code == 405
