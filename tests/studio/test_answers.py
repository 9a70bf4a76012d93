"""A form that is sent twice from one page is answered once; what differs, or comes from another page, counts anew."""

import datetime
import re

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.models import Commission, Link, Photo
from studio import answers
from studio.accounts.models import AuditEntry, SentForm
from tests.factories import make_commission, make_person
from tests.jobs.test_photo_and_snag_views import photo_file

pytestmark = pytest.mark.django_db
NEW, PEAR = reverse("new_commission"), {"title": "The Long Pear", "commissioner": "Fallow Lane"}


@pytest.fixture
def office() -> Client:
    client = Client(enforce_csrf_checks=True)
    client.force_login(make_person())
    return client


def opened(client: Client, path: str) -> dict[str, str]:
    """What every form of a freshly opened page carries."""
    found = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', client.get(path).content.decode())
    assert found
    return {answers.TOKEN: found[1]}


def test_two_equal_posts_open_one_commission_and_lead_to_it(office: Client) -> None:
    page = opened(office, NEW)
    first, second = (office.post(NEW, page | PEAR) for _ in range(2))
    assert (first.status_code, second.status_code) == (302, 302)
    assert second["Location"] == first["Location"]
    assert Commission.objects.count() == 1
    assert office.post(NEW, page | PEAR | {"title": "Another"}).status_code == 302
    assert office.post(NEW, opened(office, NEW) | PEAR).status_code == 302
    assert list(Commission.objects.order_by("pk").values_list("title", flat=True)) == [
        PEAR["title"],
        "Another",
        PEAR["title"],
    ]


def test_what_was_refused_is_read_again_and_what_was_typed_stays(office: Client) -> None:
    page = opened(office, NEW)
    for _ in range(2):
        refused = office.post(NEW, page | PEAR | {"title": ""})
        assert refused.status_code == 422
        assert "Fallow Lane" in refused.content.decode()
    assert SentForm.objects.count() == 0
    assert office.post(NEW, page | PEAR).status_code == 302


def test_the_second_of_two_saves_is_no_conflict(office: Client) -> None:
    commission = make_commission()
    path = reverse("particulars", args=[commission.pk])
    change = opened(office, path) | PEAR | {"version": str(commission.version)}
    assert [office.post(path, change).status_code for _ in range(2)] == [302, 302]
    assert Commission.objects.get().version == commission.version + 1


def test_a_link_is_made_once_and_its_address_shown_to_both(office: Client) -> None:
    commission = make_commission()
    path, sheet = (reverse(name, args=[commission.pk]) for name in ("new_progress_link", "commissioner"))
    until = f"{timezone.localdate() + datetime.timedelta(days=9)}"
    asked = opened(office, sheet) | {"receiver": "R. Osei", "expires_on": until}
    first, second = (re.findall(r"/l/([\w-]{43})/", office.post(path, asked).content.decode()) for _ in range(2))
    assert first
    assert first == second
    assert Link.objects.count() == AuditEntry.objects.filter(act="Progress link made").count() == 1
    assert Client().get(f"/l/{first[0]}/").status_code == 200
    other = office.post(path, opened(office, sheet) | asked | opened(office, sheet)).content.decode()
    assert first[0] not in other
    assert Link.objects.count() == 2


def test_the_second_waits_for_the_answer_of_the_first(office: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    page = opened(office, NEW)
    first = office.post(NEW, page | PEAR)
    SentForm.objects.update(leads_to="")

    def answered(_seconds: float) -> None:
        SentForm.objects.update(leads_to=first["Location"])

    monkeypatch.setattr(answers.time, "sleep", answered)
    assert office.post(NEW, page | PEAR)["Location"] == first["Location"]
    SentForm.objects.update(leads_to="")
    monkeypatch.setattr(answers, "PATIENCE_S", -1)
    waited = office.post(NEW, page | PEAR)
    assert waited.status_code == 409
    assert "Look whether it is there before you enter it again" in waited.content.decode()
    assert Commission.objects.count() == 1


def test_what_was_sent_is_forgotten_after_a_day(office: Client) -> None:
    office.post(NEW, opened(office, NEW) | PEAR)
    SentForm.objects.update(at=timezone.now() - answers.KEPT_FOR - datetime.timedelta(seconds=1))
    office.post(NEW, opened(office, NEW) | PEAR)
    assert SentForm.objects.count() == 1


def test_files_are_told_apart_by_their_bytes(office: Client) -> None:
    path = reverse("photos", args=[make_commission().pk])
    page = opened(office, path)
    for colour in ("red", "red", "blue"):
        assert office.post(path, page | {"photo": photo_file(colour), "caption": "A"}).status_code == 302
    assert SentForm.objects.count() == Photo.objects.count() == 2
