"""The studio's own settings."""

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from studio.accounts.models import AuditEntry
from studio.office.models import House
from tests.factories import signed_in

pytestmark = pytest.mark.django_db

PARTS = ("house_money", "house_week", "house_documents", "house_payments")
MONEY = {
    "version": "0", "name": "Saltgate Yard", "address": "1 Quay\r\nSaltgate", "email": "", "phone": "",
    "registration": "",
    "currency": "GBP", "units": "metric", "tax_name": "VAT", "pack_mode": "packs", "profit_kind": "margin",
    "quote_valid_days": "45",
}  # fmt: skip
WEEK = {
    "version": "0", "country": "DE", "region": "by", "working_days": ["0", "1", "2", "3"], "hours_per_day": "8,25",
    "bench_crew": "4",
}  # fmt: skip


def payments(*rows: tuple[str, str], version: str = "0") -> dict[str, str]:
    data = {"version": version}
    for number, (label, share) in enumerate(rows):
        data |= {f"label_{number}": label, f"share_{number}": share, f"order_{number}": str(number + 1)}
    return data


@pytest.mark.parametrize("page", ["house", *PARTS, "office", "office_record"])
def test_a_stranger_is_sent_to_sign_in(client: Client, page: str) -> None:
    response = client.get(reverse(page))
    assert response.status_code == 302
    assert response["Location"].startswith(reverse("sign_in"))


@pytest.mark.parametrize("page", ["house", *PARTS, "office", "office_record"])
def test_the_bench_is_refused(page: str) -> None:
    assert signed_in("bench").get(reverse(page)).status_code == 403


@pytest.mark.parametrize("page", PARTS)
def test_the_office_looks_and_does_not_change(page: str) -> None:
    client = signed_in("office")
    assert client.get(reverse(page)).status_code == 403
    assert client.post(reverse(page), MONEY).status_code == 403
    shown = client.get(reverse("house"))
    assert shown.status_code == 200
    assert reverse(page) not in shown.content.decode()


def test_the_door_to_the_people_is_shown_to_the_owner_alone() -> None:
    assert reverse("people") in signed_in("owner").get(reverse("office")).content.decode()
    assert reverse("people") not in signed_in("office").get(reverse("office")).content.decode()


def test_the_sheet_shows_what_is_set_and_the_holidays_ahead() -> None:
    page = signed_in("owner").get(reverse("house")).content.decode()
    for words in ("Your studio", "United Kingdom, ENG", "Monday, Tuesday", "Christmas Day", "On acceptance", "30"):
        assert words in page
    assert all(reverse(part) in page for part in PARTS)


def test_the_owner_changes_name_and_money() -> None:
    client = signed_in("owner")
    assert client.get(reverse("house_money")).status_code == 200
    response = client.post(reverse("house_money"), MONEY)
    assert response.status_code == 302
    house = House.objects.get()
    assert (house.name, house.address, house.quote_valid_days, house.version) == (
        "Saltgate Yard",
        "1 Quay\nSaltgate",
        45,
        1,
    )
    entry = AuditEntry.objects.get()
    assert (entry.subject, entry.act) == ("office", "Name and money changed")
    assert entry.before["name"] == "Your studio"
    assert entry.after["name"] == "Saltgate Yard"
    assert "currency" not in entry.after


def test_what_was_typed_stays_when_something_is_wrong() -> None:
    response = signed_in("owner").post(
        reverse("house_money"), MONEY | {"name": "", "phone": "01632 960 123", "currency": "XYZ"}
    )
    page = response.content.decode()
    assert response.status_code == 422
    assert "<title>Error: Name and money" in page
    assert "Enter the studio&#x27;s name." in page
    assert "is not a code of ISO 4217" in page
    assert "01632 960 123" in page
    assert House.objects.get().version == 0


def test_another_currency_has_to_be_meant() -> None:
    client = signed_in("owner")
    response = client.post(reverse("house_money"), MONEY | {"currency": "eur"})
    assert response.status_code == 422
    assert "Tick this to change from GBP to EUR" in response.content.decode()
    assert client.post(reverse("house_money"), MONEY | {"currency": "eur", "currency_sure": "on"}).status_code == 302
    assert House.objects.get().currency == "EUR"


def test_two_people_do_not_overwrite_each_other() -> None:
    client = signed_in("owner")
    House.objects.update(name="The Other Yard", version=3)
    response = client.post(reverse("house_money"), MONEY)
    page = response.content.decode()
    assert response.status_code == 409
    assert "The Other Yard" in page
    assert 'value="Saltgate Yard"' in page
    assert House.objects.get().name == "The Other Yard"
    assert client.post(reverse("house_money"), MONEY | {"version": "3"}).status_code == 302
    assert House.objects.get().name == "Saltgate Yard"


def test_the_week_is_kept_with_its_country() -> None:
    assert signed_in("owner").post(reverse("house_week"), WEEK).status_code == 302
    house = House.objects.get()
    assert (house.country, house.region, house.working_days) == ("DE", "BY", [0, 1, 2, 3])
    assert str(house.hours_per_day) == "8.25"
    assert "Germany, BY" in signed_in("office").get(reverse("house")).content.decode()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"country": "GB", "region": "BY"}, "“BY” is not a part of United Kingdom"),
        ({"country": "GB", "region": "BY"}, "ENG, NIR, SCT, WLS"),
        ({"country": "XX"}, "Choose the country"),
        ({"working_days": []}, "Tick at least one day."),
        ({"working_days": ["9"]}, "Tick at least one day."),
        ({"hours_per_day": "25"}, "the most is 24"),
        ({"hours_per_day": "7.333"}, "has more than 2 decimals"),
        ({"bench_crew": "0"}, "the least is 1"),
    ],
)
def test_a_week_that_cannot_be_is_refused(change: dict[str, Any], said: str) -> None:
    response = signed_in("owner").post(reverse("house_week"), WEEK | change)
    assert response.status_code == 422
    assert said in response.content.decode()
    assert House.objects.get().country == "GB"


def test_the_texts_of_a_quote_are_kept_line_by_line() -> None:
    client = signed_in("owner")
    texts = {
        name: f"{name} one\r\n{name} two" for name in ("included", "assumed", "excluded", "approvals", "care", "terms")
    }
    assert client.post(reverse("house_documents"), texts | {"version": "0"}).status_code == 302
    assert House.objects.get().excluded == "excluded one\nexcluded two"


def test_a_script_in_a_text_is_shown_as_text() -> None:
    House.objects.update(terms="<script>alert(1)</script>")
    page = signed_in("owner").get(reverse("house")).content.decode()
    assert "<script>alert(1)" not in page
    assert "&lt;script&gt;alert(1)" in page


def test_stage_payments_sum_to_the_whole_exactly() -> None:
    client = signed_in("owner")
    data = payments(("Deposit", "33.333"), ("On form", "33.333"), ("On delivery", "33.334"), ("", ""))
    assert client.post(reverse("house_payments"), data).status_code == 302
    assert House.objects.get().payment_stages == [
        {"label": "Deposit", "share": "0.33333"},
        {"label": "On form", "share": "0.33333"},
        {"label": "On delivery", "share": "0.33334"},
    ]


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([("Deposit", "50"), ("On delivery", "40")], "The shares sum to 90 %"),
        ([("Deposit", "100"), ("On delivery", "")], "Enter the share in per cent"),
        ([("", "")], "Enter at least one payment"),
        ([("Deposit", "abc")], "is not a plain number"),
    ],
)
def test_stage_payments_that_do_not_sum_are_refused_and_kept_as_typed(rows: list[tuple[str, str]], said: str) -> None:
    response = signed_in("owner").post(reverse("house_payments"), payments(*rows))
    assert response.status_code == 422
    assert said in response.content.decode()
    assert len(House.objects.get().payment_stages) == 4


def test_a_payment_whose_name_is_emptied_is_taken_out() -> None:
    data = payments(("Deposit", "100"), ("", "30"), ("", "30"), ("", "10"))
    assert signed_in("owner").post(reverse("house_payments"), data).status_code == 302
    assert House.objects.get().payment_stages == [{"label": "Deposit", "share": "1"}]


def test_payments_are_put_in_order() -> None:
    data = payments(("Second", "40"), ("First", "60")) | {"order_0": "2", "order_1": "1"}
    assert signed_in("owner").post(reverse("house_payments"), data).status_code == 302
    assert [stage["label"] for stage in House.objects.get().payment_stages] == ["First", "Second"]


def test_a_form_without_its_version_is_refused_in_words() -> None:
    response = signed_in("owner").post(reverse("house_payments"), payments(("All", "100")) | {"version": "x"})
    assert response.status_code == 422
    assert "load it again" in response.content.decode()
