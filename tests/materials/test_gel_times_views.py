"""Entering a product's gel times."""

import pytest
from django.test import Client
from django.urls import reverse

from materials.models import GelTime, Item
from studio.accounts.models import AuditEntry, Role
from tests.factories import signed_in

pytestmark = pytest.mark.django_db


def sent(version: int, *rows: tuple[str, str, str]) -> dict[str, str]:
    data = {"version": str(version)}
    for number, row in enumerate(rows):
        data |= {
            f"{name}_{number}": value for name, value in zip(("temperature_c", "percent", "minutes"), row, strict=True)
        }
    return data


def address(item: Item) -> str:
    return reverse("gel_times", args=[item.pk])


@pytest.fixture
def item() -> Item:
    return Item.objects.get(key="gel_coat")


def test_times_are_entered_shown_and_put_in_place_of_those_before(item: Item) -> None:
    client = signed_in(Role.OFFICE)
    rows = [("15", "2", "26"), ("20", "2", "15"), ("20", "1,5", "19.5")]
    assert client.post(address(item), sent(0, *rows)).status_code == 302
    assert GelTime.objects.filter(item=item).count() == 3
    body = client.get(reverse("item", args=[item.pk])).content.decode()
    assert "Minutes to the gel" in body
    assert "19.5" in body
    said = {"known_from": "data sheet, issue 4", "checked_on": "2020-06-01"}
    assert client.post(address(item), sent(1, ("18", "2", "20")) | said).status_code == 302
    assert list(GelTime.objects.values_list("temperature_c", "percent", "minutes")) == [(18, 2, 20)]
    assert 'class="caution"' not in client.get(reverse("item", args=[item.pk])).content.decode()
    entry = AuditEntry.objects.latest("pk")
    assert "26 min" in entry.before["times"]
    assert {name: entry.after[name] for name in ("known from", "checked on")} == {
        "known from": "data sheet, issue 4",
        "checked on": "2020-06-01",
    }
    body = client.get(reverse("item", args=[item.pk])).content.decode()
    assert "Known from: data sheet, issue 4." in body
    assert "due for a check" in body


def test_a_likely_slip_is_pointed_out_and_kept(item: Item) -> None:
    client = signed_in(Role.OFFICE)
    assert client.post(address(item), sent(0, ("15", "2", "12"), ("25", "2", "21"))).status_code == 302
    assert "warmer is never slower" in client.get(reverse("item", args=[item.pk])).content.decode()


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ([("20", "2", "15"), ("20", "2", "16")], "has two times"),
        ([("20", "2", "")], "Enter the minutes to the gel, such as 22."),
        ([("61", "2", "15")], "too large"),
        ([("20", "0", "15")], "too small"),
        ([("20", "x", "15")], "is not a plain number"),
    ],
)
def test_a_table_that_cannot_be_read_is_refused(item: Item, rows: list[tuple[str, str, str]], told: str) -> None:
    page = signed_in(Role.OFFICE).post(address(item), sent(0, *rows))
    assert page.status_code == 422
    assert told in page.content.decode()
    assert not GelTime.objects.exists()


def test_the_second_of_two_who_save_is_told(item: Item) -> None:
    client = signed_in(Role.OFFICE)
    client.post(address(item), sent(0, ("20", "2", "15")))
    page = client.post(address(item), sent(0, ("20", "2", "18")))
    assert page.status_code == 409
    assert 'value="18"' in page.content.decode()


def test_the_bench_does_not_change_them(item: Item) -> None:
    assert signed_in(Role.BENCH).get(address(item)).status_code == 403


def test_a_stranger_is_sent_to_sign_in(item: Item, client: Client) -> None:
    assert client.get(address(item)).status_code == 302
