"""Addresses that lead nowhere: a number nothing has, one no database can hold, a word."""

import re

import pytest
from django.urls import reverse

from studio.accounts.models import Role
from tests.web.opened import STRANGER, Studio

pytestmark = pytest.mark.django_db
NOWHERE = {
    "nought": "0",
    "below nought": "-1",
    "past 31 bits": str(2**31),
    "past 63 bits": str(2**63),
    "a word": "pear",
}
ANSWERS = {200, 302, 403, 404, 405}


def elsewhere(studio: Studio, number: str) -> list[str]:
    """Every address with one of its numbers or words changed."""
    found = set()
    for address in studio.each():
        path = address.path.partition("?")[0]
        for value in address.values.values():
            found.add(re.sub(rf"/{value}(?=[/.])", f"/{number}", path, count=1))
    return sorted(found)


@pytest.mark.parametrize("number", NOWHERE.values(), ids=NOWHERE.keys())
@pytest.mark.parametrize("role", [STRANGER, *Role.values])
def test_an_address_that_leads_nowhere_gets_a_plain_answer(studio: Studio, role: str, number: str) -> None:
    client = studio.browser(role)
    statuses = {path: client.get(path).status_code for path in elsewhere(studio, number)}
    assert len(statuses) > 50
    assert {path: status for path, status in statuses.items() if status not in ANSWERS} == {}


@pytest.mark.parametrize("number", NOWHERE.values(), ids=NOWHERE.keys())
def test_no_row_of_another_kind_is_opened_by_such_a_number(studio: Studio, number: str) -> None:
    client = studio.browser(Role.OWNER)
    statuses = {path: client.get(path).status_code for path in elsewhere(studio, number)}
    assert {path: status for path, status in statuses.items() if status not in (404, 405)} == {}


def test_a_version_of_one_commission_is_not_opened_under_another(studio: Studio) -> None:
    client = studio.browser(Role.OWNER)
    of_quotes = [address for address in studio.each() if "version" in address.values]
    other = str(max(int(address.values["pk"]) for address in of_quotes) + 1)
    assert of_quotes
    for address in of_quotes:
        path = address.path.replace(f"/commissions/{address.values['pk']}/", f"/commissions/{other}/")
        assert client.get(path).status_code in (404, 405), path


@pytest.mark.parametrize("number", ["0", "-1", "99999999999999999999", "last", "pear", "1e5", "\x00"])
def test_a_page_of_a_list_that_is_not_there_gets_a_plain_answer(studio: Studio, number: str) -> None:
    client = studio.browser(Role.OWNER)
    for name in ("commissions", "price_book", "office_record"):
        assert client.get(reverse(name), {"page": number, "q": number}).status_code in (200, 404, 422), name
