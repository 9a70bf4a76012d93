"""The workshop at a glance."""

from typing import Any

import pytest
from django.test import Client

from studio.accounts.models import Role
from tests.factories import make_commission, make_person, make_section

pytestmark = pytest.mark.django_db


def test_it_shows_what_is_live_with_its_outline(client: Client) -> None:
    client.force_login(make_person(Role.BENCH))
    make_section(make_commission("The Long Pear"))
    make_commission("Long gone", state="done")
    page = client.get("/").content.decode()
    assert "The Long Pear" in page
    assert "<svg" in page
    assert "Long gone" not in page


def test_it_says_how_to_begin_where_there_is_nothing(client: Client) -> None:
    client.force_login(make_person(Role.OWNER))
    page = client.get("/").content.decode()
    assert "Nothing is in hand." in page
    assert 'href="/commissions/new/"' in page


def test_it_takes_as_many_queries_for_ten_as_for_one(
    client: Client, django_assert_num_queries: Any, django_assert_max_num_queries: Any
) -> None:
    client.force_login(make_person())
    make_section(make_commission())
    with django_assert_max_num_queries(12) as one:
        client.get("/")
    for number in range(9):
        make_section(make_commission(f"Work {number}"))
    with django_assert_num_queries(len(one)):
        client.get("/")
