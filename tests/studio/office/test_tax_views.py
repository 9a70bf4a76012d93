"""Tax categories and their dated rates."""

import datetime
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from studio.accounts.models import AuditEntry
from studio.office.models import TaxCategory, TaxRate
from studio.office.queries import tax_table
from tests.factories import signed_in

pytestmark = pytest.mark.django_db


def standard() -> TaxCategory:
    return TaxCategory.objects.get(name="Standard")


def test_a_stranger_is_sent_to_sign_in(client: Client) -> None:
    for address in (reverse("taxes"), reverse("new_tax_category"), reverse("tax_rate", args=[standard().pk])):
        assert client.get(address).status_code == 302


def test_the_bench_is_refused() -> None:
    client = signed_in("bench")
    for address in (reverse("taxes"), reverse("new_tax_category"), reverse("tax_rate", args=[standard().pk])):
        assert client.get(address).status_code == 403
        assert client.post(address, {"rate": "1", "valid_from": "2027-01-01"}).status_code in (403, 405)


def test_the_table_shows_the_rate_of_the_day_and_the_coming_one() -> None:
    TaxRate.objects.create(category=standard(), rate="0.225", valid_from=datetime.date(2999, 4, 1))
    page = signed_in("office").get(reverse("taxes")).content.decode()
    assert "20\N{THIN SPACE}%" in page
    assert "22.5\N{THIN SPACE}%" in page


def test_the_rate_of_a_day_is_the_newest_that_has_begun() -> None:
    TaxRate.objects.create(category=standard(), rate="0.225", valid_from=datetime.date(2027, 4, 1))
    before, after = (tax_table(datetime.date(2027, month, day))[0] for month, day in ((3, 31), (4, 1)))
    assert before.now is not None
    assert after.now is not None
    assert (before.now.rate, after.now.rate) == (Decimal("0.2"), Decimal("0.225"))
    assert [rate.rate for rate in before.others] == [Decimal("0.225")]


def test_a_category_without_a_rate_yet_says_so() -> None:
    TaxCategory.objects.create(name="Later", position=9)
    assert "none yet" in signed_in("office").get(reverse("taxes")).content.decode()


def test_the_table_keeps_its_query_count(django_assert_num_queries: DjangoAssertNumQueries) -> None:
    client = signed_in("office")
    with django_assert_num_queries(5):
        client.get(reverse("taxes"))
    for number in range(8):
        category = TaxCategory.objects.create(name=f"Kind {number}", position=number + 5)
        TaxRate.objects.create(category=category, rate="0.1", valid_from=datetime.date(2020, 1, 1))
    with django_assert_num_queries(5):
        client.get(reverse("taxes"))


def test_a_rate_is_added_from_a_day_on() -> None:
    response = signed_in("office").post(
        reverse("tax_rate", args=[standard().pk]), {"rate": "22.5 %", "valid_from": "2027-04-01"}
    )
    assert response.status_code == 302
    assert standard().rate_on(datetime.date(2027, 4, 1)) == Decimal("0.225")
    assert standard().rate_on(datetime.date(2027, 3, 31)) == Decimal("0.2")
    entry = AuditEntry.objects.get()
    assert entry.act == "Tax rate added: Standard from 2027-04-01"
    assert entry.after == {"rate": "22.5 %"}


def test_a_rate_of_the_same_day_is_corrected_and_both_are_on_record() -> None:
    client, address = signed_in("office"), reverse("tax_rate", args=[standard().pk])
    client.post(address, {"rate": "2", "valid_from": "2027-04-01"})
    client.post(address, {"rate": "21", "valid_from": "2027-04-01"})
    assert standard().rate_on(datetime.date(2027, 4, 1)) == Decimal("0.21")
    entry = AuditEntry.objects.latest("pk")
    assert (entry.before, entry.after) == ({"rate": "2 %"}, {"rate": "21 %"})


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"rate": "-5"}, "is not a plain number"),
        ({"rate": "101"}, "the most is 100"),
        ({"rate": ""}, "Enter the rate in per cent, such as 20."),
        ({"rate": "7.12345"}, "has more than 3 decimals"),
        ({"valid_from": "1/4/27x"}, "Enter a date such as 2027-04-01."),
        ({"valid_from": ""}, "Enter the day it begins"),
    ],
)
def test_a_rate_that_cannot_be_is_refused_and_kept_as_typed(change: dict[str, str], said: str) -> None:
    data = {"rate": "20", "valid_from": "2027-04-01"} | change
    response = signed_in("office").post(reverse("tax_rate", args=[standard().pk]), data)
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    assert all(f'value="{value}"' in page for value in data.values() if value)
    assert standard().rates.count() == 1


def test_a_category_is_added_after_the_others() -> None:
    data = {"name": "Exempt", "rate": "0", "valid_from": "2026-01-01"}
    assert signed_in("office").post(reverse("new_tax_category"), data).status_code == 302
    last = TaxCategory.objects.last()
    assert last is not None
    assert last.name == "Exempt"
    assert last.rate_on(datetime.date(2026, 1, 1)) == 0


def test_a_category_of_the_same_name_is_refused() -> None:
    data = {"name": "standard", "rate": "0", "valid_from": "2026-01-01"}
    response = signed_in("office").post(reverse("new_tax_category"), data)
    assert response.status_code == 422
    assert "There is already a category called standard" in response.content.decode()
    assert TaxCategory.objects.count() == 3


def test_a_category_that_is_not_there_is_not_found() -> None:
    assert signed_in("office").get(reverse("tax_rate", args=[999])).status_code == 404
