"""The record of what was changed outside the commissions."""

import pytest
from django.db import transaction
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from studio.accounts.models import AuditEntry
from studio.audit import record
from tests.factories import signed_in

pytestmark = pytest.mark.django_db


def write(count: int, subject: str = "office") -> None:
    with transaction.atomic():
        for number in range(count):
            record(
                actor=None, subject=subject, act=f"Change {number} of {subject}", before={"x": 1.5}, after={"x": 2.5}
            )


def test_settings_people_and_prices_are_listed_and_commissions_are_not() -> None:
    for subject in ("office", "people", "price book", "commission/12"):
        write(1, subject)
    page = signed_in("office").get(reverse("office_record")).content.decode()
    for subject in ("office", "people", "price book"):
        assert f"Change 0 of {subject}" in page
    assert "commission/12" not in page


def test_the_newest_stands_first_and_a_page_has_an_end() -> None:
    write(60)
    client = signed_in("owner")
    first = client.get(reverse("office_record")).content.decode()
    assert first.index("Change 59 of") < first.index("Change 58 of")
    assert "Change 9 of" not in first
    assert "Change 9 of" in client.get(reverse("office_record"), {"page": "2"}).content.decode()


def test_a_page_that_is_not_there_shows_the_last() -> None:
    write(1)
    assert signed_in("owner").get(reverse("office_record"), {"page": "99x"}).status_code == 200


def test_the_record_keeps_its_query_count(django_assert_num_queries: DjangoAssertNumQueries) -> None:
    client = signed_in("owner")
    write(1)
    with django_assert_num_queries(5):
        client.get(reverse("office_record"))
    write(40)
    with django_assert_num_queries(5):
        client.get(reverse("office_record"))


def test_an_empty_record_says_so() -> None:
    assert not AuditEntry.objects.exists()
    assert "Nothing has been changed yet." in signed_in("owner").get(reverse("office_record")).content.decode()
