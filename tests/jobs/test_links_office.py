"""The Commissioner sheet: links made, shown once, listed and revoked; days published."""

import datetime
import re

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.models import Commission, Link, Plan
from studio.accounts.models import AuditEntry, Role
from tests.factories import make_commission, signed_in
from tests.jobs.link_samples import LOOKING, give_link
from tests.jobs.stage_life import anybody

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission() -> Commission:
    return make_commission()


def send(client: Client, commission: Commission, **values: str) -> tuple[int, str]:
    usual = f"{timezone.localdate() + datetime.timedelta(days=200)}"
    sent = {"receiver": "R. Osei", "expires_on": usual, **values}
    answer = client.post(reverse("new_progress_link", args=[commission.pk]), sent)
    return answer.status_code, answer.content.decode()


def sheet(client: Client, commission: Commission) -> str:
    return client.get(reverse("commissioner", args=[commission.pk])).content.decode()


def test_a_new_link_is_shown_once_and_says_what_its_holder_can_do(office: Client, commission: Commission) -> None:
    status, page = send(office, commission)
    assert status == 200
    found = re.findall(r"http://testserver/l/([\w-]{43})/", page)
    # In the field with the address, and in the text to copy.
    assert len(found) == 2
    assert len(set(found)) == 1
    assert "Dear R. Osei," in page
    assert "They see no hours, no cost and no name of a maker, and can change nothing." in page
    listed = sheet(office, commission)
    assert "R. Osei" in listed
    assert found[0] not in listed
    assert Client().get(f"/l/{found[0]}/").status_code == 200


def test_the_sheet_tells_who_looked_when_and_revokes_one_by_one(office: Client, commission: Commission) -> None:
    one, other = give_link(commission, "R. Osei"), give_link(commission, "Odile Marsh")
    assert sheet(office, commission).count("never") == 2
    Client().get(f"/l/{one.token}/", headers=LOOKING)
    page = sheet(office, commission)
    assert page.count("never") == 1
    assert f"{timezone.localtime():%H:}" in page
    assert office.post(reverse("end_link", args=[one.link.pk])).status_code == 302
    page = sheet(office, commission)
    assert page.count("revoked <time") == 1
    assert [Client().get(f"/l/{made.token}/").status_code for made in (one, other)] == [404, 200]


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"receiver": ""}, "Enter who the link is for"),
        ({"expires_on": ""}, "Enter the last day"),
        ({"expires_on": "soon"}, "Enter a day as year, month and day"),
        ({"expires_on": "2020-01-01"}, "Choose a last day from today"),
        ({"expires_on": "2099-01-01"}, "Choose a last day from today"),
        ({"receiver": "x" * 121}, "121"),
    ],
)
def test_what_cannot_be_is_said_and_kept(
    office: Client, commission: Commission, values: dict[str, str], told: str
) -> None:
    status, page = send(office, commission, **values)
    assert status == 422
    assert told in page
    assert "<title>Error: " in page
    kept = {"receiver": "R. Osei", "expires_on": "", **values}
    assert all(value in page for value in kept.values())
    assert not Link.objects.exists()


def test_the_bench_and_strangers_make_and_end_nothing(commission: Commission) -> None:
    made = give_link(commission)
    bench, stranger = signed_in(Role.BENCH), Client()
    addresses = [
        reverse("commissioner", args=[commission.pk]),
        reverse("new_progress_link", args=[commission.pk]),
        reverse("publish_days", args=[commission.pk]),
        reverse("end_link", args=[made.link.pk]),
    ]
    for address in addresses:
        assert bench.get(address).status_code == bench.post(address).status_code == 403
        assert stranger.post(address).headers["Location"].startswith("/sign-in/")
    assert Link.objects.filter(revoked_at__isnull=True).count() == 1


def publish(client: Client, commission: Commission, **values: str) -> tuple[int, str]:
    sent = {"promised_on": "2027-02-01", "expected_on": "", "note": "", "version": "0", **values}
    answer = client.post(reverse("publish_days", args=[commission.pk]), sent)
    return answer.status_code, answer.content.decode()


def test_days_are_published_by_decision_and_recorded(office: Client, commission: Commission) -> None:
    assert "No day has been published" in sheet(office, commission)
    assert publish(office, commission, note="The pad is poured.\r\nThe frame is here.")[0] == 302
    page = sheet(office, commission)
    assert "1 Feb 2027" in page
    assert "The pad is poured.<br>The frame is here." in page
    assert AuditEntry.objects.get(act="Told to the commissioner").after["promised"] == "2027-02-01"


def test_the_second_to_publish_is_told_and_keeps_what_was_typed(office: Client, commission: Commission) -> None:
    publish(office, commission)
    status, page = publish(office, commission, promised_on="2027-03-05", note="Mine")
    assert status == 409
    assert "Somebody saved this before you" in page
    assert 'value="2027-03-05"' in page
    assert "Mine" in page
    assert publish(office, commission, promised_on="2027-03-05", version="1")[0] == 302
    assert commission.publications.count() == 2


@pytest.mark.parametrize("values", [{"expected_on": "later"}, {"version": ""}, {"note": "x" * 601}])
def test_what_cannot_be_published_is_said(office: Client, commission: Commission, values: dict[str, str]) -> None:
    status, page = publish(office, commission, **values)
    assert status == 422
    assert "There is a problem" in page
    assert not commission.publications.exists()


def test_the_office_reads_first_what_the_commissioner_will(office: Client, commission: Commission) -> None:
    publish(office, commission, note="The pad is poured.")
    page = office.get(reverse("progress_preview", args=[commission.pk])).content.decode()
    assert "This is what whoever holds a progress link reads today" in page
    assert "The pad is poured." in page
    assert "The work has not begun." in page
    assert signed_in(Role.BENCH).get(reverse("progress_preview", args=[commission.pk])).status_code == 403


def test_the_plans_day_stands_beside_what_is_published_and_stays_inside(office: Client, commission: Commission) -> None:
    result = {"commissions": [{"id": commission.pk, "finish": "2027-03-09"}], "rows": []}
    today, now = timezone.localdate(), timezone.now()
    Plan.objects.create(made_by=anybody(), begins=today, published_at=now, result=result)
    assert "The plan in force has it done on" in sheet(office, commission)
    publish(office, commission, expected_on="2027-02-20")
    page = sheet(office, commission)
    assert "and not on the day that is published" in page
    assert "9 Mar 2027" in page
    outside = Client().get(f"/l/{give_link(commission).token}/").content.decode()
    assert "20 Feb 2027" in outside
    assert "9 Mar" not in outside
