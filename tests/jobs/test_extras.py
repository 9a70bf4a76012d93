"""What the take-off does not give."""

from decimal import Decimal

import pytest
from django.test import Client
from django.utils import timezone

from jobs.models import Commission, Extra
from jobs.services.quotes import answer
from materials.models import Item
from studio.accounts.models import AuditEntry
from tests.factories import make_commission, make_issued, make_person, make_section, price_everything

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission() -> Commission:
    return make_commission()


def values(**changes: str) -> dict[str, str]:
    haulage = Item.objects.get(key="haulage")
    return {"item": str(haulage.pk), "label": "Haulage to the gate", "quantity": "1.5", **changes}


def address(commission: Commission) -> str:
    return f"/commissions/{commission.pk}/price/extras/"


def test_an_extra_is_added_with_who_added_it(office: Client, commission: Commission) -> None:
    response = office.post(address(commission), values(), follow=True)
    assert "Haulage to the gate is in the price." in response.content.decode()
    extra = Extra.objects.get()
    assert (extra.quantity, extra.commission) == (Decimal("1.5"), commission)
    entry = AuditEntry.objects.get(subject=commission.subject)
    assert (entry.act, entry.has_money) == ("Extra added: Haulage to the gate", True)


def test_sending_the_form_twice_adds_it_once(office: Client, commission: Commission) -> None:
    for _ in range(2):
        assert office.post(address(commission), values()).status_code == 302
    assert Extra.objects.count() == 1


def test_another_quantity_under_the_same_name_is_refused(office: Client, commission: Commission) -> None:
    office.post(address(commission), values())
    response = office.post(address(commission), values(quantity="3"))
    assert response.status_code == 422
    assert "is there already, as 1.50 each; remove it or use another name" in response.content.decode()
    assert Extra.objects.get().quantity == Decimal("1.5")


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"item": ""}, "Choose something from the list"),
        ({"item": "999999"}, "Choose something from the list"),
        ({"label": ""}, "Enter what it is called here, such as haulage to Eastmere."),
        ({"quantity": ""}, "Enter how much, such as 1.5."),
        ({"quantity": "a lorry"}, "“a lorry” is not a plain number."),
        ({"quantity": "0"}, "0 is too small; the least is 0.01."),
        ({"quantity": "1.234"}, "1.234 has more than 2 decimals."),
    ],
)
def test_it_refuses_what_is_not_an_extra_and_keeps_what_was_typed(
    office: Client, commission: Commission, changes: dict[str, str], told: str
) -> None:
    response = office.post(address(commission), values(**changes))
    page = response.content.decode()
    assert response.status_code == 422
    assert told in page
    assert "<title>Error: " in page
    assert f'value="{values(**changes)["quantity"]}"' in page or not changes.get("quantity", "x")
    assert not Extra.objects.exists()


def test_only_the_bench_hour_is_offered_of_all_hours(office: Client, commission: Commission) -> None:
    page = office.get(address(commission)).content.decode()
    assert "Bench hour, by hour" in page
    assert "Overhead to a bench hour" not in page


def test_taking_it_out_a_second_time_says_it_was_done(office: Client, commission: Commission) -> None:
    office.post(address(commission), values())
    extra = Extra.objects.get()
    for said in ("Haulage to the gate is out of the price.", "It was taken out of the price before."):
        response = office.post(f"{address(commission)}{extra.pk}/remove/", follow=True)
        assert said in response.content.decode()
    assert not Extra.objects.exists()
    assert AuditEntry.objects.filter(act="Extra removed: Haulage to the gate", has_money=True).count() == 1


def test_an_extra_of_another_commission_is_left_alone(office: Client, commission: Commission) -> None:
    office.post(address(commission), values())
    other = make_commission("Tide Lantern")
    office.post(f"{address(other)}{Extra.objects.get().pk}/remove/")
    assert Extra.objects.count() == 1


def test_extras_are_closed_once_a_version_is_accepted(office: Client, commission: Commission) -> None:
    price_everything()
    make_section(commission)
    office.post(address(commission), values())
    owner = make_person()
    answer(
        by=owner,
        quote=make_issued(commission, owner),
        decision="accepted",
        said_by="B",
        note="",
        on=timezone.localdate(),
    )
    assert "agreed as a variation" in office.post(address(commission), values(label="More")).content.decode()
    response = office.post(f"{address(commission)}{Extra.objects.get().pk}/remove/", follow=True)
    assert "agreed as a variation" in response.content.decode()
    assert Extra.objects.count() == 1


def test_the_list_takes_as_many_queries_for_five_as_for_one(
    office: Client, commission: Commission, django_assert_max_num_queries
) -> None:
    haulage = Item.objects.get(key="haulage")
    counts = []
    for wanted in (1, 5):
        while commission.extras.count() < wanted:
            Extra.objects.create(
                commission=commission, item=haulage, label=f"Load {commission.extras.count()}", quantity=Decimal(1)
            )
        with django_assert_max_num_queries(12) as taken:
            office.get(address(commission))
        counts.append(len(taken))
    assert counts[0] == counts[1]
