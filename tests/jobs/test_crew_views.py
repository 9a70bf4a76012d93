"""When people work and when they are away: the page, its forms, and what the bench sees of it."""

import datetime

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.models import Absence, CrewMember, StageTemplate
from studio.accounts.models import User
from tests.factories import make_person

pytestmark = pytest.mark.django_db

DAY = datetime.timedelta(days=1)


@pytest.fixture
def ines() -> User:
    return make_person("bench")


def hours(*week: str, version: int = 0, **more: object) -> dict[str, object]:
    return {f"hours_{number}": each for number, each in enumerate(week)} | {"version": version, **more}


def test_somebodys_week_and_stages_are_set(office: Client, ines: User) -> None:
    assert "every stage" in office.get(reverse("crew")).content.decode()
    pattern = StageTemplate.objects.get(key="pattern")
    sent = hours("8", "8", "8", "4.5", "0", "0", "0", stages=[str(pattern.pk)])
    assert office.post(reverse("person_hours", args=[ines.pk]), sent).status_code == 302
    member = CrewMember.objects.get(person=ines)
    assert member.hours == [8, 8, 8, 4.5, 0, 0, 0]
    page = office.get(reverse("crew")).content.decode()
    assert "4.5" in page
    assert "Pattern" in page


def test_a_second_save_of_the_same_version_is_shown_what_is_there(office: Client, ines: User) -> None:
    address = reverse("person_hours", args=[ines.pk])
    office.post(address, hours("8", "8", "8", "8", "8", "0", "0"))
    response = office.post(address, hours("7", "7", "7", "7", "7", "0", "0"))
    assert response.status_code == 409
    assert CrewMember.objects.get(person=ines).hours[0] == 8
    assert 'value="7"' in response.content.decode()


def test_hours_that_cannot_be_are_refused(office: Client, ines: User) -> None:
    response = office.post(reverse("person_hours", args=[ines.pk]), hours("25", "x", "8", "8", "8", "0", ""))
    assert response.status_code == 422
    page = response.content.decode()
    assert "the most is 12" in page
    assert "is not a plain number" in page


def test_an_absence_is_written_down_once_and_taken_back(office: Client, ines: User) -> None:
    first = timezone.localdate() + 3 * DAY
    sent = {"first": first.isoformat(), "last": (first + DAY).isoformat(), "reason": "Leave"}
    address = reverse("new_absence", args=[ines.pk])
    assert office.post(address, sent).status_code == 302
    again = office.post(address, sent)
    assert again.status_code == 422
    assert "is away from" in again.content.decode()
    backwards = office.post(address, {**sent, "first": (first + 9 * DAY).isoformat()})
    assert "The last day is before" in backwards.content.decode()
    absence = Absence.objects.get()
    assert "Leave" in office.get(reverse("crew")).content.decode()
    office.post(reverse("drop_absence", args=[absence.pk]))
    assert not Absence.objects.exists()


def test_the_bench_sees_who_is_away_and_not_why(ines: User) -> None:
    first = timezone.localdate()
    Absence.objects.create(person=ines, first=first, last=first, reason="Dentist")
    bench = Client()
    bench.force_login(ines, backend="django.contrib.auth.backends.ModelBackend")
    page = bench.get(reverse("crew")).content.decode()
    assert "Ines Varga" in page
    assert "Dentist" not in page
    assert bench.get(reverse("person_hours", args=[ines.pk])).status_code == 403
